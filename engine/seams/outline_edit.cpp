#include "engine/seams/outline_edit.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>

#include "engine/base/predicates.h"
#include "engine/seams/cut_contacts.h"
#include "engine/seams/least_piece.h"
#include "engine/seams/network_cut.h"

namespace pontata {

namespace {

bool is_rest(const Network& n, FaceId f) { return f != Network::kOutside && !n.face(f).owner; }

LatticePoint meeting_place(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d) {
  return segments_cross(a, b, c, d) ? rounded_crossing(a, b, c, d) : c;
}

Problem crosses_itself(LatticePoint place) {
  return {"The outline crosses or touches itself", place_name(place),
          "Draw it so that it goes once around the giornata."};
}

// A place where two rings of one outline meet.
std::optional<LatticePoint> rings_meet(const Ring& one, const Ring& two) {
  for (std::size_t i = 0; i < one.size(); ++i) {
    const LatticePoint a = one[i], b = one[(i + 1) % one.size()];
    for (std::size_t j = 0; j < two.size(); ++j) {
      const LatticePoint c = two[j], d = two[(j + 1) % two.size()];
      if (std::max(a.x, b.x) < std::min(c.x, d.x) || std::max(c.x, d.x) < std::min(a.x, b.x)) continue;
      if (segments_meet(a, b, c, d)) return meeting_place(a, b, c, d);
    }
  }
  return std::nullopt;
}

// The outline counter-clockwise and without repeated points, or what is wrong with it.
Result<Ring> clean_outline(const Ring& outline) {
  Ring ring;
  for (const auto& p : outline) {
    if (std::abs(p.x) >= kLatticeLimit || std::abs(p.y) >= kLatticeLimit)
      return Problem{"The outline has a point far outside the wall", place_name(p), "Draw it on the wall."};
    if (ring.empty() || p != ring.back()) ring.push_back(p);
  }
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  if (ring.size() < 3)
    return Problem{"The outline has fewer than 3 different points", "", "Give at least 3 points around the giornata."};
  if (const auto hit = find_self_crossing(ring); hit.first >= 0) {
    const auto at = [&](int i) { return ring[static_cast<std::size_t>(i) % ring.size()]; };
    return crosses_itself(meeting_place(at(hit.first), at(hit.first + 1), at(hit.second), at(hit.second + 1)));
  }
  if (twice_area(ring) < 0) std::reverse(ring.begin(), ring.end());
  return ring;
}

struct Box {
  LatticePoint lo, hi;
  bool has(LatticePoint p) const { return lo.x <= p.x && p.x <= hi.x && lo.y <= p.y && p.y <= hi.y; }
};

// Rest faces inside the outline after it was laid and settled. Where the outline runs along a face's rim that tells;
// a face it does not run along lies wholly inside or outside.
class Pieces {
 public:
  Pieces(const NetworkEditor& editor, const Ring& ring, const LaidLine& laid) : network_(editor.network()) {
    for (const auto& p : ring) ring_.push_back({2 * p.x, 2 * p.y});
    box_ = {ring_[0], ring_[0]};
    for (const auto& p : ring_) {
      box_.lo = {std::min(box_.lo.x, p.x), std::min(box_.lo.y, p.y)};
      box_.hi = {std::max(box_.hi.x, p.x), std::max(box_.hi.y, p.y)};
    }
    for (const auto* list : {&laid.fresh, &laid.shared})
      for (const auto& [a, b] : *list)
        if (const auto h = editor.edge_between(a, b)) {
          along_.insert(*h);
          note(*h, true);
          note(Network::twin(*h), false);
        }
  }

  // False when one face came out both inside and outside.
  bool find() {
    for (std::uint32_t i = 1; i < network_.face_slots(); ++i) {
      const FaceId f{i};
      if (!network_.face(f).alive || !is_rest(network_, f)) continue;
      const auto known = inside_.find(f);
      if (known == inside_.end() ? wholly_inside(f) : known->second) found_.push_back(f);
    }
    return sound_;
  }

  const std::vector<FaceId>& found() const { return found_; }

  // A piece borders a giornata that the outline goes around.
  bool surrounds_giornata() const {
    for (const FaceId f : found_)
      for (const auto& cycle : network_.cycles(f))
        for (const HalfEdgeId h : cycle) {
          const FaceId other = network_.half_edge(Network::twin(h)).face;
          if (other != Network::kOutside && network_.face(other).owner && !along_.count(h)) return true;
        }
    return false;
  }

 private:
  void note(HalfEdgeId h, bool inside) {
    const FaceId f = network_.half_edge(h).face;
    if (!is_rest(network_, f)) return;
    const auto [it, fresh] = inside_.emplace(f, inside);
    if (!fresh && it->second != inside) sound_ = false;
  }

  bool wholly_inside(FaceId f) const {
    HalfEdgeId h = network_.face(f).outer;
    const HalfEdgeId first = h;
    do {
      const LatticePoint a = network_.origin(h), b = network_.target(h), middle{a.x + b.x, a.y + b.y};
      if (!box_.has(middle)) return false;
      if (const int side = point_in_ring(ring_, middle); side != 0) return side > 0;
      h = network_.half_edge(h).next;
    } while (h != first);
    return false;
  }

  const Network& network_;
  Ring ring_;  // in half pitches
  Box box_;
  std::set<HalfEdgeId> along_;
  std::map<FaceId, bool> inside_;
  std::vector<FaceId> found_;
  bool sound_ = true;
};

Problem too_close() {
  return {"The outline runs too close to other seams to be cut in cleanly", "",
          "Let it follow the existing seam, or keep a millimetre away from it."};
}

Problem nothing_left(bool overlap) {
  if (!overlap) return {"The outline lies outside the wall", "", "Draw it on the wall."};
  return {"Everything inside this outline already belongs to other giornate", "",
          "Draw over free wall, or remove or divide the giornata that lies there."};
}

Problem too_small(std::int64_t area, bool overlap) {
  return {fmt::format("Only {} cm² {}", small_cm2(area),
                      overlap ? "of this outline is left beside earlier giornate" : "lies inside this outline"),
          "", "A giornata needs at least 1 cm²; draw a larger outline."};
}

// Makes all rest inside one ring the new giornata's. Says whether some of it lay on others.
Result<bool> claim(Network& network, const Ring& outline, GiornataId id, const EdgeMeter& meter) {
  const auto snapped = snap_line(network, outline, true);
  if (!snapped) return too_close();
  const Wanted wanted = [&](FaceId f) { return is_rest(network, f); };
  auto full = lay_line(network, meter, snapped->courses, net_stretches(snapped->line, true), wanted);
  if (!full) return too_close();
  LaidLine laid = lay_lean(network, meter, snapped->courses, std::move(*full), wanted);
  NetworkEditor& editor = laid.editor;
  if (!editor.settle() || !editor.measure_new()) return too_close();
  Pieces pieces(editor, snapped->line, laid);
  if (!pieces.find()) return too_close();
  const bool overlap = laid.elsewhere || pieces.surrounds_giornata();
  for (const FaceId f : pieces.found()) editor.set_owner(f, id);
  network = editor.take();
  return overlap;
}

// Faces that are one piece, across cuts too.
struct Piece {
  std::int64_t area = 0;
  std::vector<FaceId> faces;
};

// What the new giornata fell into, largest first.
std::vector<Piece> pieces_of(const Network& network, GiornataId id, const Chart* chart) {
  const auto contacts = chart ? cut_contacts(network, *chart) : std::vector<CutContact>{};
  std::vector<Piece> found;
  for (auto& faces : joined_across(network, network.faces_of(id), contacts)) {
    Piece piece{0, std::move(faces)};
    for (const FaceId f : piece.faces) piece.area += network.sums(f).area;
    found.push_back(std::move(piece));
  }
  std::sort(found.begin(), found.end(),
            [](const Piece& a, const Piece& b) { return a.area != b.area ? a.area > b.area : a.faces < b.faces; });
  return found;
}

// Gives pieces other than the first back to the rest: the new seams around them go.
bool drop(NetworkEditor& editor, const std::vector<Piece>& pieces, std::vector<OutlineResult::Dropped>& dropped) {
  const Network& n = editor.network();
  for (std::size_t i = 1; i < pieces.size(); ++i)
    for (const FaceId f : pieces[i].faces) editor.set_owner(f, {});
  std::set<SeamId> open;
  for (std::size_t i = 1; i < pieces.size(); ++i) {
    const auto& [area, faces] = pieces[i];
    if (area >= kLeastUnits) dropped.push_back({static_cast<double>(area) * kAreaUnit, n.place_inside(faces[0])});
    for (const FaceId f : faces)
      for (const auto& cycle : n.cycles(f))
        for (const HalfEdgeId h : cycle)
          if (is_rest(n, n.half_edge(Network::twin(h)).face)) open.insert(Network::seam_of(h));
  }
  for (const SeamId s : open) editor.open_seam(s);
  return open.empty() || editor.settle();
}

// Rest beside the new giornata that only rounding left between it and its neighbours goes to it, so that they share
// their seam.
bool absorb_slivers(NetworkEditor& editor, FaceId made) {
  const Network& n = editor.network();
  const GiornataId id = n.face(made).owner;
  std::set<FaceId> beside;
  for (const auto& cycle : n.cycles(made))
    for (const HalfEdgeId h : cycle)
      if (const FaceId f = n.half_edge(Network::twin(h)).face; is_rest(n, f)) beside.insert(f);
  std::set<SeamId> open;
  for (const FaceId f : beside) {
    const FaceSums sums = n.sums(f);
    if (static_cast<double>(sums.area) * kAreaUnit > kSliverWidth * sums.perimeter_m) continue;
    editor.set_owner(f, id);
    for (const HalfEdgeId h : n.cycle(n.face(f).outer))
      if (n.face(n.half_edge(Network::twin(h)).face).owner == id) open.insert(Network::seam_of(h));
  }
  for (const SeamId s : open) editor.open_seam(s);
  return open.empty() || editor.settle();
}

Result<std::vector<Ring>> clean_outlines(std::span<const Ring> outlines) {
  std::vector<Ring> rings;
  for (const Ring& outline : outlines) {
    auto ring = clean_outline(outline);
    if (!ring) return ring.problem();
    for (const Ring& other : rings)
      if (const auto place = rings_meet(*ring, other)) return crosses_itself(*place);
    rings.push_back(std::move(*ring));
  }
  return rings;
}

}  // namespace

Result<OutlineResult> insert_outlines(const Network& network, std::span<const Ring> outlines, GiornataId id,
                                      const EdgeMeter& meter, const Chart* chart) {
  if (!id || !network.faces_of(id).empty()) throw std::invalid_argument("insert_outlines: the id is none or in use");
  const auto rings = clean_outlines(outlines);
  if (!rings) return rings.problem();
  OutlineResult result;
  Network claimed = network;
  for (const Ring& ring : *rings) {
    const auto overlap = claim(claimed, ring, id, meter);
    if (!overlap) return overlap.problem();
    result.overlap_given_up |= *overlap;
  }
  const auto pieces = pieces_of(claimed, id, chart);
  if (pieces.empty()) return nothing_left(result.overlap_given_up);
  if (pieces[0].area < kLeastUnits) return too_small(pieces[0].area, result.overlap_given_up);
  NetworkEditor editor(std::move(claimed), meter);
  if (!drop(editor, pieces, result.dropped)) return too_close();
  for (const FaceId f : pieces[0].faces)
    if (!absorb_slivers(editor, f)) return too_close();
  for (const FaceId f : editor.network().faces_of(id))
    result.area_m2 += static_cast<double>(editor.network().sums(f).area) * kAreaUnit;
  result.network = editor.take();
  return result;
}

Result<OutlineResult> insert_outline(const Network& network, const Ring& outline, GiornataId id,
                                     const EdgeMeter& meter) {
  return insert_outlines(network, std::span(&outline, 1), id, meter);
}

}  // namespace pontata
