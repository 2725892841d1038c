#include "engine/seams/seam_path.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <queue>

namespace pontata {

namespace {

constexpr double kStray = 1e-3;  // m: so that of ways on the line itself the shorter counts

class Search {
 public:
  Search(const Network& network, const std::vector<LatticePoint>& line) : n_(network) {
    for (const LatticePoint p : line) line_.push_back(to_vec(to_chart(p)));
  }

  std::optional<SeamStretch> find(const SeamPlace& from, const SeamPlace& to) {
    from_ = from, goal_ = to;
    begin();
    if (on_one_seam()) best_ = cost(from.place, to.place);
    while (!open_.empty() && open_.top().first < best_) {
      const auto [so_far, v] = open_.top();
      open_.pop();
      if (so_far > reached_.at(v).cost) continue;
      finish(v, so_far);
      if (reached_.at(v).by.value != kNone && is_on_border(n_, v)) continue;  // what ends there ends there
      const HalfEdgeId first = n_.vertex(v).out;
      HalfEdgeId h = first;
      do {
        if (!n_.on_border(Network::seam_of(h)) && !ends_within(Network::seam_of(h)))
          reach(n_.half_edge(Network::twin(h)).origin, so_far + cost(n_.origin(h), n_.target(h)), h);
        h = n_.turn(h);
      } while (h != first);
    }
    if (best_ >= kNever) return std::nullopt;
    return trace(from, to);
  }

 private:
  static constexpr double kNever = 1e290;
  struct Reached {
    double cost = 0;
    HalfEdgeId by{kNone};
  };

  double away(Vec2 p) const {
    double least = kNever;
    for (std::size_t i = 0; i + 1 < line_.size(); ++i) {
      const Vec2 along = line_[i + 1] - line_[i];
      const double t = std::clamp(glm::dot(p - line_[i], along) / glm::dot(along, along), 0.0, 1.0);
      least = std::min(least, glm::distance(p, line_[i] + t * along));
    }
    return least;
  }

  // Simpson's rule on the distance, over pieces of 20 cm.
  double cost(LatticePoint from, LatticePoint to) const {
    const Vec2 a = to_vec(to_chart(from)), b = to_vec(to_chart(to));
    const double length = glm::distance(a, b);
    const int pieces = std::clamp(static_cast<int>(std::ceil(length / 0.2)), 1, 32);
    double sum = 0;
    for (int i = 0; i < pieces; ++i) {
      const auto at = [&](double t) { return away(a + (b - a) * ((i + t) / pieces)); };
      sum += (at(0) + 4 * at(0.5) + at(1)) / 6;
    }
    return length * (sum / pieces + kStray);
  }

  void reach(VertexId v, double so_far, HalfEdgeId by) {
    const auto it = reached_.find(v);
    if (it != reached_.end() && it->second.cost <= so_far) return;
    reached_[v] = {so_far, by};
    open_.push({so_far, v});
  }

  // The seams that the two places lie within are parted there, so no way goes over one of the places and back; the
  // cost, which is summed from samples, does not forbid that.
  bool ends_within(SeamId s) const { return (!from_.vertex && s == from_.seam) || (!goal_.vertex && s == goal_.seam); }
  bool on_one_seam() const { return !from_.vertex && !goal_.vertex && from_.seam == goal_.seam; }
  // Of the two half-edges of the seam that both places lie within, the one that leads from the first to the second.
  HalfEdgeId between() const {
    const HalfEdgeId h{from_.seam.value << 1};
    return from_.share <= goal_.share ? h : Network::twin(h);
  }

  void begin() {
    if (from_.vertex) return reach(*from_.vertex, 0, {kNone});
    const HalfEdgeId h{from_.seam.value << 1};
    for (const HalfEdgeId g : {h, Network::twin(h)})
      if (!on_one_seam() || g != between())
        reach(n_.half_edge(Network::twin(g)).origin, cost(from_.place, n_.target(g)), g);
  }

  // The goal lies on a seam that ends at v, or is v.
  void finish(VertexId v, double so_far) {
    if (goal_.vertex) {
      if (*goal_.vertex == v && so_far < best_) best_ = so_far, last_ = v, onto_ = {kNone};
      return;
    }
    const HalfEdgeId h{goal_.seam.value << 1};
    for (const HalfEdgeId g : {h, Network::twin(h)})
      if (n_.half_edge(g).origin == v && (!on_one_seam() || g != between()))
        if (const double whole = so_far + cost(n_.origin(g), goal_.place); whole < best_)
          best_ = whole, last_ = v, onto_ = g;
  }

  SeamStretch trace(const SeamPlace& from, const SeamPlace& to) const {
    SeamStretch stretch{{}, from.place, to.place, best_};
    if (!last_) {
      stretch.half_edges = {between()};
      return stretch;
    }
    auto& way = stretch.half_edges;
    if (onto_.value != kNone) way.push_back(onto_);
    for (VertexId v = *last_;;) {
      const HalfEdgeId by = reached_.at(v).by;
      if (by.value == kNone) break;
      way.push_back(by);
      if (!from.vertex && Network::seam_of(by) == from.seam) break;
      v = n_.half_edge(by).origin;
    }
    std::reverse(way.begin(), way.end());
    return stretch;
  }

  const Network& n_;
  std::vector<Vec2> line_;
  SeamPlace from_, goal_;
  std::map<VertexId, Reached> reached_;
  std::priority_queue<std::pair<double, VertexId>, std::vector<std::pair<double, VertexId>>, std::greater<>> open_;
  double best_ = 1e300;
  std::optional<VertexId> last_;
  HalfEdgeId onto_{kNone};
};

}  // namespace

std::optional<SeamStretch> stretch_near(const Network& network, const SeamPlace& from, const SeamPlace& to,
                                        const std::vector<LatticePoint>& line) {
  auto found = Search(network, line).find(from, to);
  if (!found || found->half_edges.empty()) return std::nullopt;
  return found;
}

}  // namespace pontata
