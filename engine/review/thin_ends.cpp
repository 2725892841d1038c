#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"
#include "engine/flatten/medial_axis.h"
#include "engine/review/rules.h"

namespace pontata {

namespace {

// Coarser than for printing: a thin place is sought, not a pattern.
constexpr double kSpacing = 0.05;  // m
constexpr int kSteps = 12;

struct Thin {
  std::optional<ThinPlace> place;
  bool everywhere = false;  // the place is the widest there is
};

// The widest disc that fits into the patch, where it is narrower than the limit: small both ways, with no end to find.
std::optional<ThinPlace> small_all_over(const Patch& patch, const Flattening& flat, std::span<const Ring> rings,
                                        double width_m) {
  constexpr double kSlack = 1e-3;  // of the width: what laying flat may change
  std::vector<std::vector<Vec2>> rims;
  double twice_area = 0, perimeter = 0;
  for (const auto& rim : patch.rims) {
    auto& line = rims.emplace_back();
    for (const std::uint32_t v : rim) line.push_back(flat.flat[v]);
    for (std::size_t i = 0; i < line.size(); ++i) {
      const Vec2 a = line[i], b = line[(i + 1) % line.size()];
      twice_area += cross2(a, b);
      perimeter += glm::distance(a, b);
    }
  }
  // Every place lies within the disc's radius of the rim: area over perimeter cannot be much more than that radius.
  if (twice_area > 2 * perimeter * width_m) return std::nullopt;
  const MedialAxis axis = medial_axis(rims, width_m / 20);
  if (axis.radius.empty()) return std::nullopt;
  const double widest = 2 * *std::max_element(axis.radius.begin(), axis.radius.end());
  if (widest >= width_m * (1 - kSlack)) return std::nullopt;
  ThinPlace place;
  place.width_m = widest;
  place.at = label_place(rings);
  return place;
}

Thin seek(const Case& c, const std::vector<Ring>& rings, Progress* progress) {
  const double width_m = c.settings.tip_mm / 1000;
  const PatchOptions options{.spacing_m = std::min(kSpacing, width_m), .limit = 20000};
  const auto patch = make_patch(c.wall(), rings, options, progress);
  if (!patch) return {};  // said where the pattern is made
  const auto flat = flatten(*patch, FlattenOptions{.iterations = kSteps, .lower_greatest = false});
  if (!flat) return {};
  if (auto thin = thin_place(*patch, *flat, width_m, c.settings.tip_deg)) return {thin, false};
  const auto small = small_all_over(*patch, *flat, rings, width_m);
  return {small, small.has_value()};
}

Thin thin_place_of(const Case& c, GiornataId id, std::vector<Ring> rings, Progress* progress) {
  if (!c.input.cache) return seek(c, rings, progress);
  ReviewCache::Thin& kept = c.input.cache->thin[id];
  if (kept.wall == c.input.wall && kept.rings == rings && kept.tip_mm == c.settings.tip_mm &&
      kept.tip_deg == c.settings.tip_deg)
    return {kept.place, kept.everywhere};
  const Thin thin = seek(c, rings, progress);
  if (is_cancelled(progress)) return thin;  // may be half done: not kept
  kept = {c.input.wall, std::move(rings), c.settings.tip_mm, c.settings.tip_deg, thin.place, thin.everywhere};
  return thin;
}

Finding tip_finding(const Case& c, GiornataId id, const ThinPlace& tip) {
  Finding f = c.at("thin-end", Severity::warn, {id}, tip.at);
  f.value = tip.angle_deg;
  f.limit = c.settings.tip_deg;
  f.says = fmt::format(
      "{} ends in a tip of {}°: plaster in a tip sharper than {}° dries first and breaks when the edge is cut.",
      c.name(id), format_fixed(tip.angle_deg, 0), format_fixed(c.settings.tip_deg, 0));
  f.remedy = "Round the tip off, or give it to the giornata beside it.";
  return f;
}

Finding thin_finding(const Case& c, GiornataId id, const Thin& thin) {
  if (thin.place->angle_deg < c.settings.tip_deg) return tip_finding(c, id, *thin.place);
  Finding f = c.at("thin-end", Severity::warn, {id}, thin.place->at);
  f.value = thin.place->width_m * 1000;
  f.limit = c.settings.tip_mm;
  f.says = fmt::format(
      "{} is only {} mm wide {}: plaster narrower than {} mm dries first and breaks when the edge is cut.", c.name(id),
      format_fixed(f.value, 0), thin.everywhere ? "at its widest" : "here", format_fixed(f.limit, 0));
  f.remedy = thin.everywhere ? "Make it larger, or join it to the giornata beside it."
                             : "Widen it, or give the narrow end to the giornata beside it.";
  return f;
}

}  // namespace

void find_thin_ends(const Case& c, Findings& out, Progress* progress) {
  std::size_t done = 0;
  for (const auto& [id, record] : c.records) {
    std::vector<Ring> rings;
    for (const FaceId face : c.network().faces_of(id))
      for (Ring& ring : c.network().rings(face)) rings.push_back(std::move(ring));
    if (is_cancelled(progress)) return;
    if (!rings.empty())
      if (const Thin thin = thin_place_of(c, id, std::move(rings), progress); thin.place)
        out.push_back(thin_finding(c, id, thin));
    report(progress, 0.5 + 0.5 * static_cast<double>(++done) / static_cast<double>(c.records.size()), "thin ends");
  }
}

}  // namespace pontata
