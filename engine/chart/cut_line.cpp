// Based on: Erickson and Har-Peled, "Optimally Cutting a Surface into a Disk", 2004 (shortest paths and loops as cuts).
#include "engine/chart/cut_line.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <numeric>
#include <set>

#include "engine/base/units.h"
#include "engine/wall/edge_paths.h"
#include "engine/wall/scan_handles.h"
#include "engine/wall/scan_topology.h"

namespace pontata {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kChords = 64;        // a rim's shape is taken from as many chords
constexpr double kLeastEnd = 0.02;    // of the longest rim: shorter ones are holes
constexpr std::size_t kMostEnds = 6;  // that are tried against each other
constexpr double kUpright = 0.9;      // cosine to the vertical of a tube that is cut straight up
constexpr double kStanding = 0.7;     // cosine to the vertical of a tube that stands rather than lies
constexpr double kOffLine = 4;        // most that an edge off the line counts more than one on it

using Edges = std::set<std::pair<std::uint32_t, std::uint32_t>>;
using Path = std::vector<std::uint32_t>;

std::string place_words(const Vec3& p) {
  return fmt::format("X {}, Y {}, Z {} m", format_fixed(p.x, 2), format_fixed(p.y, 2), format_fixed(p.z, 2));
}

// ---- opening along edges

// Triangles at each of the points that the edges touch.
std::map<std::uint32_t, std::vector<std::uint32_t>> fans_along(const SurfaceMesh& mesh, const Edges& cut) {
  std::map<std::uint32_t, std::vector<std::uint32_t>> fans;
  for (const auto& [a, b] : cut) fans[a], fans[b];
  std::vector<char> touched(mesh.points.size(), false);
  for (const auto& fan : fans) touched[fan.first] = true;
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t)
    for (const auto p : mesh.triangles[t])
      if (touched[p]) fans[p].push_back(t);
  return fans;
}

// The parts into which the cut takes the fan of p: for each triangle of the fan the first one of its part.
Path parts_of_fan(const SurfaceMesh& mesh, const std::vector<Triangle>& across, const Edges& cut, std::uint32_t p,
                  const Path& fan) {
  Path part(fan.size());
  std::iota(part.begin(), part.end(), 0u);
  for (bool changed = true; changed;) {
    changed = false;
    for (std::size_t i = 0; i < fan.size(); ++i)
      for (std::size_t k = 0; k < 3; ++k) {
        const std::uint32_t a = mesh.triangles[fan[i]][k], b = mesh.triangles[fan[i]][(k + 1) % 3];
        const std::uint32_t n = across[fan[i]][k];
        if ((a != p && b != p) || n == kNoNeighbour || cut.contains(std::minmax(a, b))) continue;
        const auto j = static_cast<std::size_t>(std::find(fan.begin(), fan.end(), n) - fan.begin());
        const std::uint32_t least = std::min(part[i], part[j]);
        changed = changed || part[i] != least || part[j] != least;
        part[i] = part[j] = least;
      }
  }
  return part;
}

void open_along(SurfaceMesh& mesh, const Edges& cut) {
  const auto across = link_triangles(mesh.points, mesh.triangles);
  std::vector<Triangle> triangles = mesh.triangles;
  for (const auto& [p, fan] : fans_along(mesh, cut)) {
    const Path part = parts_of_fan(mesh, across, cut, p, fan);
    std::map<std::uint32_t, std::uint32_t> named{{0u, p}};  // the part of the first triangle keeps the point
    for (std::size_t i = 0; i < fan.size(); ++i) {
      const auto [name, is_new] = named.try_emplace(part[i], static_cast<std::uint32_t>(mesh.points.size()));
      if (is_new) mesh.points.push_back(Vec3(mesh.points[p]));
      std::replace(triangles[fan[i]].begin(), triangles[fan[i]].end(), p, name->second);
    }
  }
  mesh.triangles = std::move(triangles);
}

CutLine line_of(const std::vector<Vec3>& points, const Path& path, bool loop) {
  CutLine line;
  line.loop = loop;
  const std::size_t edges = path.size() - (loop ? 0 : 1);
  const auto length = [&](std::size_t i) { return glm::length(points[path[(i + 1) % path.size()]] - points[path[i]]); };
  for (std::size_t i = 0; i < edges; ++i) line.length_m += length(i);
  double along = 0;
  std::size_t i = 0;
  for (; i + 1 < edges && along + length(i) < 0.5 * line.length_m; ++i) along += length(i);
  line.at = points[path[i]];
  return line;
}

// ---- bridges and tunnels

Result<std::vector<CutLine>> open_handles(SurfaceMesh& mesh, const std::string& name) {
  std::vector<CutLine> lines;
  for (std::size_t before = std::numeric_limits<std::size_t>::max();;) {
    const auto across = link_triangles(mesh.points, mesh.triangles);
    const auto rims = border_loops(mesh.points, mesh.triangles, across);
    const std::size_t handles = count_handles(mesh.triangles, across, rims.size());
    if (handles == 0) return lines;
    const auto loops = handle_loops(mesh.points, mesh.triangles, rims);
    if (loops.empty() || handles >= before)
      return Problem{"the surface hangs together in a way that cannot be cut open near " +
                         place_words(lines.empty() ? mesh.points[mesh.triangles[0][0]] : lines.back().at),
                     name, "Cut the bridge away in the scan, or bring in the wall in parts"};
    before = handles;
    const Path& loop = loops.front();
    Edges cut;
    for (std::size_t i = 0; i < loop.size(); ++i) cut.insert(std::minmax({loop[i], loop[(i + 1) % loop.size()]}));
    lines.push_back(line_of(mesh.points, loop, true));
    open_along(mesh, cut);
  }
}

// ---- tubes

struct Rim {
  Path points;
  double turning = 0, length = 0;
  Vec3 middle{0, 0, 0};
};

// Points of a loop about a 64th of its length apart.
Path sampled(const std::vector<Vec3>& points, const Path& loop) {
  const double stride = loop_length(points, loop) / kChords;
  Path out{loop[0]};
  double along = 0;
  for (std::size_t i = 1; i < loop.size(); ++i) {
    along += glm::length(points[loop[i]] - points[loop[i - 1]]);
    if (along >= stride) out.push_back(loop[i]), along = 0;
  }
  return out.size() < 6 ? loop : out;
}

Rim shape_of_rim(const SurfaceMesh& mesh, const std::vector<Vec3>& facing, const Path& loop) {
  Rim rim{loop};
  const Path line = sampled(mesh.points, loop);
  const std::size_t n = line.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3 &a = mesh.points[line[i]], &b = mesh.points[line[(i + 1) % n]], &c = mesh.points[line[(i + 2) % n]];
    const Vec3& up = facing[line[(i + 1) % n]];
    const Vec3 in = (b - a) - glm::dot(b - a, up) * up, out = (c - b) - glm::dot(c - b, up) * up;
    rim.turning += std::atan2(glm::dot(up, glm::cross(in, out)), glm::dot(in, out));
    const double length = glm::length(b - a);
    rim.length += length;
    rim.middle += 0.5 * length * (a + b);
  }
  rim.middle /= rim.length;
  return rim;
}

// The wall as the search for a line sees it.
struct Wall {
  std::vector<Rim> rims;         // longest first
  std::vector<SheetEdge> edges;  // once they are asked for
  std::vector<Vec3> facing;      // of every point, toward the painter
  explicit Wall(const SurfaceMesh& mesh) : facing(mesh.points.size(), Vec3{0, 0, 0}) {
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
      for (std::size_t k = 0; k < 3; ++k) facing[mesh.triangles[t][k]] = mesh.normals[mesh.corner_normals[t][k]];
    const auto loops = border_loops(mesh.points, mesh.triangles, link_triangles(mesh.points, mesh.triangles));
    for (const auto& loop : loops) rims.push_back(shape_of_rim(mesh, facing, loop));
  }
  void find_edges(const SurfaceMesh& mesh) {
    std::vector<Path> loops;
    for (const Rim& rim : rims) loops.push_back(rim.points);
    edges = sheet_edges(mesh.points, mesh.triangles, loops);
  }
  const Rim& with(std::uint32_t point) const {
    return *std::find_if(rims.begin(), rims.end(), [&](const Rim& r) {
      return std::find(r.points.begin(), r.points.end(), point) != r.points.end();
    });
  }
};

// Rims that may be ends of a tube.
std::vector<const Rim*> tube_ends(const Wall& wall) {
  std::vector<const Rim*> ends;
  double longest = 0;
  for (const Rim& rim : wall.rims) longest = std::max(longest, rim.length);
  for (const Rim& rim : wall.rims) {
    if (rim.length < kLeastEnd * longest) continue;
    if (rim.turning > kPi) return {};  // a disc's outer rim: the others are its openings
    if (rim.turning > -kPi && ends.size() < kMostEnds) ends.push_back(&rim);
  }
  return ends;
}

std::uint32_t nearest_point(const std::vector<Vec3>& points, const Vec3& p) {
  std::uint32_t best = 0;
  for (std::uint32_t i = 1; i < points.size(); ++i)
    if (glm::dot(points[i] - p, points[i] - p) < glm::dot(points[best] - p, points[best] - p)) best = i;
  return best;
}

std::uint32_t nearest_of(const PathTree& tree, const Path& rim) {
  return *std::min_element(rim.begin(), rim.end(), [&](auto a, auto b) { return tree.far[a] < tree.far[b]; });
}

// The two ends of one tube, as points on their rims: those nearest to the wanted place, else those most alike.
std::optional<std::array<std::uint32_t, 2>> first_pair(const SurfaceMesh& mesh, const Wall& wall,
                                                       const std::optional<std::uint32_t>& wanted) {
  const auto ends = tube_ends(wall);
  std::optional<std::array<std::uint32_t, 2>> best;
  double least = std::numeric_limits<double>::infinity();
  std::vector<double> to_wanted;
  for (std::size_t i = 0; i < ends.size() && ends.size() > 1; ++i) {
    const PathTree tree = shortest_paths(mesh.points.size(), wall.edges, ends[i]->points);
    to_wanted.push_back(wanted ? tree.far[*wanted] : 0);
    for (std::size_t j = 0; j < i; ++j) {
      const double way = tree.far[nearest_of(tree, ends[j]->points)];
      const double dish = std::abs(ends[i]->length - ends[j]->length) / (kPi * way);
      const double rank = wanted ? to_wanted[i] + to_wanted[j] : dish;
      if (dish < 1 && rank < least) least = rank, best = {ends[j]->points[0], ends[i]->points[0]};
    }
  }
  return best;
}

// Where a tube is cut when nobody says: half way between its ends, on the side of -X, or below where it lies.
std::uint32_t usual_place(const std::vector<Vec3>& points, const Wall& wall, const Rim& one, const Rim& other,
                          const Vec3& axis) {
  const PathTree from = shortest_paths(points.size(), wall.edges, one.points);
  const PathTree to = shortest_paths(points.size(), wall.edges, other.points);
  const double width = 0.05 * from.far[nearest_of(from, other.points)];
  Path half_way;
  for (std::uint32_t i = 0; i < points.size(); ++i)
    if (std::abs(from.far[i] - to.far[i]) < width) half_way.push_back(i);
  if (half_way.empty()) return one.points[0];
  Vec3 middle{0, 0, 0};
  for (const auto i : half_way) middle += points[i] / static_cast<double>(half_way.size());
  const Vec3 side = std::abs(axis.z) > kStanding ? Vec3{-1, 0, 0} : Vec3{0, 0, -1};
  std::uint32_t best = half_way[0];
  double least = std::numeric_limits<double>::infinity();
  for (const auto i : half_way) {
    const Vec3 way = points[i] - middle;
    const double out = glm::dot(way, side), off = glm::length(way - out * side);
    if (out > 0 && off < least) least = off, best = i;
  }
  return best;
}

// Ways from `through` along edges that keep near the plane through it along the axis.
PathTree ways_along(const SurfaceMesh& mesh, const Wall& wall, std::uint32_t through, const Vec3& axis) {
  const Vec3 along = std::abs(axis.z) > kUpright ? Vec3{0, 0, 1} : axis;
  const Vec3 across = glm::cross(along, wall.facing[through]);
  const double size = glm::length(across);
  std::vector<SheetEdge> edges = wall.edges;
  double mean = 0;
  for (const SheetEdge& e : edges) mean += e.length / static_cast<double>(edges.size());
  for (SheetEdge& e : edges) {
    const Vec3 middle = 0.5 * (mesh.points[e.a] + mesh.points[e.b]) - mesh.points[through];
    const double off = size > 1e-6 ? std::abs(glm::dot(middle, across)) / size : 0;
    e.length *= 1 + std::min(off / (2 * mean), kOffLine);
  }
  return shortest_paths(mesh.points.size(), edges, {through});
}

// The stretches of a path that need a cut: where it comes to a rim it goes on from where it last touches that rim.
Edges cut_edges(const Path& path, const std::vector<Rim>& rims, std::size_t points) {
  std::vector<std::uint32_t> rim_of(points, kNoNeighbour);
  for (std::uint32_t r = 0; r < rims.size(); ++r)
    for (const auto p : rims[r].points) rim_of[p] = r;
  Edges cut;
  for (std::size_t i = 0;; ++i) {
    if (const std::uint32_t r = rim_of[path[i]]; r != kNoNeighbour)
      for (std::size_t j = path.size(); j-- > i;)
        if (rim_of[path[j]] == r) {
          i = j;
          break;
        }
    if (i + 1 >= path.size()) return cut;
    cut.insert(std::minmax({path[i], path[i + 1]}));
  }
}

// Cuts from the rim that holds the point a to the rim that holds b.
CutLine cut_between(SurfaceMesh& mesh, const Wall& wall, std::uint32_t a, std::uint32_t b,
                    const std::optional<std::uint32_t>& wanted) {
  const Rim &one = wall.with(a), &other = wall.with(b);
  const Vec3 way = other.middle - one.middle;
  const Vec3 axis = glm::length(way) > 1e-9 ? glm::normalize(way) : Vec3{0, 0, 1};
  const auto through = wanted ? *wanted : usual_place(mesh.points, wall, one, other, axis);
  const PathTree tree = ways_along(mesh, wall, through, axis);
  const Path path = path_through(tree, nearest_of(tree, one.points), nearest_of(tree, other.points));
  const CutLine line = line_of(mesh.points, path, false);
  open_along(mesh, cut_edges(path, wall.rims, mesh.points.size()));
  return line;
}

std::vector<CutLine> open_tubes(SurfaceMesh& mesh, const std::optional<Vec3>& cut_at) {
  std::vector<CutLine> lines;
  std::optional<Wall> wall(mesh);
  if (tube_ends(*wall).size() < 2) return lines;
  wall->find_edges(mesh);
  std::optional<std::uint32_t> wanted;
  if (cut_at) wanted = nearest_point(mesh.points, *cut_at);
  const auto pair = first_pair(mesh, *wall, wanted);
  if (!pair) return lines;
  const auto [a, b] = *pair;
  const double least = 0.5 * std::min(wall->with(a).length, wall->with(b).length);
  Path others;  // further ends as wide as these
  for (const Rim* end : tube_ends(*wall))
    if (end->points[0] != a && end->points[0] != b && end->length >= least) others.push_back(end->points[0]);
  lines.push_back(cut_between(mesh, *wall, a, b, wanted));
  for (const auto end : others) {
    wall.emplace(mesh).find_edges(mesh);
    if (&wall->with(a) != &wall->with(end)) lines.push_back(cut_between(mesh, *wall, a, end, std::nullopt));
  }
  return lines;
}

}  // namespace

std::vector<std::string> CutReport::says() const {
  std::vector<std::string> out;
  for (const CutLine& line : lines)
    out.push_back(line.loop ? fmt::format("a bridge or tunnel of the wall was cut open along a line {} m long near {}",
                                          format_fixed(line.length_m, 2), place_words(line.at))
                            : fmt::format("the wall goes all the way round: cut open along a line {} m long near {}; "
                                          "--cut X,Y,Z moves it",
                                          format_fixed(line.length_m, 2), place_words(line.at)));
  return out;
}

Result<CutReport> cut_round_walls(SurfaceMesh& mesh, const std::string& name, const std::optional<Vec3>& cut_at) {
  CutReport report;
  if (mesh.triangles.empty()) return report;
  auto loops = open_handles(mesh, name);
  if (!loops) return loops.problem();
  report.lines = std::move(*loops);
  for (CutLine& line : open_tubes(mesh, cut_at)) report.lines.push_back(line);
  return report;
}

}  // namespace pontata
