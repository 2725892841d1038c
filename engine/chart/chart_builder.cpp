#include <algorithm>
#include <array>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/base/units.h"
#include "engine/chart/border_check.h"
#include "engine/chart/chart.h"
#include "engine/chart/thickness.h"
#include "engine/chart/topology.h"

namespace pontata {

class ChartBuilder {
 public:
  ChartBuilder(std::shared_ptr<const SurfaceMesh> mesh, const std::string& name, bool keep_origin)
      : name_(name), keep_origin_(keep_origin) {
    chart_.mesh_ = std::move(mesh);
  }

  Result<Chart> build(std::span<const Vec2> addresses) {
    if (auto problem = link()) return *problem;
    if (auto problem = place(addresses)) return *problem;
    if (auto problem = check_triangles()) return *problem;
    if (auto problem = check_loops()) return *problem;
    index_border();
    join_cuts();
    measure_stretch();
    chart_.grid_ = TriangleGrid(mesh().triangles, chart_.places_, high_);
    return std::move(chart_);
  }

 private:
  using Trouble = std::optional<Problem>;
  const SurfaceMesh& mesh() const { return *chart_.mesh_; }

  Problem at(const Vec3& p, std::string what, std::string remedy) const {
    return {std::move(what),
            name_ + ", near X " + format_fixed(p.x, 3) + ", Y " + format_fixed(p.y, 3) + ", Z " + format_fixed(p.z, 3) +
                " m",
            std::move(remedy)};
  }
  Vec3 middle(std::uint32_t t) const { return position(mesh(), {t, Vec3{1, 1, 1} / 3.0}); }

  Trouble link() {
    if (mesh().triangles.empty()) return Problem{"there is no surface", name_, "Choose another wall or file."};
    Topology topology;
    const auto failure = build_topology(mesh().triangles, mesh().points.size(), topology);
    if (!failure) {
      chart_.across_ = std::move(topology.across);
      chart_.loops_ = std::move(topology.loops);
      return std::nullopt;
    }
    const Vec3 p = mesh().points.empty() ? Vec3{0, 0, 0} : mesh().points[failure->point];
    switch (failure->fault) {
      case TopologyFault::bad_index:
        return at(p, "the surface's data do not fit together", "Export the surface again.");
      case TopologyFault::edge_shared_wrongly:
        return at(p, "the surface lies double, branches or is turned over here",
                  "Mend this place in the scan, or cut it away.");
      case TopologyFault::touching_sheets:
        return at(p, "two parts of the surface touch in a single point here",
                  "Mend this place in the scan, or cut it away.");
      case TopologyFault::closed:
        return at(p, "the surface is closed all round and has no edge",
                  "Cut away what is not painted, so that an edge remains.");
    }
    return std::nullopt;
  }

  // Moves the box's lower left to the origin and snaps. Points that no triangle uses are left out of the box.
  Trouble place(std::span<const Vec2> addresses) {
    if (addresses.size() != mesh().points.size())
      return Problem{"the surface and its flat map do not have the same number of points", name_,
                     "Make the map again."};
    std::vector<bool> used(addresses.size(), false);
    for (const auto& t : mesh().triangles)
      for (const auto corner : t) used[corner] = true;
    Vec2 low = keep_origin_ ? Vec2{0, 0} : Vec2{INFINITY, INFINITY};
    for (std::size_t i = 0; i < addresses.size(); ++i) {
      if (used[i] && !(std::isfinite(addresses[i].x) && std::isfinite(addresses[i].y)))
        return at(mesh().points[i], "a place of the surface could not be laid flat",
                  "Mend this place in the scan, or cut it away.");
      if (used[i] && !keep_origin_) low = glm::min(low, addresses[i]);
    }
    chart_.places_.resize(addresses.size());
    for (std::size_t i = 0; i < addresses.size(); ++i) {
      if (!used[i]) continue;
      const ChartPoint p{addresses[i].x - low.x, addresses[i].y - low.y};
      if (!fits_lattice(p))
        return at(mesh().points[i], "the wall is too large: it must be under 4000 m", "Check the unit.");
      auto& place = chart_.places_[i] = to_lattice(p);
      high_ = {std::max(high_.x, place.x), std::max(high_.y, place.y)};
    }
    const ChartPoint high = to_chart(high_);
    chart_.box_ = {high.u, high.v};
    return std::nullopt;
  }

  Trouble check_triangles() {
    for (std::uint32_t t = 0; t < mesh().triangles.size(); ++t) {
      const auto& [i, j, k] = mesh().triangles[t];
      const LatticePoint a = chart_.places_[i], b = chart_.places_[j], c = chart_.places_[k];
      const Int128 area2 = orient(a, b, c);
      if (area2 < 0)
        return at(middle(t), "the surface folds over when it is laid flat here",
                  "Mend this place in the scan, or cut it away.");
      if (!thick(area2, a, b, c))
        return at(middle(t), "the surface is squeezed to nothing when it is laid flat here",
                  "Mend this place in the scan, or cut it away.");
      sum_ += area2;
    }
    return std::nullopt;
  }

  // With every triangle positive, each place is covered as often as the loops wind round it; one counter-clockwise loop
  // that is simple winds once, the clockwise ones only take away, so nothing is covered twice.
  Trouble check_loops() {
    auto& loops = chart_.loops_;
    auto rings = chart_.border_rings();
    if (const auto where = find_border_crossing(rings)) return loop_problem(*where);
    std::vector<std::size_t> outer;
    Int128 enclosed = 0;
    for (std::size_t l = 0; l < rings.size(); ++l) {
      const Int128 area2 = twice_area(rings[l]);
      enclosed += area2;
      if (area2 > 0) outer.push_back(l);
    }
    if (outer.size() != 1)
      return at(mesh().points[loops[outer.back()][0]], "the surface is in several separate pieces",
                "Make a wall of each piece.");
    if (enclosed != sum_) return loop_problem(rings[outer[0]][0]);
    std::rotate(loops.begin(), loops.begin() + static_cast<std::ptrdiff_t>(outer[0]),
                loops.begin() + static_cast<std::ptrdiff_t>(outer[0]) + 1);
    return std::nullopt;
  }

  Problem loop_problem(LatticePoint where) const {
    std::uint32_t point = chart_.loops_[0][0];
    for (const auto& loop : chart_.loops_)
      for (const auto p : loop)
        if (chart_.places_[p] == where) point = p;
    return at(mesh().points[point], "the edge of the surface runs over itself when it is laid flat here",
              "Cut the scan into two walls near this place.");
  }

  void index_border() {
    std::vector<std::uint32_t> side_from(mesh().points.size(), Chart::kNoTriangle);  // 3 t + k of the edge from a point
    for (std::uint32_t t = 0; t < mesh().triangles.size(); ++t)
      for (std::uint32_t k = 0; k < 3; ++k)
        if (chart_.across_[t][k] == Chart::kNoTriangle) side_from[mesh().triangles[t][k]] = 3 * t + k;
    chart_.border_from_.assign(mesh().points.size(), Chart::kNoTriangle);
    for (std::uint32_t l = 0; l < chart_.loops_.size(); ++l) {
      chart_.loop_start_.push_back(static_cast<std::uint32_t>(chart_.border_edges_.size()));
      for (const auto point : chart_.loops_[l]) {
        chart_.border_from_[point] = static_cast<std::uint32_t>(chart_.border_edges_.size());
        const auto side = side_from[point];
        chart_.border_edges_.push_back({side / 3, static_cast<int>(side % 3), l});
      }
    }
    chart_.loop_start_.push_back(static_cast<std::uint32_t>(chart_.border_edges_.size()));
    std::vector<std::pair<Vec2, Vec2>> ends;
    for (std::uint32_t e = 0; e < chart_.border_edges_.size(); ++e)
      ends.emplace_back(to_vec(to_chart(chart_.border_start(e))), to_vec(to_chart(chart_.border_end(e))));
    chart_.border_grid_ = BorderGrid(ends);
  }

  // Border edges whose ends are the same places in space, run opposite ways. Where more than two coincide, nothing says
  // which belong together and none is joined.
  void join_cuts() {
    using Ends = std::array<double, 6>;
    const auto ends = [&](std::uint32_t e, bool turned) {
      const auto& edge = chart_.border_edges_[e];
      const auto& t = mesh().triangles[edge.triangle];
      const auto k = static_cast<std::size_t>(edge.side);
      Vec3 p = mesh().points[t[k]], q = mesh().points[t[(k + 1) % 3]];
      if (turned) std::swap(p, q);
      return Ends{p.x, p.y, p.z, q.x, q.y, q.z};
    };
    const auto count = static_cast<std::uint32_t>(chart_.border_edges_.size());
    std::vector<std::pair<Ends, std::uint32_t>> known;
    for (std::uint32_t e = 0; e < count; ++e) known.emplace_back(ends(e, false), e);
    std::sort(known.begin(), known.end());
    const auto found = [&](const Ends& wanted) {
      auto at = std::lower_bound(known.begin(), known.end(), std::pair<Ends, std::uint32_t>{wanted, 0});
      const bool one = at != known.end() && at->first == wanted && (at + 1 == known.end() || (at + 1)->first != wanted);
      return one ? at->second : Chart::kNoTriangle;
    };
    std::vector<std::uint32_t> cut(count, Chart::kNoTriangle);
    bool any = false;
    for (std::uint32_t e = 0; e < count; ++e) {
      const auto other = found(ends(e, true));
      if (other == Chart::kNoTriangle || other == e || found(ends(e, false)) != e) continue;
      cut[e] = other, any = true;
    }
    if (any) chart_.cut_ = std::move(cut);
  }

  void measure_stretch() {
    ChartStretch& stretch = chart_.stretch_;
    stretch = {INFINITY, 0};
    for (std::uint32_t t = 0; t < mesh().triangles.size(); ++t) {
      const auto [least, greatest] = chart_.stretch_of(t);
      stretch.least = std::min(stretch.least, least);
      stretch.greatest = std::max(stretch.greatest, greatest);
    }
  }

  std::string name_;
  bool keep_origin_;
  Chart chart_;
  LatticePoint high_;
  Int128 sum_ = 0;
};

Result<Chart> Chart::certify(std::shared_ptr<const SurfaceMesh> mesh, std::span<const Vec2> addresses,
                             const std::string& name, bool keep_origin) {
  return ChartBuilder(std::move(mesh), name, keep_origin).build(addresses);
}

}  // namespace pontata
