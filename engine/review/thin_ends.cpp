#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <thread>

#include "engine/base/parallel.h"
#include "engine/base/units.h"
#include "engine/flatten/flat_places.h"
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

Thin seek(const Case& c, const std::vector<Ring>& rings) {
  const double width_m = c.settings.tip_mm / 1000;
  const PatchOptions options{.spacing_m = std::min(kSpacing, width_m), .limit = 20000};
  const auto patch = make_patch(c.wall(), rings, options);
  if (!patch) return {};  // said where the pattern is made
  const auto flat = flat_places(*patch, FlattenOptions{.iterations = kSteps, .lower_greatest = false});
  if (!flat) return {};
  if (auto thin = thin_place(*patch, *flat, width_m, c.settings.tip_deg)) return {thin, false};
  const auto small = small_all_over(*patch, *flat, rings, width_m);
  return {small, small.has_value()};
}

struct Sought {
  GiornataId id;
  std::vector<Ring> rings;
  ReviewCache::Thin* kept = nullptr;  // null: nothing is kept between reviews
  Thin thin;
};

bool is_kept(const Case& c, const Sought& s) {
  return s.kept && s.kept->wall == c.input.wall && s.kept->rings == s.rings && s.kept->tip_mm == c.settings.tip_mm &&
         s.kept->tip_deg == c.settings.tip_deg;
}

void find(const Case& c, Sought& s) {
  if (is_kept(c, s)) {
    s.thin = {s.kept->place, s.kept->everywhere};
    return;
  }
  s.thin = seek(c, s.rings);
  if (!s.kept) return;
  *s.kept = {c.input.wall, std::move(s.rings), c.settings.tip_mm, c.settings.tip_deg, s.thin.place, s.thin.everywhere};
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
  const std::string wide =
      f.value < 0.5 && !thin.everywhere
          ? "runs out to nothing here"
          : fmt::format("is only {} mm wide {}", format_fixed(f.value, 0), thin.everywhere ? "at its widest" : "here");
  f.says = fmt::format("{} {}: plaster narrower than {} mm dries first and breaks when the edge is cut.", c.name(id),
                       wide, format_fixed(f.limit, 0));
  f.remedy = thin.everywhere ? "Make it larger, or join it to the giornata beside it."
                             : "Widen it, or give the narrow end to the giornata beside it.";
  return f;
}

}  // namespace

void find_thin_ends(const Case& c, Findings& out, Progress* progress) {
  std::vector<Sought> all;
  for (const auto& [id, record] : c.records) {
    std::vector<Ring> rings;
    for (const FaceId face : c.network().faces_of(id))
      for (Ring& ring : c.network().rings(face)) rings.push_back(std::move(ring));
    if (!rings.empty()) all.push_back({id, std::move(rings), c.input.cache ? &c.input.cache->thin[id] : nullptr, {}});
  }
  const auto here = std::this_thread::get_id();  // what is reported comes from this thread alone
  std::atomic<std::size_t> done{0};
  for_each_item(all.size(), 1, [&](std::size_t k) {
    if (is_cancelled(progress)) return;
    const WorkerLimit alone(1);
    find(c, all[k]);
    const double share = static_cast<double>(++done) / static_cast<double>(all.size());
    if (std::this_thread::get_id() == here) report(progress, 0.5 + 0.5 * share, "thin ends");
  });
  for (const Sought& s : all)
    if (s.thin.place) out.push_back(thin_finding(c, s.id, s.thin));
}

}  // namespace pontata
