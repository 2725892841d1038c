#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "engine/base/parallel.h"
#include "engine/chart/parameterise_relax.h"

namespace pontata {
namespace {

constexpr std::size_t kGrain = 2000;  // points worth a worker of its own
constexpr int kRimAttempts = 12;      // to let the points of rims move without meeting
constexpr int kRimTurns = 3;          // of these that hold only every second one back
constexpr int kWorstRings = 5;        // about a bad triangle that move with it
constexpr int kWorstSweeps = 12;      // before the bad triangles are looked for again

// The triangles round every point, and the points in classes of which no two are neighbours.
class PointFans {
 public:
  PointFans(const std::vector<Triangle>& triangles, std::size_t points) : triangles_(triangles), start_(points + 1, 0) {
    for (const Triangle& t : triangles)
      for (const auto corner : t) ++start_[corner + 1];
    std::partial_sum(start_.begin(), start_.end(), start_.begin());
    corners_.resize(start_.back());
    auto at = start_;
    for (std::uint32_t t = 0; t < triangles.size(); ++t)
      for (std::uint32_t k = 0; k < 3; ++k) corners_[at[triangles[t][k]]++] = 3 * t + k;
  }

  void gather(std::uint32_t p, const RelaxSheet& sheet, const std::vector<Vec2>& places,
              std::vector<FanTriangle>& fan) const {
    fan.clear();
    for (std::size_t i = start_[p]; i < start_[p + 1]; ++i) {
      const std::uint32_t t = corners_[i] / 3, k = corners_[i] % 3, k1 = (k + 1) % 3, k2 = (k + 2) % 3;
      const auto& g = sheet.drawn[t].gradient;
      fan.push_back(
          {{sheet.drawn[t].area, {g[k], g[k1], g[k2]}}, places[triangles_[t][k1]], places[triangles_[t][k2]]});
    }
  }

  // Each point, in order, goes to the first class that holds no neighbour of it.
  std::vector<std::vector<std::uint32_t>> colours() const {
    std::vector<std::vector<std::uint32_t>> classes;
    std::vector<std::uint32_t> of(start_.size() - 1, kNoColour);
    std::vector<std::uint32_t> taken;  // by class: the last point that may not go there
    for (std::uint32_t p = 0; p < of.size(); ++p) {
      if (start_[p] == start_[p + 1]) continue;
      for (std::size_t i = start_[p]; i < start_[p + 1]; ++i)
        for (const auto q : triangles_[corners_[i] / 3])
          if (of[q] != kNoColour) taken[of[q]] = p;
      std::uint32_t c = 0;
      while (c < classes.size() && taken[c] == p) ++c;
      if (c == classes.size()) classes.emplace_back(), taken.push_back(kNoColour);
      classes[of[p] = c].push_back(p);
    }
    return classes;
  }

  // Marks the given points and those within `rings` triangles of them.
  std::vector<char> grown(const std::vector<std::uint32_t>& seeds, int rings) const {
    std::vector<char> marked(start_.size() - 1, false);
    std::vector<std::uint32_t> front;
    const auto mark = [&](std::uint32_t p) {
      if (!std::exchange(marked[p], true)) front.push_back(p);
    };
    for (const auto p : seeds) mark(p);
    for (int ring = 0; ring < rings; ++ring)
      for (const auto p : std::exchange(front, {}))
        for (std::size_t i = start_[p]; i < start_[p + 1]; ++i)
          for (const auto q : triangles_[corners_[i] / 3]) mark(q);
    return marked;
  }

 private:
  static constexpr std::uint32_t kNoColour = 0xffffffffu;
  const std::vector<Triangle>& triangles_;
  std::vector<std::size_t> start_;
  std::vector<std::uint32_t> corners_;  // 3 t + k of every corner, by point
};

bool folds_nothing(const std::vector<FanTriangle>& fan, const Vec2& p) {
  return std::all_of(fan.begin(), fan.end(), [&](const FanTriangle& f) { return cross2(f.b - p, f.c - p) > 0; });
}

using Classes = std::vector<std::vector<std::uint32_t>>;

void relax_points(const Classes& colours, const PointFans& fans, const RelaxSheet& sheet,
                  const std::vector<char>& fixed, std::vector<Vec2>& places) {
  for (const auto& colour : colours)
    for_blocks(colour.size(), kGrain, [&](std::size_t begin, std::size_t end) {
      std::vector<FanTriangle> fan;
      for (std::size_t i = begin; i < end; ++i) {
        const std::uint32_t p = colour[i];
        if (fixed[p]) continue;
        fans.gather(p, sheet, places, fan);
        places[p] = relaxed_place(fan, places[p]);
      }
    });
}

// Points of rims move after all others. Where rims would meet, every second of their points there stays this time, at
// last all of them, and the others move again; when that does not end, none moves. `turn` says which are the second
// ones, so that no two points hold each other for ever.
void relax_rims(const Classes& colours, const PointFans& fans, const RelaxSheet& sheet, std::uint32_t turn,
                std::vector<Vec2>& places) {
  const auto restore = [&](const std::vector<Vec2>& from) {
    std::size_t i = 0;
    for (const auto& rim : sheet.rims)
      for (const auto p : rim) places[p] = from[i++];
  };
  std::vector<Vec2> before;
  for (const auto& rim : sheet.rims)
    for (const auto p : rim) before.push_back(places[p]);
  std::vector<char> fixed(places.size(), false);
  for (int attempt = 0; attempt < kRimAttempts; ++attempt) {
    relax_points(colours, fans, sheet, fixed, places);
    const auto crossing = crossing_points(sheet.rims, places);
    if (crossing.empty()) return;
    restore(before);
    for (const auto p : crossing)
      if (attempt >= kRimTurns || (p + turn) % 2 == 0) fixed[p] = true;
  }
}

// The points of a sheet in classes that may move together: those inside, and those of rims.
struct Movers {
  Classes inside, rims;
  std::vector<char> of_rim;
  Movers(const RelaxSheet& sheet, const PointFans& fans, std::size_t points) : of_rim(points, false) {
    for (const auto& rim : sheet.rims)
      for (const auto p : rim) of_rim[p] = true;
    inside = fans.colours();
    rims = inside;
    for (auto& colour : inside) std::erase_if(colour, [&](auto p) { return of_rim[p]; });
    for (auto& colour : rims) std::erase_if(colour, [&](auto p) { return !of_rim[p]; });
  }
};

// Points of triangles whose scales against their own shape do not lie within 1 / most and most.
std::vector<std::uint32_t> ill_placed(const RelaxSheet& sheet, const std::vector<Vec2>& places, double most) {
  std::vector<std::uint32_t> out;
  for (std::size_t t = 0; t < sheet.triangles.size(); ++t) {
    const Triangle& c = sheet.triangles[t];
    if (!sheet.lid[t] && !scales_within(jacobian(sheet.own[t], places[c[0]], places[c[1]], places[c[2]]), most))
      out.insert(out.end(), c.begin(), c.end());
  }
  return out;
}

}  // namespace

Vec2 relaxed_place(const std::vector<FanTriangle>& fan, const Vec2& p) {
  static thread_local std::vector<PointEnergy> parts;
  parts.clear();
  PointNewton newton;
  for (const FanTriangle& f : fan) newton.add(parts.emplace_back(point_energy(f.flat, jacobian(f.flat, p, f.b, f.c))));
  const Vec2 d = newton.step();
  double t = 1;
  for (const PointEnergy& e : parts)
    if (const double change = glm::dot(e.shear, d); change < 0) t = std::min(t, -0.8 * e.det / change);
  const double gain = glm::dot(d, newton.slope());
  for (int halving = 0; halving < 8 && gain < 0; ++halving, t *= 0.5) {
    double after = 0;
    for (const PointEnergy& e : parts) after += energy_at(e, t * d);
    if (const Vec2 q = p + t * d; after <= newton.energy() + 1e-4 * t * gain && folds_nothing(fan, q)) return q;
  }
  return p;
}

void relax_locally(RelaxSheet& sheet, int sweeps, std::vector<Vec2>& places, Progress* progress) {
  const PointFans fans(sheet.triangles, places.size());
  const Movers movers(sheet, fans, places.size());
  const std::vector<char> fixed(places.size(), false);
  for (int sweep = 0; sweep < sweeps && !is_cancelled(progress); ++sweep) {
    sheet.aim(places);
    relax_points(movers.inside, fans, sheet, fixed, places);
    relax_rims(movers.rims, fans, sheet, static_cast<std::uint32_t>(sweep), places);
  }
}

void relax_worst(RelaxSheet& sheet, double most, int rounds, std::vector<Vec2>& places, Progress* progress) {
  auto near = ill_placed(sheet, places, most);
  if (near.empty()) return;
  const PointFans fans(sheet.triangles, places.size());
  const Movers all(sheet, fans, places.size());
  for (int round = 0; round < rounds && !near.empty() && !is_cancelled(progress); ++round) {
    const auto moving = fans.grown(near, kWorstRings);
    Movers some = all;
    for (Classes* classes : {&some.inside, &some.rims})
      for (auto& colour : *classes) std::erase_if(colour, [&](auto p) { return !moving[p]; });
    const std::vector<char> fixed(places.size(), false);
    for (int sweep = 0; sweep < kWorstSweeps; ++sweep) {
      sheet.aim(places);
      relax_points(some.inside, fans, sheet, fixed, places);
      relax_rims(some.rims, fans, sheet, static_cast<std::uint32_t>(sweep), places);
    }
    near = ill_placed(sheet, places, most);
  }
}

}  // namespace pontata
