#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/review/seam_chains.h"

namespace pontata {

namespace {

constexpr double kSample = 0.01;      // m between places tried
constexpr double kLeastChain = 0.10;  // m: shorter seams are left alone
constexpr double kLeastOff = 0.10;    // m off every contour: a shorter stretch hides behind a brush stroke
constexpr double kStrength = 0.10;    // weaker contours do not hide a seam; as HugOptions

struct Off {
  double length = 0, off = 0;                      // m
  double longest = 0;                              // m of the longest stretch off
  ChartPoint at;                                   // its middle
  std::vector<std::vector<ChartPoint>> stretches;  // all that are off
};

Off measure_chain(const Case& c, const SeamChain& chain) {
  Off sum;
  double stretch = 0;
  std::vector<ChartPoint> places;  // of the present stretch
  const auto close = [&] {
    if (places.size() > 1) sum.stretches.push_back(places);
    if (stretch > sum.longest) {
      sum.longest = stretch;
      sum.at = places[places.size() / 2];
    }
    stretch = 0;
    places.clear();
  };
  const double reach = c.settings.contour_mm / 1000;
  for (const ChainPiece& piece : pieces_of_chain(c.network(), chain, kSample)) {
    const ChartPoint p = to_chart(0.5 * (piece.from + piece.to));
    if (c.input.draped && !c.input.draped->covers(p)) continue;
    sum.length += piece.length_m;
    if (distance_to_contour(c.wall(), *c.input.contours, p, reach, kStrength) < reach) {
      close();
      continue;
    }
    sum.off += piece.length_m;
    stretch += piece.length_m;
    places.push_back(p);
  }
  close();
  return sum;
}

}  // namespace

void find_off_contour(const Case& c, Findings& out) {
  if (!c.input.contours || c.input.contours->columns == 0) return;
  for (const SeamChain& chain : seam_chains(c)) {
    const Off sum = measure_chain(c, chain);
    if (sum.length < kLeastChain || sum.off < kLeastOff) continue;
    const double share = sum.off / sum.length;
    if (share <= c.settings.off_contour_share) continue;
    std::vector<GiornataId> ids{chain.first};
    if (chain.second) ids.push_back(chain.second);
    Finding f = c.at("off-contour", Severity::warn, ids, sum.at);
    f.value = share;
    f.limit = c.settings.off_contour_share;
    f.stretches = sum.stretches;
    f.says = fmt::format(
        "{} % of the seam between {} ({} of {} m) lies farther than {} mm from any contour of the picture and "
        "will show.",
        format_fixed(100 * share, 0), c.names(chain.first, chain.second), format_fixed(sum.off, 2),
        format_fixed(sum.length, 2), format_fixed(c.settings.contour_mm, 0));
    f.remedy = "Redraw it along the edge of a figure or a fold.";
    out.push_back(std::move(f));
  }
}

}  // namespace pontata
