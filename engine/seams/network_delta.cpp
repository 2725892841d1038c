#include "engine/seams/network_delta.h"

#include <algorithm>
#include <bit>
#include <initializer_list>

#include "engine/seams/network_delta_guesses.h"
#include "engine/seams/network_editor.h"

namespace pontata {

namespace {

std::uint32_t id_of(std::int64_t number) { return number < 0 ? kNone : static_cast<std::uint32_t>(number); }

// An id that is often one of a few candidates.
struct PickChances {
  std::array<Chance, 6> is;
  NumberChances else_;
};

// Contexts of every kind of number in a delta.
struct Chances {
  NumberChances sizes, gap_seam, gap_vertex, gap_face, origin, prev, label, owner, inner_count, odd;
  NumberChances dx, dy, area, bend, gauss, length;
  PickChances chain_seam, chain_vertex, next_seam, out_seam, rim_seam;
  std::array<Chance, 3> seam_lives, vertex_lives, face_lives;  // by what the slot was before
  std::array<Chance, 4> next_side, out_side;
  Chance plain, same_next, same_out, follows_twin, same_place, same_measure, same_rim, plain_vertex, rim_side;
};

template <class Coder>
class DeltaCoder : DeltaGuesses {
 public:
  DeltaCoder(Coder& coder, NetworkDelta& delta, const Network& from, const EdgeMeter& meter)
      : DeltaGuesses(delta, from), coder_(coder), d_(delta), meter_(meter) {}

  void run() {
    sizes();
    slots(d_.seam_at, chances_.gap_seam);
    slots(d_.vertex_at, chances_.gap_vertex);
    slots(d_.face_at, chances_.gap_face);
    d_.half.resize(2 * d_.seam_at.size());
    d_.measure.resize(d_.seam_at.size());
    d_.vertex.resize(d_.vertex_at.size());
    d_.face.resize(d_.face_at.size());
    index();
    which_live();
    dead_seams();
    nexts();
    prevs();
    outs();
    origins();
    faces();
    labels();
    places();
    measures();
  }

 private:
  void sizes() {
    const auto size = [&](std::size_t& value, std::size_t guess) {
      value = static_cast<std::size_t>(
          code_near(coder_, chances_.sizes, static_cast<std::int64_t>(guess), static_cast<std::int64_t>(value)));
    };
    const auto free = [&](std::uint32_t& value, std::uint32_t guess) {
      value = id_of(code_near(coder_, chances_.sizes, number(guess), number(value)));
    };
    const NetworkDelta was = NetworkDelta::between(from_, from_);
    size(d_.seam_slots, was.seam_slots);
    size(d_.vertex_slots, was.vertex_slots);
    size(d_.face_slots, was.face_slots);
    size(d_.live_seams, was.live_seams);
    free(d_.free_seam, was.free_seam);
    free(d_.free_vertex, was.free_vertex);
    free(d_.free_face, was.free_face);
  }

  void slots(std::vector<std::uint32_t>& list, NumberChances& gap) {
    list.resize(static_cast<std::size_t>(code_number(coder_, chances_.sizes, static_cast<std::int64_t>(list.size()))));
    std::int64_t last = -1;
    for (std::uint32_t& slot : list) {
      last += 1 + code_number(coder_, gap, static_cast<std::int64_t>(slot) - last - 1);
      slot = static_cast<std::uint32_t>(last);
    }
  }

  void which_live() {
    for (std::size_t i = 0; i < d_.seam_at.size(); ++i)
      seam_lives_.push_back(
          coder_.bit(chances_.seam_lives[seam_before(d_.seam_at[i])], d_.half[2 * i].origin.value != kNone));
    for (std::size_t i = 0; i < d_.vertex_at.size(); ++i)
      vertex_lives_.push_back(
          coder_.bit(chances_.vertex_lives[vertex_before(d_.vertex_at[i])], d_.vertex[i].out.value != kNone));
    for (std::size_t i = 0; i < d_.face_at.size(); ++i)
      face_lives_.push_back(coder_.bit(chances_.face_lives[d_.face_at[i] < from_.face_slots()], d_.face[i].alive));
  }

  // One of the candidates (each tried once, those that are none left out), else told by its distance from `near`.
  std::uint32_t pick(PickChances& chances, std::initializer_list<std::uint32_t> candidates, std::uint32_t near,
                     std::uint32_t value) {
    std::size_t k = 0;
    std::vector<std::uint32_t> tried;
    for (const std::uint32_t c : candidates) {
      Chance& is = chances.is[k++];
      if (c == kNone || std::find(tried.begin(), tried.end(), c) != tried.end()) continue;
      tried.push_back(c);
      if (coder_.bit(is, c == value)) return c;
    }
    return id_of(code_near(coder_, chances.else_, number(near), number(value)));
  }

  // A free slot: its place in the chain, which was made while a rim was walked.
  void dead_seams() {
    static const NetworkHalfEdge none;
    for (std::size_t i = 0; i < d_.seam_at.size(); ++i) {
      if (lives(i)) continue;
      const std::uint32_t s = d_.seam_at[i], h = s << 1;
      auto &a = d_.half[2 * i], &b = d_.half[2 * i + 1];
      const bool as_ever = a.prev == none.prev && a.face == none.face && b.origin == none.origin &&
                           b.next == none.next && b.prev == none.prev && b.face == none.face;
      a.origin = none.origin;
      a.next.value =
          pick(chances_.chain_seam,
               {neighbour_before(h, false), neighbour_before(h, true), neighbour_before(h + 1, false), s - 1, s + 1}, s,
               a.next.value);
      if (coder_.bit(chances_.plain, as_ever)) {
        a.prev = none.prev, a.face = none.face, b = none;
        continue;
      }
      for (std::uint32_t* id :
           {&a.prev.value, &a.face.value, &b.origin.value, &b.next.value, &b.prev.value, &b.face.value})
        *id = id_of(code_number(coder_, chances_.odd, number(*id)));
    }
  }

  void nexts() {
    for (std::size_t k = 0; k < d_.half.size(); ++k) {
      if (!lives(k / 2)) continue;
      const std::uint32_t s = d_.seam_at[k / 2], h = (s << 1) | static_cast<std::uint32_t>(k & 1);
      std::uint32_t& next = d_.half[k].next.value;
      next = next_of(h, next);
      follows_[next] = h;
    }
  }

  std::uint32_t next_of(std::uint32_t h, std::uint32_t value) {
    const NetworkHalfEdge* was = before(h);
    if (was && coder_.bit(chances_.same_next, was->next.value == value)) return was->next.value;
    // Where two seams meet, the way back is known from the way there.
    if (const auto back = follows_.find(h ^ 1u); back != follows_.end())
      if (coder_.bit(chances_.follows_twin, (back->second ^ 1u) == value)) return back->second ^ 1u;
    const std::uint32_t s = h >> 1;
    const auto given = chained_from_.find(s);
    const std::uint32_t seam = pick(chances_.next_seam,
                                    {seam_before(s) == 1 ? from_.half_edge({s << 1}).next.value : kNone,
                                     given == chained_from_.end() ? kNone : given->second, s - 1, s + 1},
                                    s, value >> 1);
    return (seam << 1) | std::uint32_t{coder_.bit(chances_.next_side[h & 1u], (value & 1u) != 0)};
  }

  void prevs() {
    for (std::size_t k = 0; k < d_.half.size(); ++k) {
      if (!lives(k / 2)) continue;
      const std::uint32_t h = (d_.seam_at[k / 2] << 1) | static_cast<std::uint32_t>(k & 1);
      const auto known = follows_.find(h);
      const NetworkHalfEdge* was = before(h);
      const std::uint32_t guess = known != follows_.end() ? known->second : was ? was->prev.value : h;
      std::uint32_t& prev = d_.half[k].prev.value;
      prev = id_of(code_near(coder_, chances_.prev, number(guess), number(prev)));
    }
  }

  void outs() {
    std::uint32_t last = 0;
    for (std::size_t i = 0; i < d_.vertex.size(); ++i) {
      NetworkVertex& v = d_.vertex[i];
      const std::uint32_t slot = d_.vertex_at[i];
      const HalfEdgeId was = was_vertex(slot) ? from_.vertex({slot}).out : HalfEdgeId{kNone};
      if (!vertex_lives_[i]) {
        v.out = {kNone};
        dead_vertex(v, slot, was);
        continue;
      }
      if (was.value == kNone || !coder_.bit(chances_.same_out, v.out == was)) {
        const std::uint32_t s = last >> 1;
        const auto* beside = now(last);
        const std::uint32_t seam =
            pick(chances_.out_seam, {s + 1, s, beside ? beside->next.value >> 1 : kNone, s - 1}, s, v.out.value >> 1);
        v.out.value = (seam << 1) | std::uint32_t{coder_.bit(chances_.out_side[last & 1u], (v.out.value & 1u) != 0)};
      } else {
        v.out = was;
      }
      last = v.out.value;
      starts_[v.out.value] = slot;
    }
  }

  void dead_vertex(NetworkVertex& v, std::uint32_t slot, HalfEdgeId was) {
    const auto end = [&](HalfEdgeId h) { return h.value == kNone ? kNone : from_.half_edge(h).origin.value; };
    const std::uint32_t ahead = was.value == kNone ? kNone : end(Network::twin(was));
    const std::uint32_t behind = was.value == kNone ? kNone : end(from_.half_edge(was).prev);
    v.place.x =
        pick(chances_.chain_vertex, {slot - 1, slot + 1, ahead, behind}, slot, static_cast<std::uint32_t>(v.place.x));
    v.place.y = coder_.bit(chances_.plain_vertex, v.place.y == 0) ? 0 : code_number(coder_, chances_.odd, v.place.y);
  }

  // The vertex a half-edge leaves: found by turning about it to one that is known.
  void origins() {
    known_origin_.assign(d_.half.size(), 0);
    for (std::size_t k = 0; k < d_.half.size(); ++k) {
      if (!lives(k / 2)) continue;
      const std::uint32_t h = (d_.seam_at[k / 2] << 1) | static_cast<std::uint32_t>(k & 1);
      std::uint32_t& origin = d_.half[k].origin.value;
      origin = id_of(code_near(coder_, chances_.origin, number(origin_guess(h)), number(origin)));
      known_origin_[k] = 1;
    }
  }

  void faces() {
    for (std::size_t i = 0; i < d_.face.size(); ++i) {
      NetworkFace& f = d_.face[i];
      const std::uint32_t slot = d_.face_at[i];
      const NetworkFace was = slot < from_.face_slots() ? from_.face({slot}) : NetworkFace{};
      f.alive = face_lives_[i] != 0;
      f.owner.value = static_cast<std::uint32_t>(
          code_near(coder_, chances_.owner, was.owner.value, static_cast<std::int64_t>(f.owner.value)));
      f.outer = rim(was.outer, f.outer);
      const auto count = code_near(coder_, chances_.inner_count, static_cast<std::int64_t>(was.inner.size()),
                                   static_cast<std::int64_t>(f.inner.size()));
      f.inner.resize(static_cast<std::size_t>(count));
      for (std::size_t k = 0; k < f.inner.size(); ++k)
        f.inner[k] = rim(k < was.inner.size() ? was.inner[k] : HalfEdgeId{kNone}, f.inner[k]);
      if (!f.alive) continue;
      if (f.outer.value != kNone) rims_[f.outer.value] = slot;
      for (const HalfEdgeId h : f.inner) rims_[h.value] = slot;
    }
  }

  HalfEdgeId rim(HalfEdgeId was, HalfEdgeId value) {
    if (coder_.bit(chances_.same_rim, was == value)) return was;
    return {id_of(code_near(coder_, chances_.rim_seam.else_, number(was.value), number(value.value)))};
  }

  // A cycle bears one label: that of a half-edge that stays, of a face that begins here, or of the first one told.
  void labels() {
    std::vector<std::int64_t> guess(d_.half.size(), kNobody);
    for (std::size_t k = 0; k < d_.half.size(); ++k) {
      if (!lives(k / 2)) continue;
      const std::uint32_t h = (d_.seam_at[k / 2] << 1) | static_cast<std::uint32_t>(k & 1);
      const bool first = guess[k] == kNobody;
      const std::vector<std::size_t> cycle = first ? rest_of_cycle(h, guess[k]) : std::vector<std::size_t>{};
      if (guess[k] == kNobody) guess[k] = before(h) ? number(before(h)->face.value) : 0;
      std::uint32_t& face = d_.half[k].face.value;
      face = id_of(code_near(coder_, chances_.label, guess[k], number(face)));
      for (const std::size_t i : cycle) guess[i] = number(face);
    }
  }

  void places() {
    known_place_.assign(d_.vertex.size(), 0);
    LatticePoint last;
    for (std::size_t i = 0; i < d_.vertex.size(); ++i) {
      if (!vertex_lives_[i]) continue;
      LatticePoint& p = d_.vertex[i].place;
      const std::uint32_t slot = d_.vertex_at[i];
      if (was_vertex(slot) && coder_.bit(chances_.same_place, p == from_.vertex({slot}).place)) {
        p = from_.vertex({slot}).place;
      } else {
        const LatticePoint guess = place_guess(d_.vertex[i].out.value, last);
        p = {code_near(coder_, chances_.dx, guess.x, p.x), code_near(coder_, chances_.dy, guess.y, p.y)};
      }
      known_place_[i] = 1;
      last = p;
    }
  }

  void measures() {
    for (std::size_t i = 0; i < d_.measure.size(); ++i) {
      SeamMeasure& m = d_.measure[i];
      const std::uint32_t s = d_.seam_at[i], h = s << 1;
      if (was_seam(s) && lives(i)) {
        const SeamMeasure& was = from_.seam({s});
        const bool same = same_bits(was, m);
        if (coder_.bit(chances_.same_measure, same)) {
          m = was;
          continue;
        }
      }
      SeamMeasure guess;
      const LatticePoint *a = place_of_origin(h), *b = place_of_origin(h + 1);
      if (lives(i) && meter_ && a && b) guess = measure_seam(meter_, *a, *b);
      m.area = code_near(coder_, chances_.area, guess.area, m.area);
      m.bend_m = code_real(coder_, chances_.bend, guess.bend_m, m.bend_m);
      m.gauss = code_real(coder_, chances_.gauss, guess.gauss, m.gauss);
      m.length_m = code_real(coder_, chances_.length, guess.length_m, m.length_m);
    }
  }

  static bool same_bits(const SeamMeasure& a, const SeamMeasure& b) {
    const auto bits = [](double x) { return std::bit_cast<std::uint64_t>(x); };
    return a.area == b.area && bits(a.bend_m) == bits(b.bend_m) && bits(a.gauss) == bits(b.gauss) &&
           bits(a.length_m) == bits(b.length_m);
  }

  Coder& coder_;
  NetworkDelta& d_;
  const EdgeMeter& meter_;
  Chances chances_;
};

}  // namespace

bool NetworkDelta::empty_against(const Network& from) const {
  const NetworkDelta was = between(from, from);
  return seam_at.empty() && vertex_at.empty() && face_at.empty() && seam_slots == was.seam_slots &&
         vertex_slots == was.vertex_slots && face_slots == was.face_slots && live_seams == was.live_seams &&
         free_seam == was.free_seam && free_vertex == was.free_vertex && free_face == was.free_face;
}

template <class Coder>
void code_delta(Coder& coder, NetworkDelta& delta, const Network& from, const EdgeMeter& meter) {
  DeltaCoder<Coder>(coder, delta, from, meter).run();
}
template void code_delta(PackWriter&, NetworkDelta&, const Network&, const EdgeMeter&);
template void code_delta(PackReader&, NetworkDelta&, const Network&, const EdgeMeter&);

}  // namespace pontata
