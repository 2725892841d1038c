#include "engine/cartoon/relief.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "engine/cartoon/pattern_fit.h"
#include "engine/cartoon/relief_ground.h"
#include "engine/cartoon/relief_mouths.h"

namespace pontata {
namespace {

// Beside the tolerance: the plan is judged on a coarser patch than is printed.
constexpr double kSlack = 0.93;
constexpr double kMostPerM2 = 8;
constexpr std::size_t kMostFew = 4;
constexpr double kHeld = 0.1;  // mm, greatest error of a seam against its development

double area_of(const Patch& patch) {
  double sum = 0;
  for (const Triangle& t : patch.triangles)
    sum +=
        0.5 * glm::length(glm::cross(patch.points[t[1]] - patch.points[t[0]], patch.points[t[2]] - patch.points[t[0]]));
  return sum;
}

// Cuts as ways on the paper and what came of them.
struct Trial {
  std::vector<Slit> slits;
  PatternFit fit;
};

// Plans one part of a giornata.
class Planner {
 public:
  Planner(const CartoonWall& wall, std::span<const Ring> rings, const RimSides& sides, double relief_mm,
          Progress* progress)
      : wall_(wall), rings_(rings), sides_(sides), wanted_mm_(kSlack * relief_mm), progress_(progress) {}

  std::vector<Slit> plan() {
    auto uncut = fit({});
    if (!uncut || fits(*uncut)) return {};
    auto patch = make_patch(*wall_.wall, rings_, coarse_division(), progress_);
    if (!patch) return {};
    FlattenOptions rough;
    rough.lower_greatest = false;
    const auto flat = flatten(*patch, rough, progress_);
    if (!flat) return {};
    ReliefGround ground(wall_, *patch, flat->flat);
    const ReliefMouths mouths(*patch, flat->flat, junctions_of(*patch, sides_), ground);
    const auto most = std::max(kMostFew, static_cast<std::size_t>(std::ceil(kMostPerM2 * area_of(*patch))));
    std::optional<Trial> best = fewest(ground, mouths, *patch, most);
    if (best && fits(best->fit)) shorten(ground, mouths, *patch, *best);
    return best ? best->slits : std::vector<Slit>{};
  }

 private:
  bool fits(const PatternFit& f) const { return fits_within(f, wanted_mm_); }
  std::optional<PatternFit> fit(const std::vector<Slit>& slits) {
    if (is_cancelled(progress_)) return std::nullopt;
    auto made = fit_pattern(wall_, rings_, slits, coarse_division(), sides_, progress_);
    return made ? std::optional(std::move(*made)) : std::nullopt;
  }

  // `count` cuts, each as deep as `share` of the way inward; nullopt where there is no room for so many.
  std::optional<Trial> trial(ReliefGround& ground, const ReliefMouths& mouths, const Patch& patch, std::size_t count,
                             double share) {
    ground.free_all();
    Trial out;
    for (const RimPosition& mouth : mouths.places(count)) {
      const auto way = ground.way_from(mouth.rim, mouth.position, share);
      if (!way) continue;
      Slit slit{patch.rim_steps[mouth.rim][mouth.position].first, ground.in_chart(*way), {}};
      if (slit.inward.empty()) continue;
      ground.take(*way);
      out.slits.push_back(std::move(slit));
    }
    if (out.slits.empty()) return std::nullopt;
    auto made = fit(out.slits);
    if (!made) return std::nullopt;
    out.fit = std::move(*made);
    for (int round = 0; round < 5 && open_where_lips_cross(out.slits, out.fit); ++round) {
      made = fit(out.slits);
      if (!made) return std::nullopt;
      out.fit = std::move(*made);
    }
    if (out.fit.patch.slits.size() < out.slits.size()) out.fit.folded = true;  // one was too wide to be made
    return out;
  }

  // Its seams are true and it can be printed, whatever its lines do.
  static bool is_sound(const Trial& t) { return !t.fit.folded && t.fit.held_mm < kHeld; }

  // Of trials of which none fits: the one with the fewest cuts among those about as true as the best. One whose seams
  // are not true comes after all that are, one that overlaps itself after those.
  static std::optional<Trial> truest(std::vector<Trial>& trials) {
    constexpr double kAbout = 1.1;
    double best = 1e300;
    const auto worst = [](const Trial& t) {
      return t.fit.folded ? 1e200 : t.fit.held_mm < kHeld ? t.fit.worst_mm : 1e100 * t.fit.held_mm;
    };
    for (const Trial& t : trials) best = std::min(best, worst(t));
    for (Trial& t : trials)
      if (worst(t) <= kAbout * best) return std::move(t);
    return std::nullopt;
  }

  // More and more cuts until they fit, then back to the least number that does. Where seams are not true by then, more
  // than `most` are tried as well.
  std::optional<Trial> fewest(ReliefGround& ground, const ReliefMouths& mouths, const Patch& patch, std::size_t most) {
    constexpr double kDeep = 0.9;
    std::vector<Trial> trials;
    std::size_t tried = 0;
    bool sound = false;
    for (std::size_t count = 1; count <= (sound ? most : 3 * most);) {
      auto now = trial(ground, mouths, patch, count, kDeep);
      if (!now) break;
      if (fits(now->fit)) {
        for (std::size_t less = tried + 1; less < count; ++less) {
          auto fewer = trial(ground, mouths, patch, less, kDeep);
          if (fewer && fits(fewer->fit)) return fewer;
        }
        return now;
      }
      sound = sound || is_sound(*now);
      const bool full = 2 * mouths.places(count).size() < count;  // there is no room for more
      trials.push_back(std::move(*now));
      tried = count;
      if (full) break;
      const std::size_t more = std::max(count + 1, count * 4 / 3);
      count = count < most ? std::min(more, most) : more;
    }
    return truest(trials);
  }

  void shorten(ReliefGround& ground, const ReliefMouths& mouths, const Patch& patch, Trial& best) {
    for (const double share : {0.4, 0.55, 0.7, 0.8}) {
      auto shorter = trial(ground, mouths, patch, best.slits.size(), share);
      if (shorter && shorter->slits.size() <= best.slits.size() && fits(shorter->fit)) {
        best = std::move(*shorter);
        return;
      }
    }
  }

  const CartoonWall& wall_;
  std::span<const Ring> rings_;
  const RimSides& sides_;
  double wanted_mm_;
  Progress* progress_;
};

}  // namespace

const SeamMarks& WallPlans::marks() {
  if (!marks_) marks_ = std::make_unique<SeamMarks>(wall_);
  return *marks_;
}

const ReliefPlan& WallPlans::plan(GiornataId id, Progress* progress) {
  const auto known = plans_.find(id);
  if (known != plans_.end()) return known->second;
  ReliefPlan plan;
  for (const CartoonGiornata& g : wall_.giornate)
    if (g.id == id) plan = plan_relief(wall_, g, relief_mm_, progress);
  return plans_.emplace(id, std::move(plan)).first->second;
}

ReliefPlan plan_relief(const CartoonWall& wall, const CartoonGiornata& giornata, double relief_mm, Progress* progress) {
  const RimSides sides(wall, giornata);
  ReliefPlan plan;
  for (const auto& rings : patch_parts(*wall.wall, giornata.rings))
    plan.parts.push_back(Planner(wall, rings, sides, relief_mm, progress).plan());
  return plan;
}

}  // namespace pontata
