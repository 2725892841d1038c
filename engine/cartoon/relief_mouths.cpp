#include "engine/cartoon/relief_mouths.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pontata {
namespace {

constexpr double kOffCorner = 0.04;  // m
constexpr double kApart = 0.08;      // m between mouths
constexpr double kCorner = 0.35;     // rad that a rim turns within kOffCorner

// Angle at corner k of a triangle with these sides (corner k to k + 1).
double corner_angle(const std::array<double, 3>& sides, std::size_t k) {
  const double a = sides[k], b = sides[(k + 2) % 3], c = sides[(k + 1) % 3];
  return std::acos(std::clamp((a * a + b * b - c * c) / (2 * a * b), -1.0, 1.0));
}

// 2 pi less the angles round each inner point; 0 on rims.
std::vector<double> curvatures(const Patch& patch) {
  std::vector<double> out(patch.points.size(), 2 * std::numbers::pi);
  for (std::size_t t = 0; t < patch.triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k) out[patch.triangles[t][k]] -= corner_angle(patch.sides[t], k);
  for (const auto& rim : patch.rims)
    for (const std::uint32_t v : rim) out[v] = 0;
  return out;
}

}  // namespace

ReliefMouths::ReliefMouths(const Patch& patch, std::span<const Vec2> flat,
                           const std::vector<std::vector<bool>>& junctions, const ReliefGround& ground) {
  std::vector<std::vector<double>> shares;
  for (const auto& rim : patch.rims) shares.emplace_back(rim.size(), 0.0);
  const auto curvature = curvatures(patch);
  for (std::size_t v = 0; v < curvature.size(); ++v) {
    if (curvature[v] == 0) continue;
    curvature_ += curvature[v];
    double least = 1e300;
    std::size_t rim = 0, at = 0;
    for (std::size_t r = 0; r < patch.rims.size(); ++r)
      for (std::size_t i = 0; i < patch.rims[r].size(); ++i)
        if (const double d = glm::distance(flat[v], flat[patch.rims[r][i]]); d < least) least = d, rim = r, at = i;
    shares[rim][at] += curvature[v];
  }
  for (std::size_t r = 0; r < patch.rims.size(); ++r) {
    const std::size_t n = patch.rims[r].size();
    const auto& breaks = junctions[r];
    const auto first = static_cast<std::size_t>(std::find(breaks.begin(), breaks.end(), true) - breaks.begin());
    if (first == n) {
      add_stretch(patch, r, 0, n, true, shares[r]);
      continue;
    }
    for (std::size_t k = 0; k < n;) {
      std::size_t steps = 1;
      while (!breaks[(first + k + steps) % n]) ++steps;
      add_stretch(patch, r, (first + k) % n, steps, false, shares[r]);
      k += steps;
    }
  }
  for (Stretch& s : stretches_)
    for (std::size_t k = 0; k < s.positions.size(); ++k) {
      s.at.push_back(flat[patch.rims[s.rim][s.positions[k]]]);
      if (!ground.is_free(s.at[k])) s.allowed[k] = false;
    }
}

void ReliefMouths::add_stretch(const Patch& patch, std::size_t rim, std::size_t first, std::size_t steps, bool closed,
                               const std::vector<double>& shares) {
  const auto& points = patch.rims[rim];
  const std::size_t n = points.size();
  Stretch s;
  s.rim = rim, s.closed = closed;
  std::vector<double> at{0}, net;
  for (std::size_t k = 0; k < steps; ++k) {
    s.positions.push_back((first + k) % n);
    at.push_back(at.back() + patch.rim_lengths[rim][(first + k) % n]);
    net.push_back(shares[(first + k) % n]);
  }
  // Noise of either sign cancels over some 200 mm; what is left counts whatever its sign.
  constexpr double kBlur = 0.1;
  for (std::size_t k = 0; k < steps; ++k) {
    double sum = 0, width = 0;
    for (std::size_t j = 0; j < steps; ++j)
      if (std::abs(at[j] - at[k]) < kBlur) sum += net[j], width += at[j + 1] - at[j];
    s.before.push_back(s.all);
    s.all += width > 0 ? std::abs(sum) * (at[k + 1] - at[k]) / width : 0;
  }
  const auto direction = [&](std::size_t k) {
    const Vec3 d = patch.points[points[(first + k + 1) % n]] - patch.points[points[(first + k) % n]];
    return glm::length(d) > 0 ? glm::normalize(d) : Vec3{1, 0, 0};
  };
  const double off = std::min(kOffCorner, 0.3 * at.back());
  for (std::size_t k = 0; k < steps; ++k) {
    bool fine = closed || (at[k] >= off && at.back() - at[k] >= off);
    for (std::size_t j = 0; fine && j < steps; ++j)
      if (std::abs(at[j] - at[k]) < kOffCorner && glm::dot(direction(j), direction(k)) < std::cos(kCorner))
        fine = false;
    s.allowed.push_back(fine);
  }
  stretches_.push_back(std::move(s));
}

// The allowed positions nearest to even shares of the curvature.
void ReliefMouths::add_in_stretch(const Stretch& s, std::size_t count, std::vector<RimPosition>& mouths,
                                  std::vector<Vec2>& taken) {
  for (std::size_t c = 1; c <= count; ++c) {
    const double share = static_cast<double>(c) / static_cast<double>(s.closed ? count : count + 1);
    const auto wanted = static_cast<std::size_t>(
        std::min<std::ptrdiff_t>(std::lower_bound(s.before.begin(), s.before.end(), share * s.all) - s.before.begin(),
                                 static_cast<std::ptrdiff_t>(s.positions.size()) - 1));
    const auto try_at = [&](std::size_t k) {
      if (k >= s.positions.size() || !s.allowed[k]) return false;
      for (const Vec2& other : taken)
        if (glm::distance(other, s.at[k]) < kApart) return false;
      mouths.push_back({s.rim, s.positions[k]}), taken.push_back(s.at[k]);
      return true;
    };
    for (std::size_t step = 0; step < s.positions.size(); ++step)
      if (try_at(wanted + step) || (step <= wanted && try_at(wanted - step))) break;
  }
}

std::vector<RimPosition> ReliefMouths::places(std::size_t count) const {
  std::vector<std::size_t> cuts(stretches_.size(), 0);
  for (std::size_t n = 0; n < count; ++n) {
    std::size_t most = stretches_.size();
    double greatest = 0;
    for (std::size_t s = 0; s < stretches_.size(); ++s) {
      const Stretch& stretch = stretches_[s];
      const auto room = static_cast<std::size_t>(std::count(stretch.allowed.begin(), stretch.allowed.end(), true));
      const double left = stretch.all / static_cast<double>(cuts[s] + (stretch.closed ? 0 : 1) +
                                                            (stretch.closed && cuts[s] == 0 ? 1 : 0));
      if (cuts[s] < room && left > greatest) greatest = left, most = s;
    }
    if (most == stretches_.size()) break;
    ++cuts[most];
  }
  std::vector<RimPosition> out;
  std::vector<Vec2> taken;
  for (std::size_t s = 0; s < stretches_.size(); ++s) add_in_stretch(stretches_[s], cuts[s], out, taken);
  return out;
}

}  // namespace pontata
