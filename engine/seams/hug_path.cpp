#include "engine/seams/hug_path.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace pontata {

namespace {

// Surface distance from p to the chart segment a b under a form.
double deviation(const Metric::FirstForm& g, Vec2 a, Vec2 b, Vec2 p) {
  const Vec2 d = b - a, q = p - a;
  const double squared = g.E * d.x * d.x + 2 * g.F * d.x * d.y + g.G * d.y * d.y;
  const double across = g.E * d.x * q.x + g.F * (d.x * q.y + d.y * q.x) + g.G * d.y * q.y;
  const double t = squared > 0 ? std::clamp(across / squared, 0.0, 1.0) : 0;
  return step_length(g, q - d * t);
}

// Keeps [first, last] of the points that Douglas and Peucker would.
void thin(const ChartedWall& wall, const std::vector<Vec2>& at, std::size_t first, std::size_t last, double tolerance,
          std::vector<char>& keep) {
  std::vector<std::pair<std::size_t, std::size_t>> open{{first, last}};
  while (!open.empty()) {
    const auto [a, b] = open.back();
    open.pop_back();
    keep[a] = keep[b] = 1;
    if (b - a < 2) continue;
    const auto form = form_near(wall, to_chart(at[(a + b) / 2]));
    std::size_t worst = a;
    double most = tolerance;
    for (std::size_t k = a + 1; k < b; ++k) {
      const double d = deviation(form, at[a], at[b], at[k]);
      if (d <= most) continue;
      most = d;
      worst = k;
    }
    if (worst == a) continue;
    open.push_back({a, worst});
    open.push_back({worst, b});
  }
}

// Adds a stretch; one that goes on from the last and follows the same is part of it.
void extend(std::vector<HugStretch>& stretches, const HugStretch& s) {
  if (!stretches.empty()) {
    HugStretch& last = stretches.back();
    if (last.last == s.first && last.what == s.what && last.one == s.one && last.other == s.other) {
      last.last = s.last;
      last.length_m += s.length_m;
      return;
    }
  }
  stretches.push_back(s);
}

}  // namespace

void HugPath::add(Vec2 p, HugKind with) {
  if (!at.empty()) {
    if (at.back() == p) return;
    kind.push_back(with);
  }
  at.push_back(p);
}

HugPath simplify(const ChartedWall& wall, const HugPath& path, double tolerance_m, std::span<const Vec2> kept) {
  std::vector<char> keep(path.at.size(), 0);
  std::vector<Vec2> sorted(kept.begin(), kept.end());
  const auto before = [](const Vec2& a, const Vec2& b) { return a.x < b.x || (a.x == b.x && a.y < b.y); };
  std::sort(sorted.begin(), sorted.end(), before);
  const auto fixed = [&](std::size_t k) {
    return std::binary_search(sorted.begin(), sorted.end(), path.at[k], before);
  };
  std::size_t from = 0;
  while (from < path.kind.size()) {
    std::size_t to = from;
    while (to < path.kind.size() && path.kind[to] == path.kind[from] && (to == from || !fixed(to))) ++to;
    if (path.kind[from] == HugKind::seam) {
      std::fill(keep.begin() + static_cast<std::ptrdiff_t>(from), keep.begin() + static_cast<std::ptrdiff_t>(to) + 1,
                char{1});
    } else {
      thin(wall, path.at, from, to, tolerance_m, keep);
    }
    from = to;
  }
  HugPath out;
  for (std::size_t k = 0; k < path.at.size(); ++k) {
    if (k == 0 || keep[k]) out.add(path.at[k], k == 0 ? HugKind::free : path.kind[k - 1]);
  }
  return out;
}

namespace {

constexpr double kOnNetwork = 1e-5;  // m: rounding to the lattice moves a point off its seam by less

// What the piece from a to b follows, without its points and length.
HugStretch followed(const HugSeams& network, HugKind kind, Vec2 a, Vec2 b) {
  HugStretch s;
  switch (kind) {
    case HugKind::free:
      break;
    case HugKind::contour:
      s.what = HugTarget::contour;
      break;
    case HugKind::rib:
      s.what = HugTarget::rib;
      break;
    case HugKind::seam:
      s.what = HugTarget::seam;
      if (const auto spot = network.nearest(0.5 * (a + b), kOnNetwork)) {
        const SeamPiece& piece = network.piece(*spot);
        s.what = piece.what, s.one = piece.one, s.other = piece.other;
      }
      break;
  }
  return s;
}

}  // namespace

HuggedLine measured(const ChartedWall& wall, const HugSeams& network, const HugPath& path) {
  HuggedLine line;
  for (std::size_t k = 0; k < path.at.size(); ++k) {
    line.line.push_back(to_chart(path.at[k]));
    if (k == 0) continue;
    const HugKind kind = path.kind[k - 1];
    const double m = wall.metric->measure(to_lattice(line.line[k - 1]), to_lattice(line.line[k])).length_m;
    line.length_m += m;
    if (kind != HugKind::free) line.hugged_m += m;
    if (kind == HugKind::seam) line.seam_m += m;
    HugStretch s = followed(network, kind, path.at[k - 1], path.at[k]);
    s.first = k - 1, s.last = k, s.length_m = m;
    extend(line.stretches, s);
  }
  return line;
}

bool one_to_the_eye(const HuggedLine& a, const HuggedLine& b, double tolerance_m) {
  constexpr Metric::FirstForm chart{};
  const auto near = [&](const HuggedLine& from, const HuggedLine& to) {
    return std::all_of(from.line.begin(), from.line.end(), [&](ChartPoint p) {
      for (std::size_t k = 0; k + 1 < to.line.size(); ++k)
        if (deviation(chart, to_vec(to.line[k]), to_vec(to.line[k + 1]), to_vec(p)) <= tolerance_m) return true;
      return false;
    });
  };
  return near(a, b) && near(b, a);
}

HuggedLine with_given(HuggedLine line, std::span<const ChartPoint> given) {
  for (auto& p : line.line) {
    for (const auto& g : given) {
      if (to_lattice(g) == to_lattice(p)) p = g;
    }
  }
  return line;
}

void append(HuggedLine& line, const HuggedLine& more) {
  if (more.line.empty()) return;
  const bool meets = !line.line.empty() && line.line.back() == more.line.front();
  const std::size_t shift = line.line.size() - (meets ? 1 : 0);
  line.line.insert(line.line.end(), more.line.begin() + (meets ? 1 : 0), more.line.end());
  line.length_m += more.length_m;
  line.hugged_m += more.hugged_m;
  line.seam_m += more.seam_m;
  line.cost_m += more.cost_m;
  for (HugStretch s : more.stretches) {
    s.first += shift, s.last += shift;
    extend(line.stretches, s);
  }
}

std::array<double, kHugTargets> metres_by_target(const HuggedLine& line) {
  std::array<double, kHugTargets> metres{};
  for (const auto& s : line.stretches) metres[static_cast<std::size_t>(s.what)] += s.length_m;
  return metres;
}

}  // namespace pontata
