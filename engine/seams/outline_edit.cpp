#include "engine/seams/outline_edit.h"

#include <stdexcept>

#include "engine/seams/least_piece.h"
#include "engine/seams/outline_rings.h"
#include "engine/seams/ring_claim.h"

namespace pontata {

namespace {

Problem nothing_left(bool overlap) {
  if (!overlap) return outside_wall();
  return {"Everything inside this outline already belongs to other giornate", "",
          "Draw over free wall, or remove or divide the giornata that lies there."};
}

// Gives pieces other than the first back to the rest: the new seams around them go.
bool drop(NetworkEditor& editor, const std::vector<Piece>& pieces, std::vector<OutlineResult::Dropped>& dropped) {
  const Network& n = editor.network();
  std::vector<FaceId> faces;
  for (std::size_t i = 1; i < pieces.size(); ++i) {
    const Piece& piece = pieces[i];
    if (piece.area >= kLeastUnits) dropped.push_back({area_m2(n, piece.faces), n.place_inside(piece.faces[0])});
    for (const FaceId f : piece.faces) editor.set_owner(f, {});
    faces.insert(faces.end(), piece.faces.begin(), piece.faces.end());
  }
  return open_seams(editor, idle_seams(n, faces));
}

}  // namespace

Result<OutlineResult> insert_outlines(const Network& network, std::span<const Ring> outlines, GiornataId id,
                                      const EdgeMeter& meter, const Chart* chart) {
  if (!id || !network.faces_of(id).empty()) throw std::invalid_argument("insert_outlines: the id is none or in use");
  const auto rings = clean_outlines(outlines);
  if (!rings) return rings.problem();
  const ClaimRule rule{[](GiornataId owner) { return !owner; }, [&](GiornataId) { return id; }};
  OutlineResult result;
  Network claimed = network;
  for (const Ring& ring : *rings) {
    const auto others = claim(claimed, ring, rule, meter);
    if (!others) return others.problem();
    result.overlap_given_up |= !others->empty();
  }
  const auto pieces = pieces_of(claimed, claimed.faces_of(id), chart);
  if (pieces.empty()) return nothing_left(result.overlap_given_up);
  if (pieces[0].area < kLeastUnits) return too_small(pieces[0].area, result.overlap_given_up);
  NetworkEditor editor(std::move(claimed), meter);
  if (!drop(editor, pieces, result.dropped)) return too_close();
  for (const FaceId f : pieces[0].faces)
    if (!absorb_slivers(editor, f)) return too_close();
  result.area_m2 = area_m2(editor.network(), editor.network().faces_of(id));
  result.network = editor.take();
  return result;
}

Result<OutlineResult> insert_outline(const Network& network, const Ring& outline, GiornataId id,
                                     const EdgeMeter& meter) {
  return insert_outlines(network, std::span(&outline, 1), id, meter);
}

}  // namespace pontata
