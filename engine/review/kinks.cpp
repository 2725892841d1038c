#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "engine/base/units.h"
#include "engine/review/seam_walk.h"

namespace pontata {

namespace {

constexpr double kStrength = 0.10;

double degrees(double radians) { return radians * 180 / std::numbers::pi; }

bool on_contour(const Case& c, Vec2 p) {
  const double reach = c.settings.contour_mm / 1000;
  return c.input.contours && c.input.contours->columns > 0 &&
         distance_to_contour(c.wall(), *c.input.contours, to_chart(p), reach, kStrength) < reach;
}

struct Kink {
  double at = 0, turn_deg = 0;
};

// The sharpest turn round each corner of the line.
std::vector<Kink> kinks_of(const Case& c, const MeasuredLine& line) {
  const double reach = c.settings.kink_mm / 1000;
  std::vector<Kink> found;
  for (std::size_t k = 1; k + 1 < line.at.size(); ++k) {
    const double m = line.length[k];
    if (m < reach || m > line.total() - reach) continue;
    const Vec2 p = line.at[k], before = p - line.place(m - reach), after = line.place(m + reach) - p;
    const double turn = degrees(std::abs(turn_at(c.wall(), p, before, after)));
    if (turn <= c.settings.kink_deg) continue;
    // The contour turns there as well: the seam goes with it on both sides.
    if (on_contour(c, p) && on_contour(c, line.place(m - 0.7 * reach)) && on_contour(c, line.place(m + 0.7 * reach)))
      continue;
    if (!found.empty() && m - found.back().at < 2 * reach) {
      if (turn > found.back().turn_deg) found.back() = {m, turn};
    } else {
      found.push_back({m, turn});
    }
  }
  return found;
}

}  // namespace

void find_kinks(const Case& c, Findings& out) {
  for (const SeamChain& chain : seam_chains(c)) {
    const MeasuredLine line = measured_line(c.network(), chain);
    for (const Kink& kink : kinks_of(c, line)) {
      std::vector<GiornataId> ids{chain.first};
      if (chain.second) ids.push_back(chain.second);
      Finding f = c.at("kink", Severity::note, ids, to_chart(line.place(kink.at)));
      f.value = kink.turn_deg;
      f.limit = c.settings.kink_deg;
      const double reach = c.settings.kink_mm / 1000;
      f.stretches = {line.stretch(kink.at - reach, kink.at + reach)};
      f.says = fmt::format("The seam between {} turns by {}° within {} mm, where no contour does.",
                           c.names(chain.first, chain.second), format_fixed(kink.turn_deg, 0),
                           format_fixed(2 * c.settings.kink_mm, 0));
      f.remedy = "Round it off: an edge cut in a wide bend holds, and shows less.";
      out.push_back(std::move(f));
    }
  }
}

}  // namespace pontata
