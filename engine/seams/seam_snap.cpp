#include "engine/seams/seam_snap.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <unordered_map>
#include <utility>

#include "engine/base/predicates.h"
#include "engine/base/vec.h"
#include "engine/seams/network_snap.h"

namespace pontata {

namespace {

Vec2 between(LatticePoint from, LatticePoint to) {
  return {static_cast<double>(to.x - from.x), static_cast<double>(to.y - from.y)};
}

class Snapper {
 public:
  Snapper(const Network& network, double reach)
      : network_(network), reach_(reach), pad_(static_cast<std::int64_t>(std::ceil(reach))) {}

  LatticePoint point(LatticePoint p) const {
    double to_vertex = reach_, to_seam = reach_;
    std::optional<LatticePoint> vertex, seam;
    for (const SeamId s : near(p, p)) {
      const LatticePoint a = network_.origin({s.value << 1}), b = network_.target({s.value << 1});
      for (const LatticePoint end : {a, b})
        if (const double d = glm::length(between(p, end)); d < to_vertex || (d == to_vertex && !vertex))
          to_vertex = d, vertex = end;
      const Vec2 along = between(a, b), to = between(a, p);
      const double t = glm::dot(along, to) / glm::dot(along, along);
      if (!(t > 0 && t < 1)) continue;
      const double d = glm::length(to - along * t);
      if (d > to_seam || (d == to_seam && seam)) continue;
      to_seam = d;
      seam =
          passes_pixel(a, b, p) ? p : on_seam(a, b, {a.x + std::llround(t * along.x), a.y + std::llround(t * along.y)});
    }
    return vertex ? *vertex : seam ? *seam : p;
  }

  // Vertices of the network that the stretch from a to b passes within reach, in order.
  std::vector<LatticePoint> passed(LatticePoint a, LatticePoint b) const {
    const Vec2 along = between(a, b);
    const double length2 = glm::dot(along, along);
    std::vector<std::pair<double, LatticePoint>> found;
    for (const SeamId s : near(a, b))
      for (const LatticePoint end : {network_.origin({s.value << 1}), network_.target({s.value << 1})}) {
        const Vec2 to = between(a, end);
        const double t = glm::dot(along, to) / length2;
        if (end == a || end == b || !(t > 0 && t < 1) || glm::length(to - along * t) > reach_) continue;
        found.emplace_back(t, end);
      }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    std::vector<LatticePoint> points;
    for (const auto& [t, p] : found) points.push_back(p);
    return points;
  }

 private:
  std::vector<SeamId> near(LatticePoint a, LatticePoint b) const {
    return network_.seams_near({std::min(a.x, b.x) - pad_, std::min(a.y, b.y) - pad_},
                               {std::max(a.x, b.x) + pad_, std::max(a.y, b.y) + pad_});
  }
  const Network& network_;
  double reach_;
  std::int64_t pad_;
};

// Without points that repeat and without steps forth and back.
std::vector<LatticePoint> without_spikes(const std::vector<LatticePoint>& line, bool closed) {
  std::vector<LatticePoint> out;
  for (const LatticePoint& p : line) {
    if (!out.empty() && out.back() == p) continue;
    if (out.size() > 1 && out[out.size() - 2] == p)
      out.pop_back();
    else
      out.push_back(p);
  }
  std::size_t from = 0;
  while (closed && out.size() - from > 2) {
    if (out.back() == out[from]) {
      out.pop_back();
    } else if (out.back() == out[from + 1]) {
      ++from;
    } else if (out[out.size() - 2] == out[from]) {
      out.pop_back();
    } else {
      break;
    }
  }
  out.erase(out.begin(), out.begin() + static_cast<std::ptrdiff_t>(from));
  return out;
}

}  // namespace

std::vector<LatticePoint> snap_to_seams(const Network& network, const std::vector<LatticePoint>& line, bool closed,
                                        double reach) {
  const Snapper snapper(network, reach);
  std::vector<LatticePoint> points, out;
  for (const LatticePoint& p : line)
    if (const LatticePoint q = snapper.point(p); points.empty() || q != points.back()) points.push_back(q);
  for (std::size_t i = 0; i < points.size(); ++i) {
    out.push_back(points[i]);
    if (i + 1 == points.size() && !closed) break;
    const LatticePoint next = points[(i + 1) % points.size()];
    if (next == points[i]) continue;
    const auto passed = snapper.passed(points[i], next);
    out.insert(out.end(), passed.begin(), passed.end());
  }
  return without_spikes(out, closed);
}

std::vector<Ring> loops_of(const Ring& ring) {
  std::vector<Ring> loops;
  Ring way;
  std::unordered_map<LatticePoint, std::size_t> at;
  const auto close = [&](std::size_t from) {
    if (way.size() - from > 2) loops.emplace_back(way.begin() + static_cast<std::ptrdiff_t>(from), way.end());
    for (std::size_t i = from + 1; i < way.size(); ++i) at.erase(way[i]);
    way.resize(from + 1);
  };
  for (const LatticePoint& p : ring) {
    if (const auto it = at.find(p); it != at.end()) {
      close(it->second);
    } else {
      at[p] = way.size();
      way.push_back(p);
    }
  }
  if (!way.empty()) close(0);
  return loops;
}

}  // namespace pontata
