// Patches laid flat beside a reference library, in one run: the same patches, the same yardstick.
//
// Oracle: CGAL 5.5, Surface_mesh_parameterization, least squares conformal maps (LSCM) and as rigid as possible (ARAP),
// out of the box. Both may choose their scale: each is measured after the one uniform scale that balances its greatest
// stretch and its greatest shrinking. Ours starts without the wall's chart, from the same triangles as theirs.
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Surface_mesh_parameterization/ARAP_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/Error_code.h>
#include <CGAL/Surface_mesh_parameterization/LSCM_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/parameterize.h>
#include <fmt/format.h>

#include <ctime>
#include <random>

#include "engine/flatten/flat_report.h"
#include "tests/flatten/hand_patches.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

using Kernel = CGAL::Simple_cartesian<double>;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;
using Vertex = boost::graph_traits<Mesh>::vertex_descriptor;
using Halfedge = boost::graph_traits<Mesh>::halfedge_descriptor;
namespace smp = CGAL::Surface_mesh_parameterization;

struct Result {
  double strain = 0, mean = 0, seconds = 0;
};

std::vector<RestTriangle> rest_of(const Patch& p) {
  std::vector<RestTriangle> out;
  for (const Triangle& t : p.triangles)
    out.push_back(
        rest_triangle({glm::distance(p.points[t[0]], p.points[t[1]]), glm::distance(p.points[t[1]], p.points[t[2]]),
                       glm::distance(p.points[t[2]], p.points[t[0]])}));
  return out;
}

// At the scale that balances stretching and shrinking.
Result measured(const Patch& p, std::vector<Vec2> flat) {
  const std::vector<RestTriangle> rest = rest_of(p);
  double most = 0, least = 1e300;
  const auto stretch = [&](std::size_t t) {
    const Triangle& v = p.triangles[t];
    return stretches(gradient(rest[t], flat[v[0]], flat[v[1]], flat[v[2]]));
  };
  for (std::size_t t = 0; t < rest.size(); ++t)
    most = std::max(most, stretch(t).greater), least = std::min(least, stretch(t).lesser);
  for (Vec2& q : flat) q *= 2 / (most + std::max(least, 0.0));
  Result out;
  double area = 0, squares = 0;
  for (std::size_t t = 0; t < rest.size(); ++t) {
    const Stretches s = stretch(t);
    const double a = s.greater - 1, b = s.lesser - 1;
    out.strain = std::max({out.strain, std::abs(a), std::abs(b)});
    squares += 0.5 * rest[t].area * (a * a + b * b), area += rest[t].area;
  }
  out.mean = std::sqrt(squares / area);
  return out;
}

// Processor time: neither side uses more than one thread.
template <class Work>
double seconds_of(Work&& work) {
  const std::clock_t start = std::clock();
  work();
  return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

template <class Method>
Result by_peer(const Patch& p) {
  Mesh mesh;
  for (const Vec3& q : p.points) mesh.add_vertex({q.x, q.y, q.z});
  for (const Triangle& t : p.triangles) mesh.add_face(Vertex(t[0]), Vertex(t[1]), Vertex(t[2]));
  auto uv = mesh.add_property_map<Vertex, Kernel::Point_2>("v:uv").first;
  const Halfedge rim = CGAL::Polygon_mesh_processing::longest_border(mesh).first;
  smp::Error_code code{};
  const double seconds = seconds_of([&] { code = smp::parameterize(mesh, Method(), rim, uv); });
  if (code != smp::OK) fmt::print("{}\n", smp::get_error_message(code));
  std::vector<Vec2> flat;
  for (const Vertex v : mesh.vertices()) flat.emplace_back(uv[v].x(), uv[v].y());
  double area = 0;  // LSCM chooses its own scale: to the order of one, so that the balancing finds it
  for (const Triangle& t : p.triangles) area += cross2(flat[t[1]] - flat[t[0]], flat[t[2]] - flat[t[0]]);
  if (area < 0)
    for (Vec2& q : flat) q.x = -q.x;
  Result out = measured(p, flat);
  out.seconds = seconds;
  return out;
}

Result by_us(const Patch& p) {
  std::vector<Vec2> flat;
  Result out;
  const double seconds = seconds_of([&] { flat = flatten(p).value().flat; });
  out = measured(p, flat);
  out.seconds = seconds;
  return out;
}

// A double curved wall, 1.4 x 1.4 m, with bumps of 60 to 300 mm and a roughness of 0.02 mm.
Patch bumpy(int n) {
  std::mt19937 dice(7);
  std::uniform_real_distribution<double> turn(0, 2 * kPi), size(0.06, 0.3);
  std::normal_distribution<double> rough(0, 2e-5);
  struct Wave {
    double x, y, phase, height;
  };
  std::vector<Wave> waves;
  for (int i = 0; i < 24; ++i) {
    const double length = size(dice), angle = turn(dice), k = 2 * kPi / length;
    waves.push_back({k * std::cos(angle), k * std::sin(angle), turn(dice), 0.002 * length});
  }
  Patch p = grid_patch(1.4, 1.4, n, n, [&](double u, double v) {
    double depth = 0.12 * ((u - 0.7) * (u - 0.7) + 0.6 * (v - 0.7) * (v - 0.7)) + rough(dice);
    for (const Wave& w : waves) depth += w.height * std::sin(w.x * u + w.y * v + w.phase);
    return Vec3{u, -depth, v};
  });
  return p;
}

void row(const char* name, Patch p) {
  p.places.clear();
  const Result ours = by_us(p);
  const auto print = [&](const char* method, const Result& r) {
    fmt::print("{:6} {:8} {:6} {:10.5f} {:10.5f} {:9.2f} {:9.2f}\n", name, p.triangles.size(), method, r.strain, r.mean,
               r.seconds, r.seconds / ours.seconds);
    std::fflush(stdout);
  };
  print("ours", ours);
  print("LSCM", by_peer<smp::LSCM_parameterizer_3<Mesh>>(p));
  print("ARAP", by_peer<smp::ARAP_parameterizer_3<Mesh>>(p));
}

}  // namespace

int main(int argc, char** argv) {
  const bool only_small = argc > 1 && std::string_view(argv[1]) == "--small";
  fmt::print("patch  triangles method greatest|s-1|  mean      seconds  x ours\n");
  row("dome", disc_patch(3, 0.75, 58));
  row("bumpy", bumpy(100));
  if (only_small) return 0;
  row("dome", disc_patch(3, 0.75, 183));
  row("bumpy", bumpy(316));
}
