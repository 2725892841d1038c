#include "editor/view/wall_drawing.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "engine/seams/cut_contacts.h"

namespace pontata {
namespace {

std::array<float, 3> narrow(const Vec3& v) {
  return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}
std::array<float, 2> narrow(ChartPoint p) { return {static_cast<float>(p.u), static_cast<float>(p.v)}; }

Vec3 widen(const std::array<float, 3>& a) { return {a[0], a[1], a[2]}; }

// Whether the straight piece from the first's beginning to the last's end stays near all ends between.
bool passes_near(std::span<const LinePiece> run, double tolerance) {
  const Vec3 from = widen(run.front().from_place), way = widen(run.back().to_place) - from;
  const double square = glm::dot(way, way);
  return std::all_of(run.begin(), run.end() - 1, [&](const LinePiece& piece) {
    const Vec3 d = widen(piece.to_place) - from;
    const double t = square > 0 ? std::clamp(glm::dot(d, way) / square, 0.0, 1.0) : 0;
    return glm::length(d - t * way) <= tolerance;
  });
}

// A segment of one seam; straight chart segments longer than this are walked over the surface anyway.
void add_segment(LinePieces& out, const ChartedWall& wall, const Vec3& origin, LatticePoint a, LatticePoint b,
                 double& along) {
  const std::vector<WallPoint> path = wall.metric->trace(a, b);
  const SurfaceMesh& mesh = wall.mesh();
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    const ChartPoint c0 = wall.chart->address(path[i]), c1 = wall.chart->address(path[i + 1]);
    out.push_back({narrow(position(mesh, path[i]) - origin), narrow(position(mesh, path[i + 1]) - origin), narrow(c0),
                   narrow(c1), static_cast<float>(along), narrow(normal(mesh, path[i]))});
    along += glm::length(to_vec(c1) - to_vec(c0));
  }
}

std::uint8_t label_in(const Giornata& g, bool chosen) {
  const auto state = static_cast<std::uint8_t>(static_cast<int>(g.state) + 1);
  return chosen ? static_cast<std::uint8_t>(state | kChosenLabel) : state;
}

// Half-edges along a cut, by what lies over it.
struct CutSides {
  std::set<HalfEdgeId> own;     // mostly the same giornata, or rest on both sides
  std::set<HalfEdgeId> others;  // mostly another

  CutSides(const Network& network, const Chart& chart) {
    std::map<HalfEdgeId, double> same;  // share of the half-edge, less that with another over it
    for (const auto& [h, c] : contacts_by_half_edge(cut_contacts(network, chart))) {
      const auto owner = [&](HalfEdgeId k) { return network.face(network.half_edge(k).face).owner; };
      same[h] += (owner(c.here) == owner(c.there) ? 1 : -1) * (c.to_here - c.from_here);
    }
    for (const auto& [h, share] : same) (share > 0 ? own : others).insert(h);
  }
};

bool is_border(const Network& network, HalfEdgeId h) {
  return network.half_edge(h).face == Network::kOutside ||
         network.half_edge(Network::twin(h)).face == Network::kOutside;
}

void add_seams(NetworkDrawing& out, const WallItem& item, const CutSides& cut, const Vec3& origin) {
  const Network& network = item.network;
  for (std::uint32_t h = 0; h + 1 < network.half_edge_slots(); h += 2) {
    const HalfEdgeId half{h};
    if (!network.alive(half)) continue;
    double along = 0;
    const bool seam = !is_border(network, half) || cut.others.contains(half) || cut.others.contains({h + 1});
    const auto layer = seam ? LineLayer::seams : LineLayer::border;
    add_segment(out.lines[static_cast<std::size_t>(layer)], *item.wall, origin, network.origin(half),
                network.target(half), along);
  }
}

}  // namespace

SurfaceDrawing draw_surface(const ChartedWall& wall) {
  constexpr std::uint32_t kNoVertex = 0xffffffffu;
  const SurfaceMesh& mesh = wall.mesh();
  SurfaceDrawing out;
  for (const Vec3& p : mesh.points) out.origin += p / static_cast<double>(mesh.points.size());
  out.indices.reserve(mesh.triangles.size() * 3);
  out.vertices.reserve(mesh.points.size());
  // Vertices of one point are a chain: the first by point, then from vertex to vertex.
  std::vector<std::uint32_t> first(mesh.points.size(), kNoVertex), next, facing_of;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t point = mesh.triangles[t][k], facing = mesh.corner_normals[t][k];
      std::uint32_t v = first[point];
      while (v != kNoVertex && facing_of[v] != facing) v = next[v];
      if (v == kNoVertex) {
        v = static_cast<std::uint32_t>(out.vertices.size());
        out.vertices.push_back({narrow(mesh.points[point] - out.origin), narrow(mesh.normals[facing]),
                                narrow(to_chart(wall.chart->places()[point]))});
        facing_of.push_back(facing);
        next.push_back(std::exchange(first[point], v));
      }
      out.indices.push_back(v);
    }
  }
  return out;
}

LinePieces merged(const LinePieces& pieces, double tolerance) {
  constexpr std::size_t kMost = 64;  // pieces in one
  LinePieces out;
  for (std::size_t begin = 0; begin < pieces.size();) {
    LinePiece joined = pieces[begin];
    std::size_t end = begin + 1;
    while (end < pieces.size() && end - begin < kMost && pieces[end].from_place == pieces[end - 1].to_place &&
           passes_near(std::span(pieces).subspan(begin, end - begin + 1), tolerance))
      ++end;
    joined.to_place = pieces[end - 1].to_place;
    joined.to_chart = pieces[end - 1].to_chart;
    out.push_back(joined);
    begin = end;
  }
  return out;
}

void add_line(LinePieces& out, const ChartedWall& wall, const Vec3& origin, std::span<const LatticePoint> line,
              bool closed) {
  double along = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) add_segment(out, wall, origin, line[i], line[i + 1], along);
  if (closed && line.size() > 1) add_segment(out, wall, origin, line.back(), line.front(), along);
}

namespace {

// The rim of a face, without the cuts inside its giornata.
void add_rim(LinePieces& out, const WallItem& item, const CutSides& cut, const Vec3& origin, FaceId face) {
  for (const auto& cycle : item.network.cycles(face)) {
    double along = 0;
    for (const HalfEdgeId h : cycle)
      if (!cut.own.contains(h))
        add_segment(out, *item.wall, origin, item.network.origin(h), item.network.target(h), along);
  }
}

}  // namespace

NetworkDrawing draw_network(const WallItem& item, std::span<const Giornata> giornate,
                            std::span<const GiornataId> chosen, const Vec3& origin) {
  NetworkDrawing out;
  const auto lines = [&](LineLayer layer) -> LinePieces& { return out.lines[static_cast<std::size_t>(layer)]; };
  const CutSides cut(item.network, *item.wall->chart);
  add_seams(out, item, cut, origin);
  for (const Giornata& g : giornate) {
    if (!g.alive || g.wall != item.id) continue;
    const bool is_chosen = std::find(chosen.begin(), chosen.end(), g.id) != chosen.end();
    for (const FaceId f : item.network.faces_of(g.id)) {
      const std::vector<Ring> rings = item.network.rings(f);
      out.faces.push_back(labelled_face(label_in(g, is_chosen), rings));
      if (g.state == GiornataState::today) add_rim(lines(LineLayer::today), item, cut, origin, f);
      if (is_chosen) add_rim(lines(LineLayer::chosen), item, cut, origin, f);
    }
  }
  for (const Zone& zone : item.zones)
    for (const Ring& ring : zone.rings())
      add_line(lines(zone.kind == ZoneKind::keep_whole ? LineLayer::keep_whole : LineLayer::detail), *item.wall, origin,
               ring, true);
  return out;
}

}  // namespace pontata
