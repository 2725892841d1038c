#include "engine/chart/rib_normals.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <queue>

#include "engine/base/parallel.h"
#include "engine/chart/joints.h"

namespace pontata {

namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kLeastCut = 12, kMostCut = 50;  // degrees: neighbours that turn by more never mix
constexpr std::size_t kGrain = 10'000;           // triangles worth a worker of their own
constexpr std::uint32_t kFarInside = 2;          // triangles from a turn: no strip is as wide

double turn(const Vec3& a, const Vec3& b) { return std::acos(std::clamp(glm::dot(a, b), -1.0, 1.0)); }

// Triangles at each point.
struct Fans {
  std::vector<std::uint32_t> first, triangles;
  explicit Fans(const SurfaceMesh& mesh) : first(mesh.points.size() + 1, 0), triangles(3 * mesh.triangles.size()) {
    for (const auto& t : mesh.triangles)
      for (const auto p : t) ++first[p + 1];
    std::partial_sum(first.begin(), first.end(), first.begin());
    auto at = first;
    for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t)
      for (const auto p : mesh.triangles[t]) triangles[at[p]++] = t;
  }
};

double median_turn(const Chart& chart, const std::vector<Vec3>& normals) {
  std::vector<double> turns;
  for (std::uint32_t t = 0; t < normals.size(); ++t)
    for (int k = 0; k < 3; ++k)
      if (const auto other = chart.across(t, k); other != Chart::kNoTriangle && other > t)
        turns.push_back(turn(normals[t], normals[other]));
  if (turns.empty()) return 0;
  const auto middle = turns.begin() + static_cast<std::ptrdiff_t>(turns.size() / 2);
  std::nth_element(turns.begin(), middle, turns.end());
  return *middle;
}

std::vector<Vec3> freed_of_noise(const Chart& chart) {
  const SurfaceMesh& mesh = chart.mesh();
  std::vector<Vec3> normals(mesh.triangles.size());
  std::vector<double> areas(normals.size());
  for (std::size_t t = 0; t < normals.size(); ++t) {
    const auto& [i, j, k] = mesh.triangles[t];
    const Vec3 area = glm::cross(mesh.points[j] - mesh.points[i], mesh.points[k] - mesh.points[i]);
    areas[t] = glm::length(area);
    normals[t] = areas[t] > 0 ? area / areas[t] : mesh.normals[mesh.corner_normals[t][0]];
  }
  const double noise = median_turn(chart, normals) / kDegree;
  const double cut = 2 * std::sin(0.5 * kDegree * std::clamp(4 * noise, kLeastCut, kMostCut));  // as a chord
  const int rounds = std::clamp(static_cast<int>(std::lround(2 * noise)), 2, 20);
  const Fans fans(mesh);
  for (int round = 0; round < rounds; ++round) {
    std::vector<Vec3> next(normals.size());
    for_each_item(normals.size(), kGrain, [&](std::size_t t) {
      Vec3 sum{0, 0, 0};
      for (const auto p : mesh.triangles[t])
        for (auto n = fans.first[p]; n < fans.first[p + 1]; ++n) {
          const auto other = fans.triangles[n];
          const Vec3 off = normals[other] - normals[t];
          const double rest = 1 - glm::dot(off, off) / (cut * cut);
          if (rest > 0) sum += areas[other] * rest * rest * normals[other];
        }
      const double length = glm::length(sum);
      next[t] = length > 0 ? sum / length : normals[t];
    });
    normals.swap(next);
  }
  return normals;
}

// Triangles of areas between turns that are nowhere wider than a strip.
class Strips {
 public:
  Strips(const Chart& chart, const std::vector<Vec3>& normals, double least)
      : chart_(chart), normals_(normals), least_(least), depth_(normals.size(), Chart::kNoTriangle) {
    find_depths();
    thin_.assign(normals.size(), 0);
    std::vector<char> seen(normals.size(), 0);
    for (std::uint32_t t = 0; t < normals.size(); ++t)
      if (!seen[t]) mark_area(t, seen);
  }
  bool thin(std::uint32_t t) const { return thin_[t] != 0; }

 private:
  bool turns(std::uint32_t t, std::uint32_t other) const { return turn(normals_[t], normals_[other]) >= least_; }

  // Steps from each triangle to one beside a turn, not over turns; those beside one have 0.
  void find_depths() {
    std::vector<std::uint32_t> front;
    for (std::uint32_t t = 0; t < normals_.size(); ++t)
      for (int k = 0; k < 3; ++k)
        if (const auto other = chart_.across(t, k); other != Chart::kNoTriangle && depth_[t] != 0 && turns(t, other)) {
          depth_[t] = 0;
          front.push_back(t);
        }
    for (std::uint32_t depth = 1; depth <= kFarInside && !front.empty(); ++depth) {
      std::vector<std::uint32_t> next;
      for (const auto t : front)
        for (int k = 0; k < 3; ++k)
          if (const auto other = chart_.across(t, k);
              other != Chart::kNoTriangle && depth_[other] > depth && !turns(t, other)) {
            depth_[other] = depth;
            next.push_back(other);
          }
      front.swap(next);
    }
  }

  void mark_area(std::uint32_t start, std::vector<char>& seen) {
    std::vector<std::uint32_t> area{start};
    bool wide = false;
    seen[start] = 1;
    for (std::size_t n = 0; n < area.size(); ++n) {
      wide |= depth_[area[n]] >= kFarInside;
      for (int k = 0; k < 3; ++k)
        if (const auto other = chart_.across(area[n], k);
            other != Chart::kNoTriangle && !seen[other] && !turns(area[n], other)) {
          seen[other] = 1;
          area.push_back(other);
        }
    }
    if (wide) return;
    for (const auto t : area) thin_[t] = 1;
  }

  const Chart& chart_;
  const std::vector<Vec3>& normals_;
  double least_;
  std::vector<std::uint32_t> depth_;
  std::vector<char> thin_;
};

// Strips take normals from beside them, the nearest ones first.
void give_way(const Chart& chart, const Strips& strips, std::vector<Vec3>& normals) {
  struct Offer {
    double turn;
    std::uint32_t to, from;
    bool operator<(const Offer& o) const { return turn != o.turn ? turn > o.turn : to > o.to; }
  };
  std::priority_queue<Offer> offers;
  const auto own = normals;
  std::vector<char> settled(normals.size(), 0);
  const auto offer_from = [&](std::uint32_t t) {
    settled[t] = 1;
    for (int k = 0; k < 3; ++k)
      if (const auto other = chart.across(t, k); other != Chart::kNoTriangle && strips.thin(other) && !settled[other])
        offers.push({turn(own[other], normals[t]), other, t});
  };
  for (std::uint32_t t = 0; t < normals.size(); ++t)
    if (!strips.thin(t)) offer_from(t);
  while (!offers.empty()) {
    const Offer best = offers.top();
    offers.pop();
    if (settled[best.to]) continue;
    normals[best.to] = normals[best.from];
    offer_from(best.to);
  }
}

}  // namespace

std::vector<Vec3> rib_normals(const Chart& chart, double least_deg) {
  auto normals = freed_of_noise(chart);
  give_way(chart, Strips(chart, normals, least_deg * kDegree), normals);
  return normals;
}

}  // namespace pontata
