#include "engine/flatten/patch.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "engine/base/predicates.h"
#include "engine/flatten/flattening.h"
#include "engine/flatten/local_width.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = 3.14159265358979323846;

// A wavy closed line about (u, v), counter-clockwise, its points `n` apart unevenly.
Ring blob(double u, double v, double r, int n, double wave = 0.25) {
  Ring ring;
  for (int i = 0; i < n; ++i) {
    const double a = 2 * kPi * i / n, s = r * (1 + wave * std::sin(3 * a) + 0.5 * wave * std::cos(5 * a));
    ring.push_back(to_lattice({u + s * std::cos(a), v + s * std::sin(a)}));
  }
  return ring;
}

Ring turned(Ring ring) {
  std::reverse(ring.begin(), ring.end());
  return ring;
}

double area_of_sides(const Patch& patch) {
  double sum = 0;
  for (const auto& [a, b, c] : patch.sides) {
    const double s = (a + b + c) * (b + c - a) * (c + a - b) * (a + b - c);
    sum += 0.25 * std::sqrt(std::max(s, 0.0));
  }
  return sum;
}

double area_by_rim(const ChartedWall& wall, const std::vector<Ring>& rings) {
  EdgeMeasure sum;
  for (const Ring& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) sum += wall.metric->measure(ring[i], ring[(i + 1) % ring.size()]);
  return sum.area_m2;
}

// Every triangle right side up in the chart, areas adding up to the rings', rims in place, all ring points there.
void check_patch(const Patch& patch, const std::vector<Ring>& rings) {
  Int128 area = 0;
  for (const Ring& ring : rings) area += twice_area(ring);
  double sum = 0;
  for (const Triangle& t : patch.triangles) {
    const Vec2 a = to_vec(patch.places[t[0]]), b = to_vec(patch.places[t[1]]), c = to_vec(patch.places[t[2]]);
    CHECK(cross2(b - a, c - a) > 0);
    sum += cross2(b - a, c - a);
  }
  CHECK(sum == Approx(static_cast<double>(area) * kPitch * kPitch).epsilon(1e-7));  // rim points are rounded to pitches
  REQUIRE(patch.rims.size() == rings.size());
  REQUIRE(patch.corners.size() == rings.size());
  for (std::size_t n = 0; n < rings.size(); ++n) {
    REQUIRE(patch.corners[n].size() == rings[n].size());
    REQUIRE(patch.rim_lengths[n].size() == patch.rims[n].size());
    for (std::size_t i = 0; i < rings[n].size(); ++i) {
      const ChartPoint p = patch.places[patch.rims[n][patch.corners[n][i]]], q = to_chart(rings[n][i]);
      CHECK(std::hypot(p.u - q.u, p.v - q.v) < 1e-4);
    }
  }
}

}  // namespace

TEST_CASE("a giornata with a window in it, on a flat wall, is laid flat as it is") {
  const WallRef wall = flat_wall(4, 3);
  const std::vector<Ring> rings{blob(2, 1.5, 1, 90), turned(blob(2.1, 1.5, 0.2, 25))};
  const auto patch = make_patch(*wall, rings);
  REQUIRE(patch);
  check_patch(*patch, rings);
  CHECK(patch->points.size() > 1500);
  CHECK_FALSE(patch->sphere);
  const auto flat = flatten(*patch);
  REQUIRE(flat);
  CHECK_FALSE(flat->folded);
  CHECK(flat->max_strain < 1e-7);
  CHECK(flat->misfit_mm < 1e-5);
  CHECK(area_of_sides(*patch) == Approx(area_by_rim(*wall, rings)).epsilon(1e-7));
}

TEST_CASE("inside edges keep to the wanted length") {
  const WallRef wall = barrel_wall(4, 6, 2);
  const std::vector<Ring> rings{blob(3, 3, 0.8, 40)};
  const auto patch = make_patch(*wall, rings, {0.05});
  REQUIRE(patch);
  double longest = 0, sum = 0;
  int n = 0;
  for (const auto& sides : patch->sides)
    for (const double s : sides) longest = std::max(longest, s), sum += s, ++n;
  CHECK(longest < 0.05 * 1.75);
  CHECK(sum / n > 0.035);
  CHECK(sum / n < 0.06);
}

TEST_CASE("a barrel's patch is isometric and its area is the wall's") {
  for (const double rise : {2.0, 1.0}) {
    const WallRef wall = barrel_wall(4, 6, rise);
    const std::vector<Ring> rings{blob(2.5, 1.7, 0.7, 60)};
    const auto patch = make_patch(*wall, rings);
    REQUIRE(patch);
    check_patch(*patch, rings);
    CHECK_FALSE(patch->sphere);
    const auto flat = flatten(*patch);
    REQUIRE(flat);
    CHECK(flat->max_strain < 1e-6);
    CHECK(flat->misfit_mm < 1e-3);
    CHECK_FALSE(flat->least_strain);
    CHECK(area_of_sides(*patch) == Approx(area_by_rim(*wall, rings)).epsilon(1e-6));
  }
}

TEST_CASE("up at both springings of a barrel is up on the paper") {
  const WallRef wall = barrel_wall(4, 6, 2);
  const double arc = 2 * kPi;
  for (const double v : {0.8, arc - 0.8}) {
    const std::vector<Ring> rings{blob(3, v, 0.4, 30, 0)};
    const auto patch = make_patch(*wall, rings);
    REQUIRE(patch);
    const auto flat = flatten(*patch);
    REQUIRE(flat);
    CHECK(flat->up_by_height);
    std::size_t high = 0, low = 0;
    for (std::size_t i = 0; i < patch->points.size(); ++i) {
      if (patch->points[i].z > patch->points[high].z) high = i;
      if (patch->points[i].z < patch->points[low].z) low = i;
    }
    CHECK(flat->flat[high].y - flat->flat[low].y > 0.79);
  }
  const auto crown = make_patch(*wall, std::vector<Ring>{blob(3, arc / 2, 0.3, 30, 0)});
  REQUIRE(crown);
  const auto flat = flatten(*crown);
  REQUIRE(flat);
  CHECK_FALSE(flat->up_by_height);
}

TEST_CASE("a dome's patch comes near Milnor's bound for its largest disc") {
  const WallRef wall = dome_wall(6, 3);
  const double middle = wall->chart->box().width / 2;
  // a round patch about the crown is a geodesic disc: area 2 pi R^2 (1 - cos alpha)
  for (const double area : {1.0, 2.0}) {
    const double alpha = std::acos(1 - area / (2 * kPi * 9));
    const std::vector<Ring> rings{blob(middle, middle, 3 * alpha, 120, 0)};
    const auto patch = make_patch(*wall, rings);
    REQUIRE(patch);
    check_patch(*patch, rings);
    REQUIRE(patch->sphere);
    CHECK(patch->sphere->radius == Approx(3).epsilon(1e-4));
    const auto flat = flatten(*patch);
    REQUIRE(flat);
    CHECK_FALSE(flat->folded);
    REQUIRE(flat->least_strain);
    CHECK(*flat->least_strain == Approx(least_strain_of_disc(alpha)).epsilon(0.02));
    CHECK(flat->max_strain < 1.05 * *flat->least_strain);
    CHECK(flat->max_strain > 0.9 * *flat->least_strain);
    CHECK(area_of_sides(*patch) == Approx(area_by_rim(*wall, rings)).epsilon(2e-4));
  }
}

TEST_CASE("any patch of a dome respects the bound") {
  const WallRef wall = dome_wall(6, 3);
  for (int i = 0; i < 6; ++i) {
    const double a = i, u = wall->chart->box().width / 2 + 0.5 * i * std::cos(a);
    const double v = wall->chart->box().height / 2 + 0.5 * i * std::sin(a);
    const auto patch = make_patch(*wall, std::vector<Ring>{blob(u, v, 0.6, 70)});
    REQUIRE(patch);
    const auto flat = flatten(*patch);
    REQUIRE(flat);
    REQUIRE(flat->least_strain);
    INFO(i << " strain " << flat->max_strain << " bound " << *flat->least_strain);
    CHECK(flat->max_strain > 0.9 * *flat->least_strain);
    CHECK(flat->max_strain < 4 * *flat->least_strain);
  }
}

TEST_CASE("patches of an apse: the drum is developable, the half dome a sphere, across both neither") {
  const WallRef wall = apse_wall(5, 3);
  const double u = wall->chart->box().width / 2;
  const auto strain = [&](double v, bool& sphere) {
    const auto patch = make_patch(*wall, std::vector<Ring>{blob(u, v, 0.6, 60)});
    REQUIRE(patch);
    const auto flat = flatten(*patch);
    REQUIRE(flat);
    CHECK_FALSE(flat->folded);
    sphere = flat->least_strain.has_value();
    return flat->max_strain;
  };
  bool sphere = true;
  CHECK(strain(1.5, sphere) < 1e-6);
  CHECK_FALSE(sphere);
  const double dome = strain(4.2, sphere);
  CHECK(sphere);
  CHECK(dome < 0.03);
  CHECK(strain(3, sphere) < 0.03);
  CHECK_FALSE(sphere);
}

TEST_CASE("near the top of an apse, where its chart is strongly sheared") {
  const WallRef wall = apse_wall(5, 3);
  const double top = wall->chart->box().height;
  // a narrow lune near one side of the half dome
  const double theta = 0.9, r = 2.5, v = 3 + r * theta;
  REQUIRE(v < top);
  const double u = r * kPi / 2 + r * std::cos(theta) * 1.1;
  const auto patch = make_patch(*wall, std::vector<Ring>{blob(u, v, 0.3, 50, 0)});
  REQUIRE(patch);
  const auto flat = flatten(*patch);
  REQUIRE(flat);
  CHECK_FALSE(flat->folded);
  REQUIRE(flat->least_strain);
  CHECK(flat->max_strain < 5 * *flat->least_strain);
}

TEST_CASE("neighbours divide a shared stretch alike") {
  const WallRef wall = dome_wall(6, 3);
  const double c = wall->chart->box().width / 2;
  const auto at = [&](double u, double v) { return to_lattice({c + u, c + v}); };
  const Ring left{at(-0.7, -0.4), at(0.013, -0.41), at(0.021, 0.377), at(-0.6, 0.5)};
  const Ring right{at(0.013, -0.41), at(0.8, -0.3), at(0.7, 0.6), at(0.021, 0.377)};
  const auto a = make_patch(*wall, std::vector<Ring>{left}),
             b = make_patch(*wall, std::vector<Ring>{right}, {0.03, 300});
  REQUIRE(a);
  REQUIRE(b);
  const auto stretch = [](const Patch& p, std::size_t from, std::size_t to) {
    std::vector<std::pair<double, double>> out;
    const auto& rim = p.rims[0];
    for (std::size_t i = p.corners[0][from];; i = (i + 1) % rim.size()) {
      out.emplace_back(p.places[rim[i]].u, p.places[rim[i]].v);
      if (i == p.corners[0][to]) return out;
    }
  };
  auto one = stretch(*a, 1, 2), two = stretch(*b, 3, 0);
  std::reverse(two.begin(), two.end());
  CHECK(one.size() > 20);
  CHECK(one == two);
}

TEST_CASE("corners nearer than 20 micrometres share a point, none is lost") {
  const WallRef wall = flat_wall(4, 3);
  Ring ring = blob(2, 1.5, 0.5, 40);
  Ring crowded;
  for (const LatticePoint p : ring) {
    crowded.push_back(p);
    crowded.push_back({p.x + 300, p.y + 200});  // a micrometre on
  }
  const std::vector<Ring> rings{crowded};
  const auto patch = make_patch(*wall, rings);
  REQUIRE(patch);
  check_patch(*patch, {crowded});
  for (const auto& s : patch->sides) CHECK(*std::min_element(s.begin(), s.end()) > 1e-5);
  const auto flat = flatten(*patch);
  REQUIRE(flat);
  CHECK(flat->max_strain < 1e-6);
}

TEST_CASE("needle tips, touching holes and pinched outlines") {
  const WallRef wall = barrel_wall(4, 6, 2);
  const auto at = [](double u, double v) { return to_lattice({u, v}); };
  // a needle 2 m long and 0.1 mm wide on one side
  const std::vector<Ring> needle{
      {at(1, 1), at(1.5, 1), at(3.5, 1.25), at(1.5, 1.5), at(1.4998, 3.4), at(1.4997, 1.5), at(1, 1.5)}};
  // a window that touches the outline in a corner
  const std::vector<Ring> touching{{at(1, 1), at(2, 1), at(2, 2), at(1, 2)}, {at(2, 2), at(1.7, 1.8), at(1.6, 1.9)}};
  // an outline that passes twice through one point
  const std::vector<Ring> pinched{{at(1, 1), at(2, 2), at(2.5, 1), at(3, 3), at(2, 2), at(1.1, 3)}};
  for (const auto& rings : {needle, touching, pinched}) {
    const auto patch = make_patch(*wall, rings);
    REQUIRE(patch);
    const auto flat = flatten(*patch);
    REQUIRE(flat);
    CHECK_FALSE(flat->folded);
    CHECK(flat->max_strain < 1e-5);
    CHECK(flat->misfit_mm < 0.01);
  }
}

TEST_CASE("outlines that cannot be are refused in plain words") {
  const WallRef wall = flat_wall(4, 3);
  const auto at = [](double u, double v) { return to_lattice({u, v}); };
  CHECK_FALSE(make_patch(*wall, {}));
  CHECK_FALSE(make_patch(*wall, std::vector<Ring>{{at(1, 1), at(2, 1)}}));
  const auto crossed = make_patch(*wall, std::vector<Ring>{{at(1, 1), at(2, 2), at(2, 1), at(1, 2.5)}});
  REQUIRE_FALSE(crossed);
  CHECK(crossed.problem().what == "the outline crosses itself");
}

TEST_CASE("the spacing grows until the patch fits its limit") {
  const WallRef wall = flat_wall(20, 10);
  const std::vector<Ring> rings{{to_lattice({0, 0}), to_lattice({20, 0}), to_lattice({20, 10}), to_lattice({0, 10})}};
  const auto patch = make_patch(*wall, rings, {0.03, 20000});
  REQUIRE(patch);
  CHECK(patch->points.size() < 20000);
  CHECK(patch->points.size() > 10000);
}

TEST_CASE("a thin place on a dome is measured on the surface, not in the chart") {
  // far from the crown the chart stretches widths round it: a band 25 mm wide there is wider in the chart
  const WallRef wall = dome_wall(6, 3);
  const double c = wall->chart->box().width / 2, R = 3, theta = 1.2, half = 0.0125;
  Ring ring;
  const auto at = [&](double angle, double across) {
    // a meridian strip: `across` is the surface distance from the meridian at angle 0
    const double s = R * angle, phi = across / (R * std::sin(angle));
    ring.push_back(to_lattice({c + s * std::cos(phi), c + s * std::sin(phi)}));
  };
  for (int i = 0; i <= 20; ++i) at(theta + 0.01 * i, -half);
  for (int i = 20; i >= 0; --i) at(theta + 0.01 * i, half);
  const auto patch = make_patch(*wall, std::vector<Ring>{ring}, {0.01});
  REQUIRE(patch);
  const auto flat = flatten(*patch);
  REQUIRE(flat);
  const auto thin = thin_place(*patch, *flat, 0.03, 20);
  REQUIRE(thin);
  CHECK(thin->width_m == Approx(0.025).margin(2e-4));
  CHECK(wall->chart->triangle_at(to_lattice(thin->at)));
  const double chart_width = 2 * half * (theta + 0.1) / std::sin(theta + 0.1);
  CHECK(chart_width > 0.033);
}
