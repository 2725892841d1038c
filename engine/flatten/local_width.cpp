#include "engine/flatten/local_width.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <queue>
#include <unordered_map>

#include "engine/flatten/medial_axis.h"

namespace pontata {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kTaper_deg = 5;

// The part of the medial axis nearer to the rim than `reach` and one step more, as a graph whose branches can be taken
// away.
class NarrowPart {
 public:
  static constexpr double kApart = 1e300;
  NarrowPart(const MedialAxis& axis, double reach) : axis_(axis), near_(axis.at.size()) {
    for (const auto& l : axis.links) {
      if (std::min(axis.radius[l.from], axis.radius[l.to]) >= reach) continue;
      const double length = glm::distance(axis.at[l.from], axis.at[l.to]);
      near_[l.from].push_back({l.to, length});
      near_[l.to].push_back({l.from, length});
    }
  }

  // Takes away end branches that are corners or grain of the line: up to where they join others the radius grows faster
  // than `slope` (radius per length), or it does so up to every radius short of `reach`, or within `length` metres.
  void prune(double reach, double slope, double length) {
    for (bool again = true; again;) {
      // All of one round together: of two branches that meet, neither may be taken for the other's continuation.
      std::vector<Branch> corners;
      for (std::uint32_t v = 0; v < near_.size(); ++v) {
        if (near_[v].size() != 1 || axis_.radius[v] > 0.95 * reach) continue;
        Branch branch = branch_from(v);
        if (is_corner(branch, slope) || !stays_narrow(v, reach, slope, length))
          corners.push_back(std::move(branch));
        else if (Branch rise = rise_of(branch, slope); rise.points.size() > 1)
          corners.push_back(std::move(rise));
      }
      for (const Branch& branch : corners)
        for (std::size_t i = 0; i + 1 < branch.points.size(); ++i) cut(branch.points[i], branch.points[i + 1]);
      again = !corners.empty();
    }
  }

  // Along the branch that ends at v: its radius `back` metres away (or at the branch's other end) and that distance.
  struct Back {
    double radius = 0, distance = 0;
  };
  Back look_back(std::uint32_t v, double back) const {
    Back out;
    const std::vector<double> distance = distances({v});
    for (std::uint32_t w = 0; w < distance.size(); ++w)
      if (distance[w] <= back * (1 + 1e-9) && distance[w] > out.distance) out = {axis_.radius[w], distance[w]};
    return out;
  }
  bool is_end(std::uint32_t v) const { return near_[v].size() == 1; }
  bool has(std::uint32_t v) const { return !near_[v].empty(); }

  // Along the part; kApart where it does not lead.
  std::vector<double> distances(const std::vector<std::uint32_t>& from) const {
    std::vector<double> distance(near_.size(), kApart);
    using Item = std::pair<double, std::uint32_t>;
    std::priority_queue<Item, std::vector<Item>, std::greater<>> queue;
    for (const std::uint32_t v : from) distance[v] = 0, queue.emplace(0.0, v);
    while (!queue.empty()) {
      const auto [d, v] = queue.top();
      queue.pop();
      if (d > distance[v]) continue;
      for (const Next& n : near_[v])
        if (d + n.length < distance[n.to]) distance[n.to] = d + n.length, queue.emplace(d + n.length, n.to);
    }
    return distance;
  }

  // Length of a longest way through the part that holds v (exact where it has no loops).
  double extent(std::uint32_t v) const {
    const auto farthest = [&](std::uint32_t from) {
      const std::vector<double> d = distances({from});
      std::uint32_t far = from;
      for (std::uint32_t w = 0; w < d.size(); ++w)
        if (d[w] < kApart && d[w] > d[far]) far = w;
      return std::pair{far, d[far]};
    };
    return farthest(farthest(v).first).second;
  }

 private:
  struct Next {
    std::uint32_t to;
    double length;
  };
  struct Branch {
    std::vector<std::uint32_t> points;
    double length = 0;
  };
  // A branch from the rim that opens fast up to where it joins others; one that starts inside (what is left of a
  // rounded corner) must open faster still, lest the grain of a line eat up a tip from its end.
  bool is_corner(const Branch& branch, double slope) const {
    const std::uint32_t end = branch.points.front(), join = branch.points.back();
    const double limit = axis_.radius[end] < 1e-5 ? slope : std::max(slope, 0.5);
    return near_[join].size() > 1 && axis_.radius[join] - axis_.radius[end] > limit * branch.length;
  }
  // The beginning of a branch over which it opens as fast as a corner, where it goes on without: what is left of a
  // corner whose other half was taken away before. Empty where it all does, or none of it.
  Branch rise_of(const Branch& branch, double slope) const {
    const double limit = axis_.radius[branch.points.front()] < 1e-5 ? slope : std::max(slope, 0.5);
    Branch rise{{branch.points.front()}, 0};
    for (std::size_t k = 1; k < branch.points.size(); ++k) {
      const std::uint32_t from = branch.points[k - 1], to = branch.points[k];
      const double step = glm::distance(axis_.at[from], axis_.at[to]);
      if (axis_.radius[to] - axis_.radius[from] <= limit * step) return rise;
      rise.points.push_back(to);
      rise.length += step;
    }
    return {};
  }
  // Some radius up to `reach` is met no sooner than `length` metres from the end v, nor sooner than by `slope`.
  bool stays_narrow(std::uint32_t v, double reach, double slope, double length) const {
    constexpr std::size_t kLevels = 4;
    const double start = axis_.radius[v], enough = std::max(length, (reach - start) / slope);
    std::array<double, kLevels> met;
    met.fill(kApart);
    std::unordered_map<std::uint32_t, double> distance{{v, 0.0}};
    using Item = std::pair<double, std::uint32_t>;
    std::priority_queue<Item, std::vector<Item>, std::greater<>> queue;
    for (queue.emplace(0.0, v); !queue.empty();) {
      const auto [d, w] = queue.top();
      queue.pop();
      if (d > enough) break;
      if (d > distance[w]) continue;
      for (std::size_t k = 0; k < kLevels; ++k)  // between points of the axis the radius counts as growing evenly
        if (const double r = axis_.radius[w], l = level(reach, k); r >= l && l > start)
          met[k] = std::min(met[k], d * (l - start) / (r - start));
      if (met.back() < kApart) break;
      for (const Next& n : near_[w])
        if (const auto it = distance.find(n.to); it == distance.end() || d + n.length < it->second)
          distance[n.to] = d + n.length, queue.emplace(d + n.length, n.to);
    }
    for (std::size_t k = 0; k < kLevels; ++k)
      if (const double l = level(reach, k); l > start && met[k] >= std::max(length, (l - start) / slope)) return true;
    return false;
  }
  static double level(double reach, std::size_t k) {
    return (k == 3 ? 0.95 : 0.25 * static_cast<double>(k + 1)) * reach;
  }

  Branch branch_from(std::uint32_t v) const {
    Branch b{{v}, 0};
    for (std::uint32_t last = v;;) {
      const std::uint32_t here = b.points.back();
      if (here != v && near_[here].size() != 2) return b;
      const Next next = here != v && near_[here][0].to == last ? near_[here][1] : near_[here][0];
      last = here;
      b.points.push_back(next.to);
      b.length += next.length;
    }
  }
  void cut(std::uint32_t a, std::uint32_t b) {
    const auto drop = [&](std::uint32_t p, std::uint32_t q) {
      const auto it = std::find_if(near_[p].begin(), near_[p].end(), [&](const Next& n) { return n.to == q; });
      if (it != near_[p].end()) near_[p].erase(it);
    };
    drop(a, b), drop(b, a);
  }

  const MedialAxis& axis_;
  std::vector<std::vector<Next>> near_;
};

// Chart place of a flat point: in the flat triangle that holds it, or the one whose weights go least below zero.
ChartPoint chart_place(const Patch& patch, const Flattening& flat, Vec2 p) {
  double best = -1e300;
  ChartPoint out;
  for (std::size_t t = 0; t < patch.triangles.size(); ++t) {
    const Triangle& v = patch.triangles[t];
    const Vec2 a = flat.flat[v[0]], b = flat.flat[v[1]], c = flat.flat[v[2]];
    const double whole = cross2(b - a, c - a);
    if (!(whole > 0)) continue;
    const double wa = cross2(b - p, c - p) / whole, wb = cross2(c - p, a - p) / whole, wc = 1 - wa - wb;
    const double least = std::min({wa, wb, wc});
    if (least <= best) continue;
    best = least;
    const ChartPoint pa = patch.corner_place(t, 0), pb = patch.corner_place(t, 1), pc = patch.corner_place(t, 2);
    out = {wa * pa.u + wb * pb.u + wc * pc.u, wa * pa.v + wb * pb.v + wc * pc.v};
    if (least >= 0) break;
  }
  return out;
}

struct Found {
  std::optional<ThinPlace> thinnest;
  void offer(const ThinPlace& p) {
    if (!thinnest || p.width_m < thinnest->width_m) thinnest = p;
  }
};

// Ends of the narrow part that taper: tips. Returns them, offering those that are sharp enough.
std::vector<std::uint32_t> offer_tips(const MedialAxis& axis, const NarrowPart& narrow, double width, double angle_deg,
                                      Found& found) {
  std::vector<std::uint32_t> tips;
  for (std::uint32_t v = 0; v < axis.at.size(); ++v) {
    if (!narrow.is_end(v) || axis.radius[v] > 0.25 * width) continue;
    const auto back = narrow.look_back(v, width);
    if (!(back.distance > 0)) continue;
    const double slope = std::clamp((back.radius - axis.radius[v]) / back.distance, 0.0, 1.0);
    const double angle = 2 * std::asin(slope) * 180 / kPi;
    if (angle < kTaper_deg) continue;  // the end of a strip
    tips.push_back(v);
    if (angle < angle_deg) found.offer({2 * (axis.radius[v] + slope * width), angle, axis.at[v], {}});
  }
  return tips;
}

// Least radius away from tips, in parts of the axis that stay narrow over a length of at least `width`.
void offer_strips(const MedialAxis& axis, const NarrowPart& narrow, const std::vector<std::uint32_t>& tips,
                  double width, Found& found) {
  const std::vector<double> from_tip = narrow.distances(tips);
  std::vector<bool> seen(axis.at.size(), false);
  for (std::uint32_t v = 0; v < axis.at.size(); ++v) {
    if (seen[v] || !narrow.has(v)) continue;
    const std::vector<double> part = narrow.distances({v});
    std::optional<std::uint32_t> least;
    for (std::uint32_t w = 0; w < part.size(); ++w) {
      if (part[w] >= NarrowPart::kApart) continue;
      seen[w] = true;
      if (from_tip[w] >= width && (!least || axis.radius[w] < axis.radius[*least])) least = w;
    }
    if (least && narrow.extent(v) >= width) found.offer({2 * axis.radius[*least], 180, axis.at[*least], {}});
  }
}

}  // namespace

std::optional<ThinPlace> thin_place(const Patch& patch, const Flattening& flat, double width_m, double angle_deg) {
  std::vector<std::vector<Vec2>> rims;
  for (const auto& rim : patch.rims) {
    rims.emplace_back();
    for (const std::uint32_t v : rim) rims.back().push_back(flat.flat[v]);
  }
  const MedialAxis axis = medial_axis(rims, width_m / 20);
  Found found;
  if (axis.no_width) {
    found.offer({0, 180, *axis.no_width, {}});
  } else {
    NarrowPart narrow(axis, 0.5 * width_m);
    narrow.prune(0.5 * width_m, std::sin(std::clamp(angle_deg, 1.0, 179.0) * kPi / 360), width_m);
    const auto tips = offer_tips(axis, narrow, width_m, angle_deg, found);
    offer_strips(axis, narrow, tips, width_m, found);
  }
  if (found.thinnest) found.thinnest->at = chart_place(patch, flat, found.thinnest->flat);
  return found.thinnest;
}

}  // namespace pontata
