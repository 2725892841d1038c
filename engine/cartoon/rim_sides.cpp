#include "engine/cartoon/rim_sides.h"

#include <algorithm>

namespace pontata {
namespace {

Vec2 pitches(LatticePoint p) { return {static_cast<double>(p.x), static_cast<double>(p.y)}; }

// The same for any place.
std::optional<double> share_near(LatticePoint from, LatticePoint to, Vec2 p) {
  constexpr double kNear = 6;  // pitches
  const Vec2 along = pitches(to) - pitches(from), at = p - pitches(from);
  const double share = glm::dot(at, along) / glm::dot(along, along), slack = kNear / glm::length(along);
  if (!(share >= -slack && share <= 1 + slack) || glm::distance(at, share * along) > kNear) return std::nullopt;
  return std::clamp(share, 0.0, 1.0);
}

Beyond beyond_neighbour(const CartoonGiornata& g, GiornataId neighbour) {
  const auto among = [&](const std::vector<GiornataId>& ids) {
    return std::find(ids.begin(), ids.end(), neighbour) != ids.end();
  };
  if (among(g.meets_finished)) return Beyond::finished;
  return among(g.stays_open) ? Beyond::open : Beyond::neighbour;
}

OtherSide side_of(const Network& net, const CartoonGiornata& g, FaceId across) {
  if (across == Network::kOutside) return {Beyond::border, {}};
  const GiornataId owner = net.face(across).owner;
  return owner ? OtherSide{beyond_neighbour(g, owner), owner} : OtherSide{};
}

}  // namespace

std::optional<double> share_on(LatticePoint from, LatticePoint to, LatticePoint p) {
  return share_near(from, to, pitches(p));
}

RimSides::RimSides(const CartoonWall& wall, const CartoonGiornata& g) : network_(wall.network) {
  if (!network_) return;
  const Network& net = *network_;
  for (const FaceId f : net.faces_of(g.id))
    for (const auto& cycle : net.cycles(f))
      for (const HalfEdgeId h : cycle)
        steps_[{net.origin(h), net.target(h)}] = {h, side_of(net, g, net.half_edge(Network::twin(h)).face)};
  for (const auto& [h, contact] : contacts_by_half_edge(cut_contacts(net, *wall.wall->chart))) {
    if (net.face(net.half_edge(h).face).owner != g.id) continue;
    if (along_cuts_.empty() || along_cuts_.back() != h) along_cuts_.push_back(h);
    const ChartPoint a = to_chart(net.origin(h)), b = to_chart(net.target(h));
    const auto at = [&](double share) { return to_lattice({a.u + share * (b.u - a.u), a.v + share * (b.v - a.v)}); };
    cuts_.push_back({at(contact.from_here), at(contact.to_here), side_of(net, g, net.half_edge(contact.there).face)});
  }
}

OtherSide RimSides::of(LatticePoint a, LatticePoint b) const {
  const auto known = steps_.find({a, b});
  if (known != steps_.end() && known->second.side.beyond != Beyond::border) return known->second.side;
  const Vec2 middle = 0.5 * (pitches(a) + pitches(b));
  for (const OverCut& cut : cuts_)
    if (share_near(cut.from, cut.to, middle)) return cut.side;
  return known != steps_.end() ? known->second.side : OtherSide{};
}

std::optional<SeamPart> RimSides::seam_of(LatticePoint a, LatticePoint b) const {
  if (const auto known = steps_.find({a, b}); known != steps_.end()) return SeamPart{known->second.half_edge, 0, 1};
  for (const HalfEdgeId h : along_cuts_) {
    const auto from = share_on(network_->origin(h), network_->target(h), a);
    const auto to = share_on(network_->origin(h), network_->target(h), b);
    if (from && to && *to > *from) return SeamPart{h, *from, *to};
  }
  return std::nullopt;
}

namespace {

// How far along the ring's step a->b the place is; ends of an opened slit lie between.
double share_along_step(LatticePoint a, LatticePoint b, LatticePoint p) {
  const Vec2 along = pitches(b) - pitches(a);
  const double size = glm::dot(along, along);
  return size > 0 ? std::clamp(glm::dot(pitches(p) - pitches(a), along) / size, 0.0, 1.0) : 0;
}

}  // namespace

std::vector<RimStep> steps_of_rim(const Patch& patch, std::size_t rim, const RimSides& sides) {
  const std::size_t size = patch.rims[rim].size();
  std::vector<RimStep> out(size);
  for (const SlitPlace& s : patch.slits)
    if (s.rim == rim)
      for (std::size_t i = s.left; i != s.right; i = (i + 1) % size) out[i].lip = true;
  const Ring& ring = patch.outlines[rim];
  const auto& corners = patch.corners[rim];
  for (std::size_t k = 0; k < ring.size(); ++k) {
    const LatticePoint a = ring[k], b = ring[(k + 1) % ring.size()];
    const std::size_t stop = corners[(k + 1) % ring.size()];
    if (corners[k] == stop) continue;
    const OtherSide side = sides.of(a, b);
    const auto seam = sides.seam_of(a, b);
    for (std::size_t i = corners[k]; i != stop; i = (i + 1) % size) {
      if (out[i].lip) continue;
      out[i].side = side;
      const auto& [from, to] = patch.rim_steps[rim][i];
      if (seam) {
        const auto at = [&](LatticePoint p) {
          return seam->from + share_along_step(a, b, p) * (seam->to - seam->from);
        };
        out[i].seam = SeamPart{seam->half_edge, at(from), at(to)};
      }
    }
  }
  return out;
}

std::vector<std::vector<bool>> junctions_of(const Patch& patch, const RimSides& sides) {
  std::vector<std::vector<bool>> out;
  for (std::size_t r = 0; r < patch.rims.size(); ++r) {
    const auto steps = steps_of_rim(patch, r, sides);
    const std::size_t n = steps.size();
    auto& here = out.emplace_back(n, false);
    for (std::size_t i = 0; i < n; ++i) {
      const RimStep &before = steps[(i + n - 1) % n], &after = steps[i];
      here[i] = !before.lip && !after.lip && !(before.side == after.side);
    }
  }
  return out;
}

}  // namespace pontata
