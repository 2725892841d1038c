#include <fmt/format.h>

#include <algorithm>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/review/seam_walk.h"

namespace pontata {

namespace {

constexpr double kStep = 0.02;      // m between places tried
constexpr double kStrength = 0.10;  // weaker contours do not hide a seam

struct Run {
  double from = 0, to = 0;
  double length() const { return to - from; }
};

// The longest stretch of the line with no contour near it.
Run longest_smooth(const Case& c, const MeasuredLine& line) {
  const double reach = c.settings.smooth_round_mm / 1000;
  Run longest, now;
  const int parts = std::max(1, static_cast<int>(line.total() / kStep));
  for (int k = 0; k < parts; ++k) {
    const double from = line.total() * k / parts, to = line.total() * (k + 1) / parts;
    const ChartPoint p = to_chart(line.place(0.5 * (from + to)));
    const bool smooth = (!c.input.draped || c.input.draped->covers(p)) &&
                        distance_to_contour(c.wall(), *c.input.contours, p, reach, kStrength) >= reach;
    if (!smooth) {
      now = {to, to};
      continue;
    }
    now.to = to;
    if (now.length() > longest.length()) longest = now;
  }
  return longest;
}

bool among_faces(const Case& c, Vec2 p) {
  return std::ranges::any_of(c.input.zones, [&](const Zone& zone) {
    return zone.subject == Subject::faces && std::ranges::any_of(zone.rings(), [&](const Ring& ring) {
             return ring.size() >= 3 && point_in_ring(ring, to_lattice(to_chart(p))) > 0;
           });
  });
}

}  // namespace

void find_across_smooth(const Case& c, Findings& out) {
  if (!c.input.contours || c.input.contours->columns == 0) return;
  for (const SeamChain& chain : seam_chains(c)) {
    const MeasuredLine line = measured_line(c.network(), chain);
    const Run run = longest_smooth(c, line);
    if (run.length() <= c.settings.smooth_m) continue;
    const Vec2 middle = line.place(0.5 * (run.from + run.to));
    const bool faces = among_faces(c, middle);
    std::vector<GiornataId> ids{chain.first};
    if (chain.second) ids.push_back(chain.second);
    Finding f = c.at("across-smooth", faces ? Severity::decide : Severity::warn, ids, to_chart(middle));
    f.value = run.length();
    f.limit = c.settings.smooth_m;
    f.stretches = {line.stretch(run.from, run.to)};
    f.says = fmt::format(
        "The seam between {} runs {} m across smooth ground{}, with no contour within {} mm: it will show for good.",
        c.names(chain.first, chain.second), format_fixed(run.length(), 2), faces ? " where faces are" : "",
        format_fixed(c.settings.smooth_round_mm, 0));
    f.remedy =
        "Lead it round along the edge of a figure, a fold or a border, or take the smooth ground into one giornata.";
    out.push_back(std::move(f));
  }
}

}  // namespace pontata
