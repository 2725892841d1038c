#include "engine/seams/network.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/seams/network_editor.h"
#include "engine/seams/place_name.h"

namespace pontata {

namespace {

std::optional<Problem> fault_of(std::span<const Ring> rings) {
  if (rings.empty()) return Problem{"The wall has no border", "", "Give the wall a surface with an edge."};
  for (std::size_t i = 0; i < rings.size(); ++i) {
    const Ring& ring = rings[i];
    if (ring.size() < 3) return Problem{"A border of the wall has fewer than 3 points", "", ""};
    for (const auto& p : ring)
      if (std::abs(p.x) >= kLatticeLimit || std::abs(p.y) >= kLatticeLimit)
        return Problem{"The wall's border reaches beyond 4 km", place_name(p), "Check the wall's unit of length."};
    if (const auto hit = find_self_crossing(ring); hit.first >= 0)
      return Problem{"The wall's border crosses itself", place_name(ring[static_cast<std::size_t>(hit.first)]), ""};
    if ((twice_area(ring) > 0) != (i == 0))
      return Problem{"A border of the wall runs the wrong way round", place_name(ring[0]), ""};
  }
  return std::nullopt;
}

// Where the level y = p.y (just above it) meets the seam, as numerator over denominator, from the seam's lower end.
struct LevelCrossing {
  Int128 numerator = 0;  // of (x - p.x)
  std::int64_t height = 1, run = 0;
};

LevelCrossing level_crossing(LatticePoint low, LatticePoint high, LatticePoint p) {
  const std::int64_t height = high.y - low.y, run = high.x - low.x;
  return {static_cast<Int128>(low.x - p.x) * height + static_cast<Int128>(p.y - low.y) * run, height, run};
}

// a lies left of b on the level, or they meet there and a leans further left above it.
bool left_of(const LevelCrossing& a, const LevelCrossing& b) {
  const Int128 l = a.numerator * b.height, r = b.numerator * a.height;
  if (l != r) return l < r;
  return static_cast<Int128>(a.run) * b.height < static_cast<Int128>(b.run) * a.height;
}

}  // namespace

std::string place_name(LatticePoint p) {
  const ChartPoint c = to_chart(p);
  return fmt::format("at {:.4f} {:.4f}", c.u, c.v);
}
std::optional<ChartPoint> named_place(std::string_view where) {
  ChartPoint p;
  if (!where.starts_with("at ")) return std::nullopt;
  const char* end = where.data() + where.size();
  const auto u = std::from_chars(where.data() + 3, end, p.u);
  if (u.ec != std::errc{} || u.ptr == end || *u.ptr != ' ') return std::nullopt;
  const auto v = std::from_chars(u.ptr + 1, end, p.v);
  return v.ec == std::errc{} && v.ptr == end && fits_lattice(p) ? std::optional(p) : std::nullopt;
}

Result<Network> Network::from_border(std::span<const Ring> rings, const EdgeMeter& meter) {
  if (auto fault = fault_of(rings)) return *fault;
  Network n;
  n.faces_.push_back({});
  n.faces_.push_back({});
  for (const Ring& ring : rings) {
    const auto count = static_cast<std::uint32_t>(ring.size());
    const auto base = static_cast<std::uint32_t>(n.vertices_.size());
    // Half-edge along the ring from its point i; seams run from their lesser end.
    const auto along = [&](std::uint32_t i) {
      i %= count;
      return HalfEdgeId{((base + i) << 1) | (ring[i] < ring[(i + 1) % count] ? 0u : 1u)};
    };
    for (std::uint32_t i = 0; i < count; ++i) {
      n.vertices_.push_back({ring[i], along(i)});
      const HalfEdgeId h = along(i);
      const NetworkHalfEdge inside{{base + i}, along(i + 1), along(i + count - 1), {1}};
      const NetworkHalfEdge outside{{base + (i + 1) % count}, twin(along(i + count - 1)), twin(along(i + 1)), kOutside};
      n.half_edges_.push_back((h.value & 1u) == 0 ? inside : outside);
      n.half_edges_.push_back((h.value & 1u) == 0 ? outside : inside);
      n.seams_.push_back(measure_seam(meter, ring[i], ring[(i + 1) % count]));
      ++n.live_seams_;
    }
    if (base == 0)
      n.faces_.edit(1).outer = along(0);
    else
      n.faces_.edit(1).inner.push_back(along(0));
    n.faces_.edit(0).inner.push_back(twin(along(0)));
  }
  n.index_seams();
  if (const auto faults = n.check(); !faults.empty()) return faults.front();
  return n;
}

void Network::index_seams() {
  LatticePoint lo{kLatticeLimit, kLatticeLimit}, hi{-kLatticeLimit, -kLatticeLimit};
  for (std::size_t v = 0; v < vertices_.size(); ++v) {
    const auto& [p, out] = vertices_[v];
    if (out.value == kNone) continue;
    lo = {std::min(lo.x, p.x), std::min(lo.y, p.y)};
    hi = {std::max(hi.x, p.x), std::max(hi.y, p.y)};
  }
  if (lo.x > hi.x) return;
  std::vector<SeamGrid::Item> items;
  for (std::uint32_t s = 0; s < seams_.size(); ++s)
    if (alive(SeamId{s})) items.push_back({s, origin({s << 1}), target({s << 1})});
  grid_ = SeamGrid(lo, hi, items);
}

std::vector<FaceId> Network::faces() const {
  std::vector<FaceId> found;
  for (std::uint32_t f = 1; f < face_slots(); ++f)
    if (faces_[f].alive) found.push_back({f});
  return found;
}

std::vector<FaceId> Network::faces_of(GiornataId owner) const {
  std::vector<FaceId> found;
  for (std::uint32_t f = 1; f < face_slots(); ++f)
    if (const auto& face = faces_[f]; face.alive && face.owner == owner) found.push_back({f});
  return found;
}

std::vector<HalfEdgeId> Network::cycle(HalfEdgeId start) const {
  std::vector<HalfEdgeId> found;
  HalfEdgeId h = start;
  do {
    found.push_back(h);
    h = half_edge(h).next;
  } while (h != start && found.size() <= half_edge_slots());
  return found;
}

std::vector<std::vector<HalfEdgeId>> Network::cycles(FaceId f) const {
  const NetworkFace& record = face(f);
  std::vector<std::vector<HalfEdgeId>> found;
  if (f != kOutside) found.push_back(cycle(record.outer));
  for (const HalfEdgeId h : record.inner) found.push_back(cycle(h));
  return found;
}

std::vector<Ring> Network::rings(FaceId f) const {
  std::vector<Ring> found;
  for (const auto& half_edges : cycles(f)) {
    Ring& ring = found.emplace_back();
    ring.reserve(half_edges.size());
    for (const HalfEdgeId h : half_edges) ring.push_back(origin(h));
  }
  return found;
}

FaceSums Network::sums(FaceId f) const {
  FaceSums sums;
  const auto add = [&](HalfEdgeId start) {
    HalfEdgeId h = start;
    do {
      const SeamMeasure& m = seam(seam_of(h));
      const int sign = (h.value & 1u) ? -1 : 1;
      sums.area += sign * m.area;
      sums.bend_m += sign * m.bend_m;
      sums.gauss += sign * m.gauss;
      sums.perimeter_m += m.length_m;
      h = half_edge(h).next;
    } while (h != start);
  };
  const NetworkFace& record = face(f);
  if (f != kOutside) add(record.outer);
  for (const HalfEdgeId h : record.inner) add(h);
  return sums;
}

std::int64_t Network::wall_area() const { return faces_.empty() ? 0 : -sums(kOutside).area; }

std::optional<FaceId> Network::face_at(LatticePoint p) const {
  if (grid_.frame().columns < 1 || faces_.empty()) return std::nullopt;
  const CellFrame& frame = grid_.frame();
  const int row = frame.row(p.y), start = frame.column(p.x);
  bool on_seam = false;
  grid_.in_cell(start, row, [&](std::uint32_t s) {
    const HalfEdgeId h{s << 1};
    on_seam = on_seam || on_segment(origin(h), target(h), p);
  });
  if (on_seam) return std::nullopt;
  // The last seam on the left of p along its level bounds p's face.
  std::optional<LevelCrossing> best;
  FaceId found = kOutside;
  const auto look = [&](std::uint32_t s) {
    HalfEdgeId h{s << 1};
    if ((origin(h).y > p.y) == (target(h).y > p.y)) return;
    if (origin(h).y > target(h).y) h = twin(h);
    const LevelCrossing c = level_crossing(origin(h), target(h), p);
    if (c.numerator > 0 || (best && !left_of(*best, c))) return;
    best = c;
    found = half_edge(twin(h)).face;  // right of the upward half-edge
  };
  for (int column = start; column >= 0; --column) {
    grid_.in_cell(column, row, look);
    if (!best) continue;
    const Int128 cell_left = frame.lo.x + (static_cast<Int128>(column) << frame.shift) - p.x;
    if (best->numerator >= cell_left * best->height) break;
  }
  if (found == kOutside) return std::nullopt;
  return found;
}

GiornataId Network::owner_at(LatticePoint p) const {
  const auto f = face_at(p);
  return f ? face(*f).owner : GiornataId{};
}

std::vector<SeamId> Network::seams_near(LatticePoint lo, LatticePoint hi) const {
  std::vector<SeamId> found;
  grid_.in_box(lo, hi, [&](std::uint32_t s) {
    const LatticePoint a = origin({s << 1}), b = target({s << 1});
    if (std::max(a.x, b.x) >= lo.x && std::min(a.x, b.x) <= hi.x && std::max(a.y, b.y) >= lo.y &&
        std::min(a.y, b.y) <= hi.y)
      found.push_back({s});
  });
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

std::optional<VertexId> Network::vertex_at(LatticePoint p) const {
  std::optional<VertexId> found;
  grid_.in_box(p, p, [&](std::uint32_t s) {
    for (const HalfEdgeId h : {HalfEdgeId{s << 1}, HalfEdgeId{(s << 1) | 1u}})
      if (origin(h) == p) found = half_edge(h).origin;
  });
  return found;
}

ChartPoint Network::place_inside(FaceId f) const {
  const auto all = rings(f);
  double lo = to_chart(all[0][0]).v, hi = lo;
  for (const auto& p : all[0]) {
    lo = std::min(lo, to_chart(p).v);
    hi = std::max(hi, to_chart(p).v);
  }
  // The widest stretch inside along a few levels, none of which passes a vertex.
  ChartPoint best = to_chart(all[0][0]);
  double widest = 0;
  for (int k = 1; k < 16; ++k) {
    const double v = lo + (hi - lo) * k / 16 + kPitch / 3;
    std::vector<double> cuts;
    for (const auto& ring : all)
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const ChartPoint a = to_chart(ring[i]), b = to_chart(ring[(i + 1) % ring.size()]);
        if ((a.v > v) != (b.v > v)) cuts.push_back(a.u + (b.u - a.u) * ((v - a.v) / (b.v - a.v)));
      }
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); i += 2)
      if (cuts[i + 1] - cuts[i] > widest) {
        widest = cuts[i + 1] - cuts[i];
        best = {(cuts[i] + cuts[i + 1]) / 2, v};
      }
  }
  return best;
}

}  // namespace pontata
