#include "engine/document/diary_cut.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/document/drawn_line.h"
#include "engine/document/edit_parts.h"
#include "engine/seams/cut_contacts.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/swap_owners.h"

namespace pontata {

namespace {

using Places = std::vector<ChartPoint>;

constexpr double kStep = 0.01;    // m of chart between the places of an outline that are looked at
constexpr double kClosed = 1e-6;  // m of chart: the last place is the first again

std::string place_words(ChartPoint p) { return fmt::format("at {:.3f} {:.3f}", p.u, p.v); }

// The rim of a giornata; a cut of the chart inside it is no rim.
class Rim {
 public:
  Rim(const WallItem& item, GiornataId id) : item_(item) {
    const Network& n = item.network;
    const auto contacts = contacts_by_half_edge(cut_contacts(n, *item.wall->chart));
    for (const FaceId f : n.faces_of(id))
      for (const auto& cycle : n.cycles(f))
        for (const HalfEdgeId h : cycle) {
          const auto [first, last] = contacts.equal_range(h);
          const bool inside = std::any_of(
              first, last, [&](const auto& c) { return n.face(n.half_edge(c.second.there).face).owner == id; });
          if (!inside) edges_.push_back({to_vec(to_chart(n.origin(h))), to_vec(to_chart(n.target(h)))});
        }
  }

  struct Near {
    ChartPoint at;
    double m = 0;  // on the surface
  };
  Near nearest(ChartPoint p) const {
    Vec2 best{};
    double least = -1;
    for (const auto& [a, b] : edges_) {
      const Vec2 along = b - a, to = to_vec(p) - a;
      const double t = std::clamp(glm::dot(along, to) / glm::dot(along, along), 0.0, 1.0);
      const Vec2 off = to - along * t;
      if (const double d = glm::dot(off, off); least < 0 || d < least) least = d, best = a + along * t;
    }
    return {to_chart(best), length(p, to_chart(best))};
  }

 private:
  double length(ChartPoint a, ChartPoint b) const {
    const LatticePoint from = to_lattice(a), to = to_lattice(b);
    if (from == to) return 0;
    return length_of(*item_.wall, std::vector<CutPiece>{{{from, to}, {}, {}}}, false);
  }

  const WallItem& item_;
  std::vector<std::pair<Vec2, Vec2>> edges_;
};

// An end of the line is led on to the rim.
Outcome lead_to_rim(const Rim& rim, Places& line, bool front, const std::string& name) {
  const ChartPoint end = front ? line.front() : line.back();
  const auto near = rim.nearest(end);
  if (near.m > kCutReach)
    return Problem{fmt::format("the line cut ends {:.0f} mm from the rim of {}", near.m * 1000, name), place_words(end),
                   "Draw it from rim to rim, or all round what was painted, ending where it began."};
  if (near.m > 0) line.insert(front ? line.begin() : line.end(), near.at);
  return Done{};
}

// The outline as a ring of close places; crossings of cuts of the chart stand there from both sides.
Result<Places> close_places(const WallItem& item, const Places& outline) {
  const auto pieces = led(item, outline, true);
  if (!pieces) return pieces.problem();
  Places places;
  const auto add = [&](LatticePoint from, LatticePoint to) {
    const Vec2 a = to_vec(to_chart(from)), b = to_vec(to_chart(to));
    const int steps = std::max(1, static_cast<int>(std::ceil(glm::distance(a, b) / kStep)));
    for (int i = 0; i < steps; ++i) places.push_back(to_chart(a + (b - a) * (static_cast<double>(i) / steps)));
  };
  for (const CutPiece& piece : *pieces) {
    for (std::size_t i = 0; i + 1 < piece.points.size(); ++i) add(piece.points[i], piece.points[i + 1]);
    if (piece.ends)
      places.push_back(to_chart(piece.points.back()));
    else
      add(piece.points.back(), piece.points.front());
  }
  return places;
}

// Stretches of a ring of places that keep away from the rim, each led on to it at both ends.
Result<std::vector<Places>> free_stretches(const Rim& rim, const Places& ring, const std::string& name) {
  std::vector<char> on_rim;
  for (const ChartPoint p : ring) on_rim.push_back(rim.nearest(p).m <= kCutReach);
  const auto first = std::ranges::find(on_rim, char{1});
  if (first == on_rim.end())
    return Problem{"what was painted meets the rim of " + name + " nowhere", place_words(ring.front()),
                   "Draw the line that was cut from rim to rim."};
  const auto start = static_cast<std::size_t>(first - on_rim.begin());
  std::vector<Places> stretches;
  Places run;
  for (std::size_t k = 0; k <= ring.size(); ++k) {
    const std::size_t i = (start + k) % ring.size();
    if (!on_rim[i]) {
      if (run.empty()) run.push_back(rim.nearest(ring[(i + ring.size() - 1) % ring.size()]).at);
      run.push_back(ring[i]);
    } else if (!run.empty()) {
      run.push_back(rim.nearest(ring[i]).at);
      stretches.push_back(std::move(run));
      run.clear();
    }
  }
  if (stretches.empty())
    return Problem{"the line cut leaves nothing of " + name + " to cut away", "",
                   "Leave it out where the giornata was painted whole."};
  return stretches;
}

// Each part under an owner of its own.
class Parts {
 public:
  Parts(const Document& doc, const WallItem& item, GiornataId whole)
      : item_(item), network_(item.network), next_(next_giornata(doc)), ids_{whole} {}

  Outcome divide(const Places& line) {
    const auto pieces = led(item_, line, false);
    if (!pieces) return pieces.problem();
    std::optional<Problem> refused;
    for (const GiornataId id : ids_) {
      auto divided =
          divide_giornata(network_, id, *pieces, next_, item_.wall->metric->meter(), item_.wall->chart.get());
      if (!divided) {
        if (!refused) refused = divided.problem();
        continue;
      }
      network_ = std::move(*divided);
      ids_.push_back(next_);
      ++next_.value;
      return Done{};
    }
    return *refused;
  }

  double area(GiornataId id) const {
    std::int64_t sum = 0;
    for (const FaceId f : network_.faces_of(id)) sum += network_.sums(f).area;
    return static_cast<double>(sum);
  }
  GiornataId largest() const {
    return *std::ranges::max_element(ids_, {}, [&](GiornataId id) { return area(id); });
  }
  std::optional<GiornataId> at(ChartPoint p) const {
    const GiornataId owner = network_.owner_at(to_lattice(p));
    return std::ranges::find(ids_, owner) != ids_.end() ? std::optional(owner) : std::nullopt;
  }
  std::vector<GiornataId> inside(std::span<const Ring> rings) const {
    std::vector<GiornataId> found;
    for (const GiornataId id : ids_) {
      const LatticePoint p = to_lattice(network_.place_inside(network_.faces_of(id).front()));
      if (std::ranges::any_of(rings, [&](const Ring& r) { return point_in_ring(r, p) > 0; })) found.push_back(id);
    }
    return found;
  }

  // `painted` under the giornata's own id, the others the largest first.
  EveningCut take(GiornataId painted) {
    const GiornataId whole = ids_.front();
    if (painted != whole) network_ = swapped_owners(network_, whole, painted, item_.wall->metric->meter());
    std::vector<GiornataId> rests(ids_.begin() + 1, ids_.end());
    std::ranges::stable_sort(rests, std::greater<>(), [&](GiornataId id) { return area(id); });
    return {std::move(network_), std::move(rests)};
  }

 private:
  const WallItem& item_;
  Network network_;
  GiornataId next_;
  std::vector<GiornataId> ids_;
};

Result<EveningCut> cut_by_outline(const WallItem& item, const Rim& rim, Parts parts, Places outline,
                                  const std::string& name) {
  outline.pop_back();
  if (outline.size() < 3) return Problem{"an outline needs at least 3 points", item.name, "Give more points."};
  const auto rings = enclosed(item, outline);
  if (!rings) return rings.problem();
  const auto ring = close_places(item, outline);
  if (!ring) return ring.problem();
  const auto lines = free_stretches(rim, *ring, name);
  if (!lines) return lines.problem();
  for (const Places& line : *lines)
    if (const auto done = parts.divide(line); !done) return done.problem();
  const auto painted = parts.inside(*rings);
  if (painted.size() == 1) return parts.take(painted.front());
  return Problem{painted.empty() ? "nothing of " + name + " lies inside the line cut"
                                 : "what was painted of " + name + " falls apart",
                 place_words(outline.front()), "Draw round one part of the giornata."};
}

}  // namespace

Result<EveningCut> cut_in_evening(const Document& doc, const Giornata& giornata, const Places& cut,
                                  std::optional<ChartPoint> painted) {
  const WallItem& item = *doc.wall(giornata.wall);
  const std::string name = "giornata " + label_of(giornata);
  for (const ChartPoint p : cut)
    if (!fits_lattice(p)) return Problem{"the line cut has a place far outside the wall", name, "Draw it on the wall."};
  if (cut.size() < 2) return Problem{"a line that was cut needs at least 2 places", name, "Give more places."};
  const Rim rim(item, giornata.id);
  Parts parts(doc, item, giornata.id);
  const bool closed = cut.size() > 2 && glm::distance(to_vec(cut.front()), to_vec(cut.back())) < kClosed;
  if (closed) return cut_by_outline(item, rim, std::move(parts), cut, name);
  Places line = cut;
  for (const bool front : {true, false})
    if (const auto good = lead_to_rim(rim, line, front, name); !good) return good.problem();
  if (const auto done = parts.divide(line); !done) return done.problem();
  const auto side = painted ? parts.at(*painted) : parts.largest();
  if (!side)
    return Problem{"the place said to be painted lies on no side of the line, or outside " + name,
                   place_words(*painted), "Give a place well inside what was painted."};
  return parts.take(*side);
}

}  // namespace pontata
