#include "engine/seams/seam_branches.h"

#include <algorithm>
#include <cmath>

#include "engine/base/crossing.h"
#include "engine/seams/network_snap.h"

namespace pontata {

namespace {

constexpr double kKeepEnd = 2e-3;   // m: an old end nearer than this to the new one is no node of its own
constexpr double kStraight = 5e-5;  // m

class Finder {
 public:
  Finder(const Network& network, const LinePart& part) : n_(network), part_(part) {}

  Branches find() {
    const auto& path = part_.stretch.half_edges;
    double whole = 0, walked = 0;
    for (const HalfEdgeId h : path) whole += n_.seam(Network::seam_of(h)).length_m;
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
      walked += n_.seam(Network::seam_of(path[i])).length_m;
      if (const VertexId v = target(path[i]); is_junction(n_, v)) {
        knot_at_[v] = found_.knots.size();
        found_.knots.push_back({v, walked / whole, std::nullopt});
      }
    }
    for (std::size_t i = 0; i + 1 < path.size(); ++i)
      for (HalfEdgeId h = n_.turn(path[i + 1]); h != path[i + 1]; h = n_.turn(h))
        if (h != Network::twin(path[i])) follow(h, knot_at_.at(target(path[i])));
    return std::move(found_);
  }

 private:
  VertexId origin(HalfEdgeId h) const { return n_.half_edge(h).origin; }
  VertexId target(HalfEdgeId h) const { return origin(Network::twin(h)); }

  void follow(HalfEdgeId first, std::size_t knot) {
    for (const Branch& b : found_.branches)
      if (b.other && Network::twin(b.half_edges.back()) == first) return;  // seen from its other end
    Branch branch;
    branch.knot = knot;
    for (HalfEdgeId h = first;; h = n_.half_edge(h).next) {
      branch.half_edges.push_back(h);
      if (is_junction(n_, target(h)) || is_on_border(n_, target(h))) break;
    }
    if (const auto it = knot_at_.find(target(branch.half_edges.back())); it != knot_at_.end())
      branch.other = it->second;
    meet(branch);
    found_.branches.push_back(std::move(branch));
  }

  // Where the line meets or touches the branch.
  void meet(Branch& branch) const {
    const auto& line = part_.line;
    for (std::size_t i = 0; i < branch.half_edges.size(); ++i) {
      const LatticePoint a = n_.origin(branch.half_edges[i]), b = n_.target(branch.half_edges[i]);
      for (std::size_t k = 0; k + 1 < line.size(); ++k) {
        const LatticePoint c = line[k], d = line[k + 1];
        if (!segments_meet(a, b, c, d)) continue;
        LatticePoint p = a;
        if (segments_cross(a, b, c, d))
          p = rounded_crossing(a, b, c, d);
        else if (on_segment(c, d, b))
          p = b;
        else if (!on_segment(c, d, a))
          p = on_segment(a, b, c) ? c : d;
        branch.contacts.push_back(
            {i, static_cast<double>(i) + fraction_along(a, b, p), {k, fraction_along(c, d, p), p}});
      }
    }
    std::sort(branch.contacts.begin(), branch.contacts.end(),
              [](const auto& a, const auto& b) { return a.order < b.order; });
  }

  const Network& n_;
  const LinePart& part_;
  std::map<VertexId, std::size_t> knot_at_;
  Branches found_;
};

// Where a branch is cut, and whether that settles where its junction goes: to the nearest of the cuts there.
void settle(const ChartedWall& wall, const Network& network, Branches& all) {
  const auto take = [&](std::size_t knot, const std::optional<Branch::Contact>& cut) {
    if (!cut) return;
    Knot& k = all.knots[knot];
    const LatticePoint from = network.vertex(k.vertex).place;
    if (!k.to || length_between(wall, from, cut->on.place) < length_between(wall, from, k.to->place)) k.to = cut->on;
  };
  for (Branch& b : all.branches) {
    if (b.contacts.empty()) continue;
    b.cut = b.other ? b.contacts.front() : b.contacts.back();
    if (b.other) b.cut_other = b.contacts.back();
    take(b.knot, b.cut);
    if (b.other) take(*b.other, b.cut_other);
  }
}

// One end of a branch: from where its junction goes to the first place of the branch that stays.
struct Lead {
  std::vector<LatticePoint> points;
  std::size_t first = 0;  // index along the branch of that place, 0 the old junction
};

class Layer {
 public:
  Layer(const ChartedWall& wall, const Network& network, const Branches& all) : wall_(wall), n_(network), all_(all) {}

  // `nodes`: the branch's places from this end on.
  Lead lead(const Branch& branch, std::size_t knot, const std::optional<Branch::Contact>& cut, bool turned,
            const std::vector<LatticePoint>& nodes) const {
    const LatticePoint to = all_.knots[knot].to->place, from = nodes[0];
    Lead lead{{to}, 0};
    if (cut) {
      lead.first = turned ? nodes.size() - 1 - cut->piece : cut->piece + 1;
      if (nodes[lead.first] == cut->on.place && lead.first + 1 < nodes.size()) ++lead.first;
    } else if (led_on(knot) > 1) {
      // Each by itself, from as far along as the junction moved.
      const double step = length_between(wall_, to, from), whole = length_between(wall_, from, nodes[1]);
      if (step > kKeepEnd) {
        const LatticePoint at = place_between(from, nodes[1], std::min(0.5, step / whole));
        lead.points.push_back(on_seam(from, nodes[1], at));
      }
      lead.first = 1;
    } else if (const auto back = cut_beside(branch, knot); !back.empty()) {
      for (auto it = back.rbegin(); it != back.rend(); ++it)
        if (*it != lead.points.back()) lead.points.push_back(*it);
      lead.first = 1;
    } else {
      if (length_between(wall_, to, from) > kKeepEnd) lead.points.push_back(from);
      lead.first = 1;
    }
    return lead;
  }

 private:
  // How many branches of the knot are not cut there.
  int led_on(std::size_t knot) const {
    int count = 0;
    for (const Branch& b : all_.branches) count += (b.knot == knot && !b.cut) + (b.other == knot && !b.cut_other);
    return count;
  }

  // What another branch of the knot loses, from the old junction on: a branch on the other side is led on along it.
  std::vector<LatticePoint> cut_beside(const Branch& branch, std::size_t knot) const {
    const LatticePoint to = all_.knots[knot].to->place;
    for (const Branch& b : all_.branches) {
      if (&b == &branch || b.knot != knot || !b.cut || b.cut->on.place != to) continue;
      std::vector<LatticePoint> lost;
      for (std::size_t i = 0; i <= b.cut->piece; ++i) lost.push_back(n_.origin(b.half_edges[i]));
      return lost;
    }
    return {};
  }

  const ChartedWall& wall_;
  const Network& n_;
  const Branches& all_;
};

}  // namespace

double fraction_along(LatticePoint a, LatticePoint b, LatticePoint p) {
  const Vec2 along(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
  const Vec2 to(static_cast<double>(p.x - a.x), static_cast<double>(p.y - a.y));
  const double squared = glm::dot(along, along);
  return squared > 0 ? std::clamp(glm::dot(along, to) / squared, 0.0, 1.0) : 0;
}

LatticePoint place_between(LatticePoint a, LatticePoint b, double t) {
  return {a.x + std::llround(t * static_cast<double>(b.x - a.x)),
          a.y + std::llround(t * static_cast<double>(b.y - a.y))};
}

Result<Branches> branches_of(const ChartedWall& wall, const Network& network, const LinePart& part,
                             const MoveWords& words) {
  Branches all = Finder(network, part).find();
  for (const Branch& b : all.branches)
    if (b.other && !b.contacts.empty() && b.contacts.size() != 2)
      return Problem{"The line runs over " + words.between(network, b.half_edges[0]),
                     place_name(b.contacts[0].on.place), "Draw it clear of there."};
  settle(wall, network, all);
  return all;
}

void lay_branches(const ChartedWall& wall, const Network& network, const Branches& all,
                  const std::function<LatticePoint(VertexId)>& place, Recourse& plan) {
  const Layer layer(wall, network, all);
  for (const Branch& b : all.branches) {
    std::vector<LatticePoint> nodes{network.origin(b.half_edges[0])};
    for (const HalfEdgeId h : b.half_edges) nodes.push_back(network.target(h));
    Lead head = layer.lead(b, b.knot, b.cut, false, nodes);
    std::vector<LatticePoint> course = std::move(head.points);
    std::size_t last = head.first;  // the part up to this place is laid again
    if (b.other) {
      std::vector<LatticePoint> turned(nodes.rbegin(), nodes.rend());
      Lead tail = layer.lead(b, *b.other, b.cut_other, true, turned);
      last = nodes.size() - 1;
      for (std::size_t i = head.first; i + tail.first < nodes.size(); ++i) course.push_back(nodes[i]);
      course.insert(course.end(), tail.points.rbegin(), tail.points.rend());
    } else {
      const bool end = last + 1 == nodes.size();
      course.push_back(end ? place(network.half_edge(Network::twin(b.half_edges.back())).origin) : nodes[last]);
    }
    course.erase(std::unique(course.begin(), course.end()), course.end());
    if (course.size() == 3 && needed_points(wall, course, kStraight).size() == 2) course = {course[0], course[2]};
    for (std::size_t i = 0; i < last; ++i) plan.lifted.push_back(Network::seam_of(b.half_edges[i]));
    const HalfEdgeId h = b.half_edges[0];
    plan.lay(std::move(course), network.half_edge(h).face, network.half_edge(Network::twin(h)).face);
  }
}

}  // namespace pontata
