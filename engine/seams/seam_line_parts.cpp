// A drawn line matched with the seams whose place it is to take.
#include <algorithm>

#include "engine/chart/cut_crossing.h"
#include "engine/seams/network_snap.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/seam_moves.h"
#include "engine/seams/seam_path.h"

namespace pontata {

namespace {

using Line = std::vector<LatticePoint>;

constexpr double kOneNode = 5e-4;  // m: a line that ends that near to a node ends at it

constexpr const char* kDraw = "Draw it from one place of a seam to another.";

// A place where the stretch may begin or end.
struct End {
  SeamPlace at;
  bool slides = false;  // a seam's end on the border, which goes to where the line ends
  double cost = 0;
};

SeamPlace at_vertex(const Network& n, VertexId v) {
  return {Network::seam_of(n.vertex(v).out), 0, n.vertex(v).place, 0, v};
}

// Where the line ends on the border, the seams' ends on both sides may slide to it.
std::vector<End> border_ends(const Network& n, const Rails& rails, const SeamPlace& border, bool cut) {
  std::vector<End> ends;
  for (const VertexId v : rails.junctions_beside(border)) {
    if (cut && !rails.counterpart(v)) continue;
    const ChartPoint a = to_chart(n.vertex(v).place), b = to_chart(border.place);
    const double off = std::hypot(a.u - b.u, a.v - b.v);
    ends.push_back({at_vertex(n, v), true, off * off / 2});
  }
  return ends;
}

class Parts {
 public:
  Parts(const ChartedWall& wall, const Network& network, const Rails& rails)
      : wall_(wall), n_(network), rails_(rails) {}

  Result<std::vector<LinePart>> find(const std::vector<ChartPoint>& line) {
    auto pieces = brought(line);
    if (!pieces) return pieces.problem();
    // Best ways so far, by where they end.
    std::vector<Way> ways;
    for (const End& e : begin_) ways.push_back({{}, e, e.cost});
    for (std::size_t i = 0; i < pieces->size(); ++i) {
      const bool last = i + 1 == pieces->size();
      const Line& piece = (*pieces)[i].points;
      if (const auto crossing = line_crossing(piece))
        return Problem{"The line crosses or touches itself", place_name(*crossing),
                       "Draw it once along the seam's new course."};
      const auto goals = last ? end_ : cut_ends(piece.back());
      ways = led_on(ways, piece, goals, last);
      if (ways.empty())
        return Problem{last ? "No seam leads from one end of the line to the other"
                            : "No seam goes over the cut of the chart near the line",
                       place_name(piece.back()), "Draw it between two places of the same seams, on the same side."};
    }
    return std::min_element(ways.begin(), ways.end(), [](const Way& a, const Way& b) { return a.cost < b.cost; })
        ->parts;
  }

 private:
  struct Way {
    std::vector<LinePart> parts;
    End at;
    double cost = 0;
  };

  Result<std::vector<CutPiece>> brought(const std::vector<ChartPoint>& line) {
    for (const ChartPoint p : line)
      if (const auto asked = place_asked(wall_, p); !asked) return asked.problem();
    const Problem too_short{"A line needs at least 2 different points", "", kDraw};
    if (line.size() < 2) return too_short;
    const WrappedPlaces wrapped = wrap_places(*wall_.chart, line);
    auto places = bring_to_border(wall_, wrapped.places);
    if (!places) return places.problem();
    for (const bool last : {false, true}) {
      auto& ends = last ? end_ : begin_;
      LatticePoint& p = last ? places->back() : places->front();
      ends = ends_at(p);
      if (ends.empty())
        return Problem{last ? "The line does not end on a seam" : "The line does not begin on a seam", place_name(p),
                       std::string(kDraw) + " Both ends may be 1 cm off."};
    }
    if (places->front() == places->back())
      return places->size() < 3 ? too_short
                                : Problem{"The line comes back to where it began", place_name(places->front()), kDraw};
    return lead_across(wall_, *places, wrapped.turned, false);
  }

  // p is brought onto the seam or the border that is nearer.
  std::vector<End> ends_at(LatticePoint& p) const {
    const auto seam = seam_near(wall_, n_, to_chart(p), kSeamNear, false, kOneNode);
    const auto border = seam_near(wall_, n_, to_chart(p), kSeamNear, true, 0);
    if (border && (!seam || (border->distance_m < seam->distance_m - 1e-6 &&
                             !(seam->vertex && is_on_border(n_, *seam->vertex))))) {
      p = border->place;
      return border_ends(n_, rails_, *border, false);
    }
    if (!seam) return {};
    p = seam->place;
    return {{*seam, false, 0}};
  }

  std::vector<End> cut_ends(LatticePoint p) const {
    const auto border = seam_near(wall_, n_, to_chart(p), kSeamNear, true, 0);
    return border ? border_ends(n_, rails_, *border, true) : std::vector<End>{};
  }

  std::vector<Way> led_on(const std::vector<Way>& ways, const Line& piece, const std::vector<End>& goals,
                          bool last) const {
    std::vector<Way> found;
    for (const End& goal : goals) {
      std::optional<Way> best;
      for (const Way& way : ways) {
        auto stretch = stretch_near(n_, way.at.at, goal.at, piece);
        if (!stretch || (best && way.cost + stretch->cost + goal.cost >= best->cost)) continue;
        best = Way{way.parts, goal, way.cost + stretch->cost + goal.cost};
        LinePart part{piece, std::move(*stretch), std::nullopt, std::nullopt};
        if (way.at.slides) part.head = way.at.at.vertex;
        if (goal.slides) part.tail = goal.at.vertex;
        best->parts.push_back(std::move(part));
      }
      if (!best) continue;
      if (!last) best->at = {at_vertex(n_, *rails_.counterpart(*goal.at.vertex)), true, 0};
      found.push_back(std::move(*best));
    }
    return found;
  }

  const ChartedWall& wall_;
  const Network& n_;
  const Rails& rails_;
  std::vector<End> begin_, end_;
};

}  // namespace

Result<std::vector<LinePart>> line_parts(const ChartedWall& wall, const Network& network, const Rails& rails,
                                         const std::vector<ChartPoint>& line) {
  return Parts(wall, network, rails).find(line);
}

}  // namespace pontata
