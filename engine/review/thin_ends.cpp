#include <fmt/format.h>

#include "engine/base/units.h"
#include "engine/review/rules.h"

namespace pontata {

namespace {

// Coarser than for printing: a thin place is sought, not a pattern.
constexpr double kSpacing = 0.05;  // m
constexpr int kSteps = 12;

std::optional<ThinPlace> seek(const Case& c, const std::vector<Ring>& rings, Progress* progress) {
  const PatchOptions options{.spacing_m = std::min(kSpacing, c.settings.tip_mm / 1000), .limit = 20000};
  const auto patch = make_patch(c.wall(), rings, options, progress);
  if (!patch) return std::nullopt;  // said where the pattern is made
  const auto flat = flatten(*patch, FlattenOptions{.iterations = kSteps});
  if (!flat) return std::nullopt;
  return thin_place(*patch, *flat, c.settings.tip_mm / 1000, c.settings.tip_deg);
}

std::optional<ThinPlace> thin_place_of(const Case& c, GiornataId id, std::vector<Ring> rings, Progress* progress) {
  if (!c.input.cache) return seek(c, rings, progress);
  ReviewCache::Thin& kept = c.input.cache->thin[id];
  if (kept.wall == c.input.wall && kept.rings == rings && kept.tip_mm == c.settings.tip_mm &&
      kept.tip_deg == c.settings.tip_deg)
    return kept.place;
  auto place = seek(c, rings, progress);
  if (is_cancelled(progress)) return place;  // may be half done: not kept
  kept = {c.input.wall, std::move(rings), c.settings.tip_mm, c.settings.tip_deg, place};
  return place;
}

Finding thin_finding(const Case& c, GiornataId id, const ThinPlace& thin) {
  Finding f = c.at("thin-end", Severity::warn, {id}, thin.at);
  if (thin.angle_deg < c.settings.tip_deg) {
    f.value = thin.angle_deg;
    f.limit = c.settings.tip_deg;
    f.says = fmt::format(
        "{} ends in a tip of {}°: plaster in a tip sharper than {}° dries first and breaks when the edge is cut.",
        c.name(id), format_fixed(thin.angle_deg, 0), format_fixed(c.settings.tip_deg, 0));
    f.remedy = "Round the tip off, or give it to the giornata beside it.";
    return f;
  }
  f.value = thin.width_m * 1000;
  f.limit = c.settings.tip_mm;
  f.says = fmt::format(
      "{} is only {} mm wide here: plaster narrower than {} mm dries first and breaks when the edge is cut.",
      c.name(id), format_fixed(f.value, 0), format_fixed(f.limit, 0));
  f.remedy = "Widen it, or give the narrow end to the giornata beside it.";
  return f;
}

}  // namespace

void find_thin_ends(const Case& c, Findings& out, Progress* progress) {
  std::size_t done = 0;
  for (const auto& [id, record] : c.records) {
    for (const FaceId face : c.network().faces_of(id)) {
      if (is_cancelled(progress)) return;
      if (const auto thin = thin_place_of(c, id, c.network().rings(face), progress))
        out.push_back(thin_finding(c, id, *thin));
    }
    report(progress, 0.5 + 0.5 * static_cast<double>(++done) / static_cast<double>(c.records.size()), "thin ends");
  }
}

}  // namespace pontata
