#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/seams/hug_path.h"

namespace pontata {

namespace {

constexpr double kAlongside = 0.906;  // cosine of 25 degrees
constexpr double kDetour = 1.5;       // a seam this much longer than the stretch it replaces is another way

struct Sample {
  Vec2 at;
  HugKind kind = HugKind::free;  // of the piece that ends here
  double walked = 0;             // surface metres from the start
  std::optional<SeamSpot> seam;  // that it runs alongside
};

// The path's points and more between them, at most `step` (chart metres) apart.
std::vector<Sample> sampled(const ChartedWall& wall, const HugPath& path, double step) {
  std::vector<Sample> out{{path.at[0], HugKind::free, 0, {}}};
  for (std::size_t k = 0; k + 1 < path.at.size(); ++k) {
    const Vec2 d = path.at[k + 1] - path.at[k];
    const int parts = std::max(1, static_cast<int>(std::ceil(glm::length(d) / step)));
    const double length = step_length(form_near(wall, to_chart(path.at[k] + 0.5 * d)), d) / parts;
    for (int s = 1; s <= parts; ++s) {
      const Vec2 p = s == parts ? path.at[k + 1] : path.at[k] + d * (static_cast<double>(s) / parts);
      out.push_back({p, path.kind[k], out.back().walked + length, {}});
    }
  }
  return out;
}

void find_seams(const ChartedWall& wall, const HugSeams& seams, double reach_m, std::vector<Sample>& samples) {
  for (std::size_t k = 0; k < samples.size(); ++k) {
    auto spot = seams.nearest(samples[k].at, reach_m);
    if (!spot) continue;
    const Vec2 run = samples[std::min(k + 3, samples.size() - 1)].at - samples[k > 3 ? k - 3 : 0].at;
    const auto g = form_near(wall, to_chart(samples[k].at));
    const Vec2 s = spot->along;
    const double across = g.E * run.x * s.x + g.F * (run.x * s.y + run.y * s.x) + g.G * run.y * s.y;
    if (std::abs(across) >= kAlongside * step_length(g, run) * step_length(g, s)) samples[k].seam = spot;
  }
}

struct Stretch {
  std::size_t first = 0, last = 0;
};

std::vector<Stretch> stretches(const std::vector<Sample>& samples, double reach_m) {
  std::vector<Stretch> out;
  for (std::size_t k = 0; k < samples.size(); ++k) {
    if (!samples[k].seam) continue;
    if (!out.empty() && samples[k].walked - samples[out.back().last].walked <= reach_m) {
      out.back().last = k;
    } else {
      out.push_back({k, k});
    }
  }
  std::erase_if(out, [&](const Stretch& s) { return samples[s.last].walked - samples[s.first].walked < reach_m; });
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
    if (samples[k].seam) least = std::min(least, samples[k].seam->distance_m);
    if (k == 0) break;
  }
  for (std::size_t k = start; inside(k); k = next(k)) {
    if (samples[k].seam && samples[k].seam->distance_m <= least + 0.001) return k;
    if (k == 0) break;
  }
  return start;
}

// First sample from k on (or back) that lies `distance` farther along and alongside a seam; k when there is none.
std::size_t farther(const std::vector<Sample>& samples, const Stretch& s, std::size_t k, int inward, double distance) {
  for (std::size_t n = k; n >= s.first && n <= s.last; n = inward > 0 ? n + 1 : n - 1) {
    if (samples[n].seam && std::abs(samples[n].walked - samples[k].walked) >= distance) return n;
    if (n == 0) break;
  }
  return k;
}

struct Attachment {
  std::size_t leave = 0, rejoin = 0;  // samples kept up to the one and from the other
  SeamRoute route;
};

std::optional<Attachment> attachment(const HugSeams& seams, const std::vector<Sample>& samples, const Stretch& s,
                                     double reach_m) {
  Attachment a;
  a.leave = nearest_approach(samples, s, 1, reach_m);
  a.rejoin = nearest_approach(samples, s, -1, reach_m);
  if (a.leave >= a.rejoin) return std::nullopt;
  const auto first = farther(samples, s, a.leave, 1, samples[a.leave].seam->distance_m);
  const auto last = farther(samples, s, a.rejoin, -1, samples[a.rejoin].seam->distance_m);
  if (first >= last) return std::nullopt;
  const double run = samples[last].walked - samples[first].walked;
  // Network vertices between far-apart points of a straight seam need not lie near the path; the length bound tells.
  auto route =
      seams.route(*samples[first].seam, *samples[last].seam, kDetour * run + reach_m, [](Vec2) { return true; });
  if (!route) return std::nullopt;
  a.route = std::move(*route);
  return a;
}

}  // namespace

HugPath attach_to_seams(const ChartedWall& wall, const HugSeams& seams, const HugPath& path, double cell,
                        double seam_reach_m) {
  if (seams.empty() || !(seam_reach_m > 0) || path.at.size() < 2) return path;
  auto samples = sampled(wall, path, 1.5 * cell);
  find_seams(wall, seams, seam_reach_m, samples);
  HugPath out;
  out.add(samples[0].at, HugKind::free);
  std::size_t next = 1;
  for (const auto& s : stretches(samples, seam_reach_m)) {
    const auto a = attachment(seams, samples, s, seam_reach_m);
    if (!a) continue;
    for (; next <= a->leave; ++next) out.add(samples[next].at, samples[next].kind);
    for (std::size_t k = 0; k < a->route.points.size(); ++k) {
      out.add(to_vec(a->route.points[k]), k == 0 ? HugKind::free : HugKind::seam);
    }
    out.add(samples[a->rejoin].at, HugKind::free);
    next = a->rejoin + 1;
  }
  for (; next < samples.size(); ++next) out.add(samples[next].at, samples[next].kind);
  return out;
}

}  // namespace pontata
