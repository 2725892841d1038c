#include "engine/flatten/flat_report.h"

#include <algorithm>
#include <cmath>

#include "engine/flatten/least_strain.h"
#include "engine/flatten/paper_lines.h"
#include "engine/flatten/rim_crossing.h"

namespace pontata {
namespace {

bool counts(const RestTriangle& r) { return r.height >= kThinnestStrained; }

Stretches stretches_of(const Patch& patch, const RestTriangle& r, std::size_t t, const std::vector<Vec2>& flat) {
  const Triangle& v = patch.triangles[t];
  return stretches(gradient(r, flat[v[0]], flat[v[1]], flat[v[2]]));
}

double strain(Stretches s) { return std::max(std::abs(s.greater - 1), std::abs(s.lesser - 1)); }

double rim_length(const Patch& patch, std::size_t rim, std::size_t i) {
  const auto& r = patch.rims[rim];
  if (!patch.rim_lengths.empty()) return patch.rim_lengths[rim][i];
  return glm::distance(patch.points[r[i]], patch.points[r[(i + 1) % r.size()]]);
}

// Greatest difference of length, printed less surface, of a rim stretch between neighbouring corners; in mm.
double greatest_misfit(const Patch& patch, const std::vector<Vec2>& flat) {
  double worst = 0;
  for (std::size_t n = 0; n < patch.rims.size(); ++n) {
    const auto& rim = patch.rims[n];
    std::vector<bool> corner(rim.size(), false);
    if (n < patch.corners.size())
      for (const std::uint32_t c : patch.corners[n]) corner[c] = true;
    const auto start = static_cast<std::size_t>(std::find(corner.begin(), corner.end(), true) - corner.begin());
    double difference = 0;
    for (std::size_t k = 0; k < rim.size(); ++k) {
      const std::size_t i = (start + k) % rim.size(), j = (i + 1) % rim.size();
      difference += glm::distance(flat[rim[i]], flat[rim[j]]) - rim_length(patch, n, i);
      if (corner[j] || k + 1 == rim.size()) worst = std::max(worst, std::abs(difference)), difference = 0;
    }
  }
  return 1000 * worst;
}

// Greatest difference of length along a rim, per metre, over every stretch of about a metre (a whole rim, where it is
// shorter); in mm.
double outline_error(const Patch& patch, const std::vector<Vec2>& flat) {
  double worst = 0;
  for (std::size_t n = 0; n < patch.rims.size(); ++n) {
    const auto& rim = patch.rims[n];
    const auto printed = [&](std::size_t i) {
      return glm::distance(flat[rim[i % rim.size()]], flat[rim[(i + 1) % rim.size()]]);
    };
    double length = 0, difference = 0;
    for (std::size_t i = 0, end = 0; i < rim.size(); ++i) {
      for (; end < i + rim.size() && length < 1; ++end) {
        const double on_wall = rim_length(patch, n, end % rim.size());
        length += on_wall, difference += printed(end) - on_wall;
      }
      if (length > 0) worst = std::max(worst, std::abs(difference) / length);
      length -= rim_length(patch, n, i), difference -= printed(i) - rim_length(patch, n, i);
    }
  }
  return 1000 * worst;
}

// Lips of a slit may lie on each other to the solver's accuracy: rims are taken to overlap only where they still do
// when drawn in by 10 micrometres.
bool overlaps(const Patch& patch, const std::vector<Vec2>& flat) {
  constexpr double kDrawnIn = 1e-5;
  if (!rims_cross(patch.rims, flat)) return false;
  std::vector<Vec2> inner = flat;
  for (const auto& rim : patch.rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const std::uint32_t a = rim[i], b = rim[(i + 1) % rim.size()];
      const Vec2 way = flat[b] - flat[a];
      const double length = glm::length(way);
      if (!(length > 0)) continue;
      const Vec2 inward = Vec2{-way.y, way.x} / length;
      inner[a] += 0.5 * kDrawnIn * inward, inner[b] += 0.5 * kDrawnIn * inward;
    }
  return rims_cross(patch.rims, inner);
}

void report_strains(const Patch& patch, std::span<const RestTriangle> rest, Flattening& out) {
  double squares = 0, area = 0;
  for (std::size_t t = 0; t < rest.size(); ++t) {
    const Stretches s = stretches_of(patch, rest[t], t, out.flat);
    if (!(s.lesser > 0)) out.folded = true;
    if (!counts(rest[t])) continue;
    out.most_stretched = std::max(out.most_stretched, s.greater - 1);
    out.most_shrunk = std::min(out.most_shrunk, s.lesser - 1);
    out.area_strain = std::max(out.area_strain, std::abs(s.greater * s.lesser - 1));
    squares += rest[t].area * 0.5 * ((s.greater - 1) * (s.greater - 1) + (s.lesser - 1) * (s.lesser - 1));
    area += rest[t].area;
  }
  out.max_strain = greatest_strain(patch, rest, out.flat);
  out.mean_strain = area > 0 ? std::sqrt(squares / area) : 0;
}

}  // namespace

double greatest_strain(const Patch& patch, std::span<const RestTriangle> rest, const std::vector<Vec2>& flat) {
  double worst = 0;
  for (std::size_t t = 0; t < rest.size(); ++t)
    if (counts(rest[t])) worst = std::max(worst, strain(stretches_of(patch, rest[t], t, flat)));
  return worst;
}

void report_map(const Patch& patch, std::span<const RestTriangle> rest, Flattening& out) {
  out.folded = overlaps(patch, out.flat);
  report_strains(patch, rest, out);
  out.misfit_mm = greatest_misfit(patch, out.flat);
  out.outline_mm_per_m = outline_error(patch, out.flat);
  if (const auto alpha = largest_disc(patch)) out.least_strain = least_strain_of_disc(*alpha);
  const PaperLines::Worst line = PaperLines(patch, rest, out.flat).worst();
  out.worst_pair_mm = 1000 * line.difference_m, out.worst_pair = line.ends;
}

}  // namespace pontata
