#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/review/rules.h"

namespace pontata {

namespace {

constexpr double kSample = 0.01;      // m between places tried
constexpr double kLeastChain = 0.10;  // m: shorter seams are left alone
constexpr double kLeastOff = 0.10;    // m off every contour: a shorter stretch hides behind a brush stroke
constexpr double kStrength = 0.10;    // weaker contours do not hide a seam; as HugOptions

bool at_border(const Network& n, HalfEdgeId h) { return n.half_edge(Network::twin(h)).face == Network::kOutside; }

// A run of seams between the same two, as half-edges of the first.
struct Chain {
  GiornataId first, second;
  std::vector<HalfEdgeId> seams;
};

bool same_chain(const Case& c, HalfEdgeId a, HalfEdgeId b) {
  return at_border(c.network(), a) == at_border(c.network(), b) && c.owner_across(a) == c.owner_across(b);
}

// Each seam between two once: from the smaller id, or from the giornata where the other is the rest.
std::vector<Chain> chains(const Case& c) {
  const Network& n = c.network();
  std::vector<Chain> list;
  for (const FaceId face : n.faces()) {
    const GiornataId owner = n.face(face).owner;
    if (!owner) continue;
    for (std::vector<HalfEdgeId> cycle : n.cycles(face)) {
      std::size_t first = 0;  // start where a chain starts
      while (first < cycle.size() && same_chain(c, cycle[first], cycle[(first + cycle.size() - 1) % cycle.size()]))
        ++first;
      if (first < cycle.size())
        std::rotate(cycle.begin(), cycle.begin() + static_cast<std::ptrdiff_t>(first), cycle.end());
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const GiornataId other = c.owner_across(cycle[i]);
        if (at_border(n, cycle[i]) || (other && other <= owner)) continue;
        if (i == 0 || !same_chain(c, cycle[i - 1], cycle[i])) list.push_back({owner, other, {}});
        list.back().seams.push_back(cycle[i]);
      }
    }
  }
  return list;
}

struct Off {
  double length = 0, off = 0;  // m
  double longest = 0;          // m of the longest stretch off
  ChartPoint at;               // its middle
};

Off measure_chain(const Case& c, const Chain& chain) {
  Off sum;
  double stretch = 0;
  std::vector<ChartPoint> places;  // of the present stretch
  const auto close = [&] {
    if (stretch > sum.longest) {
      sum.longest = stretch;
      sum.at = places[places.size() / 2];
    }
    stretch = 0;
    places.clear();
  };
  const double reach = c.settings.contour_mm / 1000;
  for (const HalfEdgeId h : chain.seams) {
    const double length = c.network().seam(Network::seam_of(h)).length_m;
    const int parts = std::max(1, static_cast<int>(std::ceil(length / kSample)));
    const Vec2 a = to_vec(to_chart(c.network().origin(h))), b = to_vec(to_chart(c.network().target(h)));
    for (int k = 0; k < parts; ++k) {
      const ChartPoint p = to_chart(a + (k + 0.5) / parts * (b - a));
      if (c.input.draped && !c.input.draped->covers(p)) continue;
      sum.length += length / parts;
      if (distance_to_contour(c.wall(), *c.input.contours, p, reach, kStrength) < reach) {
        close();
        continue;
      }
      sum.off += length / parts;
      stretch += length / parts;
      places.push_back(p);
    }
  }
  close();
  return sum;
}

}  // namespace

void find_off_contour(const Case& c, Findings& out) {
  if (!c.input.contours || c.input.contours->columns == 0) return;
  for (const Chain& chain : chains(c)) {
    const Off sum = measure_chain(c, chain);
    if (sum.length < kLeastChain || sum.off < kLeastOff) continue;
    const double share = sum.off / sum.length;
    if (share <= c.settings.off_contour_share) continue;
    std::vector<GiornataId> ids{chain.first};
    if (chain.second) ids.push_back(chain.second);
    Finding f = c.at("off-contour", Severity::warn, ids, sum.at);
    f.value = share;
    f.limit = c.settings.off_contour_share;
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
