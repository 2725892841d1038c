#include "engine/cartoon/pattern.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/cartoon/pattern_fit.h"
#include "engine/cartoon/pattern_marks.h"

namespace pontata {
namespace {

std::string label_in(const CartoonWall& wall, GiornataId id) {
  for (const CartoonGiornata& g : wall.giornate)
    if (g.id == id) return label_of(g);
  return "";
}

Vec2 mm(Vec2 metres) { return 1000.0 * metres; }

// Runs of the rim's steps with the same thing beyond.
void add_stretches(Pattern& p, std::size_t rim, const RimSides& sides) {
  const auto& points = p.patch.rims[rim];
  const auto steps = steps_of_rim(p.patch, rim, sides);
  const std::size_t n = steps.size();
  const auto same = [&](std::size_t i, std::size_t j) {
    return steps[i % n].lip == steps[j % n].lip && (steps[i % n].lip || steps[i % n].side == steps[j % n].side);
  };
  std::size_t first = 0;
  while (first < n && same(first + n - 1, first)) ++first;
  first %= n;
  for (std::size_t k = 0; k < n;) {
    const RimStep& here = steps[(first + k) % n];
    RimStretch stretch;
    stretch.beyond = here.side.beyond, stretch.neighbour = here.side.neighbour;
    if (here.side.neighbour) stretch.label = label_in(*p.wall, here.side.neighbour);
    std::size_t end = k + 1;
    while (end < n && same(first + end, first + k)) ++end;
    for (std::size_t i = k; i <= end; ++i) stretch.line.push_back(mm(p.flat.flat[points[(first + i) % n]]));
    if (!here.lip) p.stretches.push_back(std::move(stretch));
    k = end;
  }
}

// "a", "b", ... "z", "aa", ...
std::string letters(std::size_t n) {
  std::string out(1, static_cast<char>('a' + n % 26));
  return n < 26 ? out : letters(n / 26 - 1) + out;
}

// How far the mouth stands open on paper, against how far it does on the wall.
double closing_mm(const Pattern& p, const SlitPlace& at) {
  const auto& rim = p.patch.rims[at.rim];
  const auto width = [&](const auto& points) { return glm::distance(points[rim[at.left]], points[rim[at.right]]); };
  return 1000 * (width(p.flat.flat) - width(p.patch.points));
}

// Cuts are named through all parts of a giornata.
void add_cuts(Pattern& p, std::size_t named_before) {
  for (const SlitPlace& at : p.patch.slits) {
    const auto& rim = p.patch.rims[at.rim];
    const std::size_t n = rim.size();
    PatternCut cut;
    cut.name = letters(named_before + at.slit);
    for (std::size_t i = at.left;; i = (i + 1) % n) {
      cut.left.push_back(mm(p.flat.flat[rim[i]]));
      if (i == at.tip) break;
    }
    for (std::size_t i = at.right;; i = (i + n - 1) % n) {
      cut.right.push_back(mm(p.flat.flat[rim[i]]));
      if (i == at.tip) break;
    }
    cut.closes_mm = closing_mm(p, at);
    p.cuts.push_back(std::move(cut));
  }
}

void name_mouths(const CartoonGiornata& g, const ReliefPlan& plan, MouthNames& names) {
  std::size_t n = 0;
  for (const auto& part : plan.parts)
    for (const Slit& slit : part) names[slit.mouth] = letters(n++) + label_of(g);
}

// Names of the mouths of this giornata's cuts and of its neighbours'.
MouthNames mouths_about(const CartoonWall& wall, const CartoonGiornata& giornata, WallPlans& plans,
                        Progress* progress) {
  MouthNames names;
  const auto& about = giornata.measure.neighbours;
  for (const CartoonGiornata& g : wall.giornate)
    if (g.id == giornata.id || std::find(about.begin(), about.end(), g.id) != about.end())
      name_mouths(g, plans.plan(g.id, progress), names);
  return names;
}

std::string named(const CartoonGiornata& g) {
  return g.name.empty() ? "giornata " + label_of(g) : fmt::format("giornata {} ({})", label_of(g), g.name);
}

// Where held seams and cuts overlap, the uncut paper with a free rim: its misfit is reported as it is.
void lay_freely(const CartoonWall& wall, std::span<const Ring> rings, PatternFit& fit, Progress* progress) {
  auto patch = make_patch(*wall.wall, rings, print_division(), progress);
  if (!patch) return;
  auto flat = flatten(*patch, {}, progress);
  if (!flat || flat->folded) return;
  fit.patch = std::move(*patch), fit.flat = std::move(*flat), fit.folded = false;
}

Result<Pattern> make_pattern(const CartoonWall& wall, const CartoonGiornata& giornata, std::span<const Ring> rings,
                             std::vector<Slit> slits, const RimSides& sides, Progress* progress) {
  const auto lay = [&] { return fit_pattern(wall, rings, slits, print_division(), sides, progress); };
  auto fit = lay();
  // The plan was made on a coarser patch: lips may still meet by a little here.
  for (int round = 0; fit && round < 4 && open_where_lips_cross(slits, *fit); ++round) fit = lay();
  if (!fit) return Problem{fit.problem().what, named(giornata), fit.problem().remedy};
  if (fit->folded) lay_freely(wall, rings, *fit, progress);
  if (fit->folded)
    return Problem{"laid flat it would overlap itself", named(giornata), "Divide it into smaller giornate."};
  Pattern p;
  p.wall = &wall, p.giornata = &giornata;
  p.patch = std::move(fit->patch), p.flat = std::move(fit->flat);
  for (const auto& rim : p.patch.rims) {
    p.outline.emplace_back();
    for (const std::uint32_t v : rim) p.outline.back().push_back(mm(p.flat.flat[v]));
  }
  for (std::size_t r = 0; r < p.patch.rims.size(); ++r) add_stretches(p, r, sides);
  return p;
}

}  // namespace

Result<std::vector<Pattern>> make_patterns(const CartoonWall& wall, const CartoonGiornata& giornata, Progress* progress,
                                           WallPlans* plans, double relief_mm) {
  std::optional<WallPlans> own;
  if (!plans) plans = &own.emplace(wall, relief_mm);
  const auto parts = patch_parts(*wall.wall, giornata.rings);
  const RimSides sides(wall, giornata);
  const ReliefPlan& plan = plans->plan(giornata.id, progress);
  const MouthNames mouths = mouths_about(wall, giornata, *plans, progress);
  std::vector<Pattern> out;
  std::size_t cuts = 0;
  for (std::size_t n = 0; n < parts.size(); ++n) {
    const std::vector<Slit> slits = n < plan.parts.size() ? plan.parts[n] : std::vector<Slit>{};
    auto p = make_pattern(wall, giornata, parts[n], slits, sides, progress);
    if (!p) return p.problem();
    p->part = static_cast<int>(n) + 1, p->parts = static_cast<int>(parts.size());
    add_cuts(*p, cuts);
    cuts += slits.size();
    add_marks(*p, sides, plans->marks(), mouths);
    p->flat.misfit_mm = misfit_between_marks(*p, sides, plans->marks());
    out.push_back(std::move(*p));
  }
  if (out.empty()) return Problem{"it has no outline", named(giornata), "Draw it again."};
  return out;
}

}  // namespace pontata
