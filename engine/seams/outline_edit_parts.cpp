// Edits of giornate that are there already: taking away and joining; and what giornate share.
#include <algorithm>
#include <map>

#include "engine/seams/cut_contacts.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/ring_claim.h"

namespace pontata {

namespace {

Problem no_such() { return {"There is no such giornata on this wall", "", "Choose one of its giornate."}; }
Problem cannot_open() {
  return {"The seams there run too close together to be taken away", "", "Take another giornata away first."};
}

GiornataId owner_of(const Network& n, HalfEdgeId h) { return n.face(n.half_edge(h).face).owner; }

// The two touch across a cut of the chart.
bool touch_across(const Network& network, const Chart* chart, GiornataId one, GiornataId two) {
  if (!chart) return false;
  const auto contacts = cut_contacts(network, *chart);
  return std::any_of(contacts.begin(), contacts.end(), [&](const CutContact& c) {
    const GiornataId a = owner_of(network, c.here), b = owner_of(network, c.there);
    return (a == one && b == two) || (a == two && b == one);
  });
}

}  // namespace

Result<Network> remove_giornata(const Network& network, GiornataId id, const EdgeMeter& meter) {
  const auto faces = network.faces_of(id);
  if (!id || faces.empty()) return no_such();
  NetworkEditor editor(network, meter);
  for (const FaceId f : faces) editor.set_owner(f, {});
  if (!open_seams(editor, idle_seams(editor.network(), faces))) return cannot_open();
  return editor.take();
}

Result<Network> join_giornate(const Network& network, GiornataId keep, GiornataId other, const EdgeMeter& meter,
                              const Chart* chart) {
  const auto faces = network.faces_of(other);
  if (!keep || !other || faces.empty() || network.faces_of(keep).empty()) return no_such();
  if (keep == other) return Problem{"A giornata cannot be joined to itself", "", "Choose two giornate side by side."};
  NetworkEditor editor(network, meter);
  for (const FaceId f : faces) editor.set_owner(f, keep);
  const auto between = idle_seams(editor.network(), faces);
  if (between.empty() && !touch_across(network, chart, keep, other))
    return Problem{"These two giornate share no seam", "", "Only giornate that lie side by side can be joined."};
  if (!open_seams(editor, between)) return cannot_open();
  return editor.take();
}

std::vector<SharedSeam> shared_seams(const Network& network, const Chart* chart) {
  std::map<std::pair<GiornataId, GiornataId>, double> lengths;
  const auto add = [&](GiornataId a, GiornataId b, double length) {
    if (a != b) lengths[std::minmax(a, b)] += length;
  };
  for (std::uint32_t s = 0; s < network.half_edge_slots() / 2; ++s)
    if (network.alive(SeamId{s}) && !network.on_border({s}))
      add(owner_of(network, {s << 1}), owner_of(network, {(s << 1) | 1u}), network.seam({s}).length_m);
  if (chart)
    for (const CutContact& c : cut_contacts(network, *chart))
      add(owner_of(network, c.here), owner_of(network, c.there), c.length_m);
  std::vector<SharedSeam> found;
  for (const auto& [pair, length] : lengths)
    if (length > 0) found.push_back({pair.first, pair.second, length});
  return found;
}

}  // namespace pontata
