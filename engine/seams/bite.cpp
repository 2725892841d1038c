#include "engine/seams/bite.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "engine/seams/least_piece.h"
#include "engine/seams/outline_rings.h"
#include "engine/seams/ring_claim.h"

namespace pontata {

namespace {

// While it is not settled which pieces are kept, what the outlines cover is owned by marks that tell whose it was.
constexpr std::uint32_t kMark = 1u << 31;
bool is_mark(GiornataId owner) { return (owner.value & kMark) != 0; }
GiornataId marked(GiornataId owner) { return {owner.value | kMark}; }
GiornataId unmarked(GiornataId mark) { return {mark.value & ~kMark}; }

constexpr const char* kHeldRemedy = "Draw over other ground; what is painted keeps its seams.";

class Biter {
 public:
  Biter(GiornataId id, const EdgeMeter& meter, const Chart* chart, const SeamHold& hold, const SeamNames& names)
      : id_(id), meter_(meter), chart_(chart), hold_(hold), names_(names) {}

  Result<Bite> run(const Network& network, std::span<const Ring> rings, const std::function<GiornataId()>& next_id);

 private:
  const std::string& held(GiornataId g);
  Outcome claim_all(Network& network, std::span<const Ring> rings);
  Outcome give_back_slivers(NetworkEditor& editor);
  std::vector<FaceId> marked_faces(const Network& network) const;
  Result<std::vector<FaceId>> choose(const Network& network);
  Outcome hand_over(NetworkEditor& editor, const std::vector<FaceId>& kept);
  std::set<GiornataId> may_be_parted(const Network& before, const Network& now) const;
  bool beside_taker(const Network& network, const Piece& piece) const;
  bool give_crumb(NetworkEditor& editor, GiornataId from, const Piece& piece);
  Outcome part_bitten(const Network& before, NetworkEditor& editor, const std::function<GiornataId()>& next_id);
  Problem nothing_taken() const;
  Problem would_vanish(const Network& before, GiornataId g, std::int64_t area) const;

  const GiornataId id_;
  const EdgeMeter& meter_;
  const Chart* chart_;
  const SeamHold& hold_;
  const SeamNames& names_;
  std::map<GiornataId, std::string> why_;  // asked already
  std::set<GiornataId> others_;            // inside the outlines, keeping their ground
  bool in_use_ = false;
  Bite bite_;
};

const std::string& Biter::held(GiornataId g) {
  const auto [it, fresh] = why_.try_emplace(g);
  if (fresh && hold_) it->second = hold_(g);
  return it->second;
}

// Marks what the rings cover.
Outcome Biter::claim_all(Network& network, std::span<const Ring> rings) {
  const ClaimRule rule{
      [&](GiornataId owner) { return !owner || (owner != id_ && !is_mark(owner) && held(owner).empty()); }, marked};
  for (const Ring& ring : rings) {
    const auto others = claim(network, ring, rule, meter_);
    if (!others) return others.problem();
    for (const GiornataId other : *others)
      if (!is_mark(other)) others_.insert(other);
  }
  for (const GiornataId other : others_) bite_.overlap_given_up |= other != id_;
  return Done{};
}

std::vector<FaceId> Biter::marked_faces(const Network& network) const {
  std::vector<FaceId> found;
  for (const FaceId f : network.faces())
    if (is_mark(network.face(f).owner)) found.push_back(f);
  return found;
}

// An outline along a giornata's rim runs over it by rounding.
Outcome Biter::give_back_slivers(NetworkEditor& editor) {
  const Network& n = editor.network();
  std::vector<FaceId> slivers;
  for (const FaceId f : marked_faces(n))
    if (unmarked(n.face(f).owner) && is_sliver(n.sums(f))) slivers.push_back(f);
  for (const FaceId f : slivers) editor.set_owner(f, unmarked(n.face(f).owner));
  if (!open_seams(editor, idle_seams(n, slivers))) return too_close();
  return Done{};
}

Problem Biter::nothing_taken() const {
  for (const GiornataId other : others_)
    if (other != id_) return {why_.at(other), "", kHeldRemedy};
  if (others_.count(id_))
    return {"The outline lies wholly inside the giornata it is added to", "", "Draw over its rim."};
  return outside_wall();
}

// The marked faces that go to the giornata; the others become dropped pieces.
Result<std::vector<FaceId>> Biter::choose(const Network& network) {
  const auto covered = marked_faces(network);
  if (covered.empty()) return nothing_taken();
  std::vector<FaceId> all = covered;
  const auto own = network.faces_of(id_);
  all.insert(all.end(), own.begin(), own.end());
  const auto pieces = pieces_of(network, all, chart_);
  const auto is_own = [&](FaceId f) { return network.face(f).owner == id_; };
  std::vector<FaceId> kept;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const auto& [area, faces] = pieces[i];
    if (in_use_ ? std::any_of(faces.begin(), faces.end(), is_own) : i == 0)
      std::copy_if(faces.begin(), faces.end(), std::back_inserter(kept), [&](FaceId f) { return !is_own(f); });
    else if (area >= kLeastUnits)
      bite_.dropped.push_back({area_m2(network, faces), network.place_inside(faces[0])});
  }
  if (in_use_ && kept.empty())
    return Problem{"The outline does not touch the giornata it is added to",
                   place_name(network.origin(network.face(covered[0]).outer)), "Draw it over that giornata's rim."};
  if (!in_use_ && pieces[0].area < kLeastUnits) return too_small(pieces[0].area, bite_.overlap_given_up);
  return kept;
}

Outcome Biter::hand_over(NetworkEditor& editor, const std::vector<FaceId>& kept) {
  const Network& n = editor.network();
  const auto covered = marked_faces(n);
  std::map<GiornataId, std::int64_t> taken;
  for (const FaceId f : kept) {
    if (const GiornataId from = unmarked(n.face(f).owner)) taken[from] += n.sums(f).area;
    editor.set_owner(f, id_);
  }
  for (const FaceId f : covered)
    if (is_mark(n.face(f).owner)) editor.set_owner(f, unmarked(n.face(f).owner));
  for (const auto& [from, area] : taken) bite_.taken.push_back({from, static_cast<double>(area) * kAreaUnit});
  if (!open_seams(editor, idle_seams(n, covered))) return too_close();
  return Done{};
}

Problem Biter::would_vanish(const Network& before, GiornataId g, std::int64_t area) const {
  const std::string who = names_ ? names_(g) : "a giornata";
  const ChartPoint at = before.place_inside(before.faces_of(g)[0]);
  return {area > 0 ? fmt::format("Only {} cm² would be left of {}", small_cm2(area), who)
                   : fmt::format("Nothing would be left of {}", who),
          place_name(to_lattice(at)), "Join it or take it away first, or leave 1 cm² of it."};
}

std::map<GiornataId, std::size_t> face_counts(const Network& n) {
  std::map<GiornataId, std::size_t> count;
  for (const FaceId f : n.faces()) ++count[n.face(f).owner];
  return count;
}

// Those that lost ground; and those that rounding parted at a neck of a pitch, where seams beside were led together.
std::set<GiornataId> Biter::may_be_parted(const Network& before, const Network& now) const {
  std::set<GiornataId> found;
  for (const Bite::Taken& t : bite_.taken) found.insert(t.from);
  const auto was = face_counts(before);
  for (const auto& [g, count] : face_counts(now))
    if (const auto it = was.find(g); g && g != id_ && it != was.end() && count > it->second) found.insert(g);
  return found;
}

bool Biter::beside_taker(const Network& n, const Piece& piece) const {
  for (const FaceId f : piece.faces)
    for (const auto& cycle : n.cycles(f))
      for (const HalfEdgeId h : cycle)
        if (n.face(n.half_edge(Network::twin(h)).face).owner == id_) return true;
  return false;
}

// To the taker where it lies beside; a tip that rounding cut off elsewhere goes to what it lies beside. False where
// that is nothing.
bool Biter::give_crumb(NetworkEditor& editor, GiornataId from, const Piece& piece) {
  const Network& n = editor.network();
  const bool to_taker = beside_taker(n, piece);
  for (const FaceId f : piece.faces) {
    const auto owner = to_taker ? std::optional(id_) : nearest_owner(n, f);
    if (!owner) return false;
    if (to_taker && !is_sliver(n.sums(f))) {
      auto it = std::lower_bound(bite_.taken.begin(), bite_.taken.end(), from,
                                 [](const Bite::Taken& t, GiornataId g) { return t.from < g; });
      if (it == bite_.taken.end() || it->from != from) it = bite_.taken.insert(it, {from, 0});
      it->area_m2 += static_cast<double>(n.sums(f).area) * kAreaUnit;
    }
    editor.set_owner(f, *owner);
  }
  return true;
}

// What a bite left of each giornata in pieces: the largest keeps its name, the small ones go too, the others are new.
Outcome Biter::part_bitten(const Network& before, NetworkEditor& editor, const std::function<GiornataId()>& next_id) {
  const Network& n = editor.network();
  std::map<GiornataId, std::vector<Piece>> left;
  for (const GiornataId g : may_be_parted(before, n)) {
    left[g] = pieces_of(n, n.faces_of(g), chart_);
    const std::int64_t most = left[g].empty() ? 0 : left[g][0].area;
    if (most < kLeastUnits) return would_vanish(before, g, most);
  }
  std::vector<FaceId> small;
  for (const auto& [g, pieces] : left)
    for (std::size_t k = 1; k < pieces.size(); ++k) {
      const auto& [area, faces] = pieces[k];
      if (area < kLeastUnits) {
        small.insert(small.end(), faces.begin(), faces.end());
        if (!give_crumb(editor, g, pieces[k])) return too_close();
        continue;
      }
      const GiornataId id = next_id();
      bite_.parts.push_back({g, id, static_cast<double>(area) * kAreaUnit});
      for (const FaceId f : faces) editor.set_owner(f, id);
    }
  if (!open_seams(editor, idle_seams(n, small))) return too_close();
  return Done{};
}

Result<Bite> Biter::run(const Network& network, std::span<const Ring> rings,
                        const std::function<GiornataId()>& next_id) {
  in_use_ = !network.faces_of(id_).empty();
  if (in_use_ && !held(id_).empty()) return Problem{held(id_), "", kHeldRemedy};
  Network claimed = network;
  if (const auto done = claim_all(claimed, rings); !done) return done.problem();
  NetworkEditor editor(std::move(claimed), meter_);
  if (const auto done = give_back_slivers(editor); !done) return done.problem();
  const auto kept = choose(editor.network());
  if (!kept) return kept.problem();
  if (const auto done = hand_over(editor, *kept); !done) return done.problem();
  if (const auto done = part_bitten(network, editor, next_id); !done) return done.problem();
  for (const FaceId f : editor.network().faces_of(id_))
    if (!absorb_slivers(editor, f)) return too_close();
  bite_.area_m2 = area_m2(editor.network(), editor.network().faces_of(id_));
  bite_.network = editor.take();
  return std::move(bite_);
}

}  // namespace

Result<Bite> take_bite(const Network& network, std::span<const Ring> outlines, GiornataId id,
                       const std::function<GiornataId()>& next_id, const EdgeMeter& meter, const Chart* chart,
                       const SeamHold& hold, const SeamNames& names) {
  if (!id || is_mark(id)) throw std::invalid_argument("take_bite: the id is none or too large");
  const auto rings = clean_outlines(outlines);
  if (!rings) return rings.problem();
  return Biter(id, meter, chart, hold, names).run(network, *rings, next_id);
}

}  // namespace pontata
