#include "engine/cartoon/seam_marks.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <tuple>

#include "engine/seams/cut_contacts.h"

namespace pontata {
namespace {

// A piece of seam as both sides have it: fractions of two half-edges that run opposite ways.
struct Piece {
  HalfEdgeId here, there;
  double from_here = 0, to_here = 1, from_there = 1, to_there = 0;  // there: where `here` begins and ends
  double length_m = 0;
  LatticePoint from, to;  // as `here` has it
};
using Chain = std::vector<Piece>;

GiornataId owner(const Network& net, HalfEdgeId h) { return net.face(net.half_edge(h).face).owner; }

bool parts(const Network& net, HalfEdgeId a, HalfEdgeId b) {
  return owner(net, a) && owner(net, b) && owner(net, a) != owner(net, b);
}

// The one seam that goes on from the end of h between the same two; none at a junction.
std::optional<HalfEdgeId> next_of(const Network& net, HalfEdgeId h) {
  const HalfEdgeId next = net.half_edge(h).next, back = Network::twin(h);
  // no third seam there: the twin of `next` comes right before our twin
  if (net.half_edge(Network::twin(next)).next != back || next == back) return std::nullopt;
  return next;
}

Piece piece_of(const Network& net, HalfEdgeId h) {
  Piece p;
  p.here = h, p.there = Network::twin(h);
  p.length_m = net.seam(Network::seam_of(h)).length_m;
  p.from = net.origin(h), p.to = net.target(h);
  return p;
}

// From the lesser of its ends; a closed one from its least vertex.
Chain chain_through(const Network& net, HalfEdgeId h, std::set<SeamId>& seen) {
  HalfEdgeId first = h;
  while (const auto before = next_of(net, Network::twin(first))) {  // walks back along the other side
    if (Network::twin(*before) == h) break;
    first = Network::twin(*before);
  }
  std::vector<HalfEdgeId> run{first};
  while (const auto next = next_of(net, run.back())) {
    if (*next == first) break;
    run.push_back(*next);
  }
  for (const HalfEdgeId e : run) seen.insert(Network::seam_of(e));
  const auto turn = [&] {
    std::reverse(run.begin(), run.end());
    for (HalfEdgeId& e : run) e = Network::twin(e);
  };
  if (net.target(run.back()) == net.origin(run.front())) {
    const auto least = [&] {
      return std::min_element(run.begin(), run.end(),
                              [&](HalfEdgeId a, HalfEdgeId b) { return net.origin(a) < net.origin(b); });
    };
    std::rotate(run.begin(), least(), run.end());
    if (owner(net, Network::twin(run.front())) < owner(net, run.front()))
      turn(), std::rotate(run.begin(), least(), run.end());
  } else if (net.target(run.back()) < net.origin(run.front())) {
    turn();
  }
  Chain chain;
  for (const HalfEdgeId e : run) chain.push_back(piece_of(net, e));
  return chain;
}

void add_inner_chains(const Network& net, std::vector<Chain>& chains) {
  std::set<SeamId> seen;
  for (std::uint32_t h = 0; h < net.half_edge_slots(); h += 2) {
    const HalfEdgeId e{h};
    if (!net.alive(e) || seen.contains(Network::seam_of(e)) || !parts(net, e, Network::twin(e))) continue;
    chains.push_back(chain_through(net, e, seen));
  }
}

Piece piece_of(const Network& net, const CutContact& c) {
  const ChartPoint a = to_chart(net.origin(c.here)), b = to_chart(net.target(c.here));
  const auto at = [&](double s) { return to_lattice({a.u + s * (b.u - a.u), a.v + s * (b.v - a.v)}); };
  return {c.here,       c.there,    c.from_here,     c.to_here,    c.to_there,
          c.from_there, c.length_m, at(c.from_here), at(c.to_here)};
}

void add_cut_chains(const Network& net, const Chart& chart, std::vector<Chain>& chains) {
  constexpr double kEnd = 1e-6;
  const Piece* last = nullptr;
  for (const CutContact& c : cut_contacts(net, chart)) {
    if (!parts(net, c.here, c.there)) {
      last = nullptr;
      continue;
    }
    const Piece p = piece_of(net, c);
    const bool on = last && owner(net, last->here) == owner(net, p.here) &&
                    owner(net, last->there) == owner(net, p.there) &&
                    (last->here == p.here ? std::abs(last->to_here - p.from_here) < kEnd
                                          : last->to_here > 1 - kEnd && p.from_here < kEnd && last->to == p.from);
    if (!on) chains.emplace_back();
    chains.back().push_back(p);
    last = &chains.back().back();
  }
}

// Places along a chain of this length, m from its beginning.
std::vector<double> places_along(double length) {
  if (length < 3 * kMarkFromEnd) return {0.5 * length};
  const double between = length - 2 * kMarkFromEnd;
  const int steps = std::max(1, static_cast<int>(std::ceil(between / kMarkEvery - 1e-9)));
  std::vector<double> out;
  for (int i = 0; i <= steps; ++i) out.push_back(kMarkFromEnd + between * i / steps);
  return out;
}

}  // namespace

SeamMarks::SeamMarks(const CartoonWall& wall) {
  if (!wall.network || wall.network->face_slots() == 0) return;
  const Network& net = *wall.network;
  std::vector<Chain> chains;
  add_inner_chains(net, chains);
  add_cut_chains(net, *wall.wall->chart, chains);
  std::sort(chains.begin(), chains.end(), [](const Chain& a, const Chain& b) {
    const LatticePoint p = a.front().from, q = b.front().from, r = a.front().to, s = b.front().to;
    return std::tuple(-p.y, p.x, -r.y, r.x) < std::tuple(-q.y, q.x, -s.y, s.x);
  });
  for (const Chain& chain : chains) {
    double length = 0;
    for (const Piece& p : chain) length += p.length_m;
    if (!(length > 0)) continue;
    std::size_t k = 0;
    double begin = 0;
    for (const double at : places_along(length)) {
      while (k + 1 < chain.size() && at > begin + chain[k].length_m) begin += chain[k++].length_m;
      const Piece& p = chain[k];
      const double share = std::clamp((at - begin) / p.length_m, 0.0, 1.0);
      ++count_;
      marks_[p.here].push_back({p.from_here + share * (p.to_here - p.from_here), count_});
      marks_[p.there].push_back({p.from_there + share * (p.to_there - p.from_there), count_});
    }
  }
  for (auto& [h, list] : marks_)
    std::sort(list.begin(), list.end(), [](const Mark& a, const Mark& b) { return a.share < b.share; });
}

const std::vector<SeamMarks::Mark>& SeamMarks::on(HalfEdgeId h) const {
  static const std::vector<Mark> none;
  const auto it = marks_.find(h);
  return it == marks_.end() ? none : it->second;
}

}  // namespace pontata
