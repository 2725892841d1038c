#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/chart/first_form.h"
#include "engine/seams/hug_path.h"

namespace pontata {

namespace {

constexpr double kAlongside = 0.906;  // cosine of 25 degrees
constexpr double kDetour = 1.5;       // a seam this much longer than the stretch it replaces is another way

constexpr double kOneLine = 0.001;       // m: two simplified lines along one contour lie this near each other
constexpr double kLeastShared = 0.0015;  // m

struct Sample {
  Vec2 at;
  HugKind kind = HugKind::free;  // of the piece that ends here
  double walked = 0;             // surface metres from the start
  std::optional<SeamSpot> seam;  // nearest within reach
  bool alongside = false;        // and the path runs along it
};

// The path's points and more between them, at most `step` (chart metres) apart.
std::vector<Sample> sampled(const ChartedWall& wall, const HugPath& path, double step) {
  std::vector<Sample> out{{path.at[0], HugKind::free, 0, {}, false}};
  for (std::size_t k = 0; k + 1 < path.at.size(); ++k) {
    const Vec2 d = path.at[k + 1] - path.at[k];
    const int parts = std::max(1, static_cast<int>(std::ceil(glm::length(d) / step)));
    const double length = step_length(form_near(wall, to_chart(path.at[k] + 0.5 * d)), d) / parts;
    for (int s = 1; s <= parts; ++s) {
      const Vec2 p = s == parts ? path.at[k + 1] : path.at[k] + d * (static_cast<double>(s) / parts);
      out.push_back({p, path.kind[k], out.back().walked + length, {}, false});
    }
  }
  return out;
}

void find_seams(const ChartedWall& wall, const HugSeams& seams, double reach_m, std::vector<Sample>& samples) {
  for (std::size_t k = 0; k < samples.size(); ++k) {
    auto& spot = samples[k].seam;
    spot = seams.nearest(samples[k].at, reach_m);
    if (!spot) continue;
    const Vec2 run = samples[std::min(k + 3, samples.size() - 1)].at - samples[k > 3 ? k - 3 : 0].at;
    const auto g = form_near(wall, to_chart(samples[k].at));
    const Vec2 s = spot->along;
    samples[k].alongside = std::abs(dot(g, run, s)) >= kAlongside * step_length(g, run) * step_length(g, s);
  }
}

struct Stretch {
  std::size_t first = 0, last = 0;
};

double length_of(const std::vector<Sample>& samples, const Stretch& s) {
  return samples[s.last].walked - samples[s.first].walked;
}

// The part of a short stretch, from first to last, where path and seam are one line to the eye: left apart they would
// enclose slivers. Elsewhere a short stretch is a seam crossed at a small angle.
Stretch coincident(const std::vector<Sample>& samples, const Stretch& s) {
  Stretch out{s.last, s.last};
  bool any = false;
  for (std::size_t k = s.first; k <= s.last; ++k) {
    if (!samples[k].alongside || samples[k].seam->distance_m > kOneLine) continue;
    if (!any) out.first = k;
    out.last = k;
    any = true;
  }
  return out;
}

// Stretches alongside seams: as long as the reach, or shorter and on the seam.
std::vector<Stretch> stretches(const std::vector<Sample>& samples, double reach_m) {
  std::vector<Stretch> out;
  for (std::size_t k = 0; k < samples.size(); ++k) {
    if (!samples[k].alongside) continue;
    if (!out.empty() && samples[k].walked - samples[out.back().last].walked <= reach_m) {
      out.back().last = k;
    } else {
      out.push_back({k, k});
    }
  }
  for (auto& s : out) {
    if (length_of(samples, s) < reach_m) s = coincident(samples, s);
  }
  std::erase_if(out, [&](const Stretch& s) { return length_of(samples, s) < kLeastShared; });
  return out;
}

// The sample, from the stretch's end inward, where the path has come about as near to the seam as it does near there.
// `inward` is +1 from its first sample, -1 from its last.
std::size_t nearest_approach(const std::vector<Sample>& samples, const Stretch& s, int inward, double reach_m) {
  const std::size_t start = inward > 0 ? s.first : s.last;
  const auto next = [&](std::size_t k) { return inward > 0 ? k + 1 : k - 1; };
  const auto inside = [&](std::size_t k) {
    return k >= s.first && k <= s.last && std::abs(samples[k].walked - samples[start].walked) <= 2 * reach_m;
  };
  double least = reach_m;
  for (std::size_t k = start; inside(k); k = next(k)) {
    if (samples[k].alongside) least = std::min(least, samples[k].seam->distance_m);
    if (k == 0) break;
  }
  for (std::size_t k = start; inside(k); k = next(k)) {
    if (samples[k].alongside && samples[k].seam->distance_m <= least + kOneLine) return k;
    if (k == 0) break;
  }
  return start;
}

// First sample from k on toward `end` that lies `distance` farther along and has a seam near; k when there is none.
std::size_t farther(const std::vector<Sample>& samples, std::size_t k, std::size_t end, double distance) {
  for (std::size_t n = k; n != end; n = end > k ? n + 1 : n - 1) {
    if (samples[n].seam && std::abs(samples[n].walked - samples[k].walked) >= distance) return n;
  }
  return k;
}

// From sample k outward as long as the path stays on the seam to the eye, whichever way it runs, and one sample more:
// so that a path that leaves the seam on its other side does not cross it once more.
std::size_t while_on(const std::vector<Sample>& samples, std::size_t k, int outward) {
  const auto on = [&](std::size_t n) { return samples[n].seam && samples[n].seam->distance_m <= kOneLine; };
  if (!on(k)) return k;
  if (outward > 0) {
    while (k + 1 < samples.size() && on(k + 1)) ++k;
    return k + 1 < samples.size() && samples[k + 1].seam ? k + 1 : k;
  }
  while (k > 0 && on(k - 1)) --k;
  return k > 0 && samples[k - 1].seam ? k - 1 : k;
}

struct Attachment {
  std::size_t leave = 0, rejoin = 0;  // samples kept up to the one and from the other
  SeamRoute route;
};

std::optional<Attachment> attachment(const HugSeams& seams, const std::vector<Sample>& samples, const Stretch& s,
                                     double reach_m) {
  Attachment a;
  a.leave = while_on(samples, nearest_approach(samples, s, 1, reach_m), -1);
  a.rejoin = while_on(samples, nearest_approach(samples, s, -1, reach_m), 1);
  if (a.leave >= a.rejoin) return std::nullopt;
  const auto first = farther(samples, a.leave, a.rejoin, samples[a.leave].seam->distance_m);
  const auto last = farther(samples, a.rejoin, a.leave, samples[a.rejoin].seam->distance_m);
  if (first >= last) return std::nullopt;
  const double run = samples[last].walked - samples[first].walked;
  // Network vertices between far-apart points of a straight seam need not lie near the path; the length bound tells.
  auto route =
      seams.route(*samples[first].seam, *samples[last].seam, kDetour * run + 2 * kOneLine, [](Vec2) { return true; });
  if (!route) return std::nullopt;
  a.route = std::move(*route);
  return a;
}

// A path without pieces of kind seam.
HugPath attached(const ChartedWall& wall, const HugSeams& seams, const HugPath& path, double cell, double reach_m,
                 HugKind as) {
  auto samples = sampled(wall, path, 1.5 * cell);
  find_seams(wall, seams, reach_m, samples);
  HugPath out;
  out.add(samples[0].at, HugKind::free);
  std::size_t next = 1;
  for (const auto& s : stretches(samples, reach_m)) {
    const auto a = attachment(seams, samples, s, reach_m);
    if (!a || a->rejoin < next) continue;
    for (; next <= a->leave; ++next) out.add(samples[next].at, samples[next].kind);
    for (std::size_t k = 0; k < a->route.points.size(); ++k)
      out.add(to_vec(a->route.points[k]), k == 0 ? HugKind::free : as);
    out.add(samples[a->rejoin].at, HugKind::free);
    next = a->rejoin + 1;
  }
  for (; next < samples.size(); ++next) out.add(samples[next].at, samples[next].kind);
  return out;
}

}  // namespace

HugPath attach_to_seams(const ChartedWall& wall, const HugSeams& seams, const HugPath& path, double cell,
                        double seam_reach_m, HugKind as) {
  if (seams.empty() || !(seam_reach_m > 0) || path.at.size() < 2) return path;
  HugPath out;
  out.add(path.at[0], HugKind::free);
  for (std::size_t from = 0; from < path.kind.size();) {
    const bool exact = path.kind[from] == HugKind::seam;
    std::size_t to = from;
    HugPath part;
    part.add(path.at[from], HugKind::free);
    for (; to < path.kind.size() && (path.kind[to] == HugKind::seam) == exact; ++to)
      part.add(path.at[to + 1], path.kind[to]);
    if (!exact && part.at.size() > 1) part = attached(wall, seams, part, cell, seam_reach_m, as);
    for (std::size_t k = 0; k < part.kind.size(); ++k) out.add(part.at[k + 1], part.kind[k]);
    from = to;
  }
  return out;
}

}  // namespace pontata
