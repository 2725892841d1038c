#include "engine/plaster/levelling.h"

#include <catch2/catch.hpp>

#include "engine/plaster/high_spots.h"
#include "engine/seams/outline_edit.h"
#include "tests/fixtures/level_walls.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

LevelCoat level(const WallRef& wall, const LevelSettings& settings = {}) {
  auto coat = level_wall(*wall, settings, "test");
  if (!coat) FAIL(coat.problem().message());
  return *coat;
}

double spread_mm(const LevelCoat& coat) { return 1000 * (coat.greatest_m - coat.thinnest_m); }

// How the depths differ from what the rise says they should be behind the face of the coat.
struct Errors {
  double rms_mm = 0, most_mm = 0;
};
Errors errors(const ChartedWall& wall, const UnevenWall& of, const LevelCoat& coat, double shift) {
  Errors out;
  for (std::size_t i = 0; i < coat.depth_m.size(); ++i) {
    const ChartPoint p = to_chart(wall.chart->places()[i]);
    const double off = 1000 * (coat.depth_m[i] - std::max(0.0, shift - of.rise(p.u, p.v)));
    out.rms_mm += off * off;
    out.most_mm = std::max(out.most_mm, std::abs(off));
  }
  out.rms_mm = std::sqrt(out.rms_mm / static_cast<double>(coat.depth_m.size()));
  return out;
}

std::function<double(double, double)> gaussian_dent(double depth, double sigma, double u0, double v0) {
  return [=](double u, double v) {
    return -depth * std::exp(-((u - u0) * (u - u0) + (v - v0) * (v - v0)) / (2 * sigma * sigma));
  };
}

Network network_of(const ChartedWall& wall) {
  return Network::from_border(wall.chart->border_rings(), wall.metric->meter()).value();
}

}  // namespace

TEST_CASE("a true plane, upright or leaning, gets the least thickness and nothing is levelled") {
  UnevenWall wall = plane_wall(3, 2);
  wall.edge = 0.025;
  CHECK(spread_mm(level(uneven(wall))) < 1e-6);
  const Vec3 lean = glm::normalize(Vec3{0, 0.06, 1});  // 60 mm to the metre out of plumb
  wall.place = [=](double u, double v) { return Vec3{u, 0, 0} + v * lean; };
  wall.normal = [=](double, double) { return glm::normalize(glm::cross(Vec3{1, 0, 0}, lean)); };
  const LevelCoat coat = level(uneven(wall));
  CHECK(spread_mm(coat) < 1e-6);
  CHECK(coat.total_m3 == Approx(6 * 0.008).epsilon(1e-6));
  CHECK(coat.high_spots.empty());
}

TEST_CASE("a barrel and a dome are not flattened, up to their very border") {
  for (const double radius : {0.5, 1.0, 2.0, 4.0}) {
    INFO("radius " << radius);
    UnevenWall barrel = cylinder_wall(radius, 2, std::min(2.4 * radius, 3.0));
    UnevenWall dome = sphere_wall(radius, std::min(1.5 * radius, 2.0));
    barrel.edge = dome.edge = radius < 1 ? 0.0125 : 0.025;
    CHECK(spread_mm(level(uneven(barrel))) < 0.5);
    CHECK(spread_mm(level(uneven(dome))) < 0.5);
  }
}

TEST_CASE("the coat in a barrel follows the parallel surface") {
  // Closed form: shell between cylinders of radius r and r - t, per metre t - t^2/(2r) of flat area times t.
  const double radius = 0.5, arc = 1.2, t = 0.008;
  const LevelCoat coat = level(uneven(cylinder_wall(radius, 1.5, arc)));
  CHECK(coat.total_m3 == Approx(1.5 * arc * t * (1 - t / (2 * radius))).epsilon(1e-3));
  CHECK(coat.flat_m3 == Approx(1.5 * arc * t).epsilon(1e-3));
  CHECK(coat.total_m3 < 0.995 * coat.flat_m3);
}

TEST_CASE("a dent under 1 mm of noise is found: depth within a millimetre, volume within 2 %") {
  // Closed form: a Gaussian dent of depth A and width sigma holds 2 pi A sigma^2.
  const double depth = 0.020, sigma = 0.15;
  const double dent = 2 * std::numbers::pi * depth * sigma * sigma;
  for (const bool vaulted : {false, true}) {
    INFO((vaulted ? "barrel" : "plane"));
    UnevenWall of = vaulted ? cylinder_wall(2, 3, 2) : plane_wall(3, 2);
    of.rise = gaussian_dent(depth, sigma, 1.4, 1.1);
    of.noise = 0.001;
    of.edge = 0.010;
    const WallRef wall = uneven(of);
    const LevelCoat coat = level(wall);
    // Noise lifts the coat by what half a per cent of the area demands; the same wall without noise says how much.
    CHECK(coat.shift_m == Approx(0.008).margin(0.0005));
    const Errors off = errors(*wall, of, coat, coat.shift_m);
    CHECK(off.rms_mm < 0.25);
    CHECK(off.most_mm < 1.0);
    const double flat = coat.shift_m * 6 + dent;
    CHECK(coat.flat_m3 == Approx(flat).epsilon(0.01));
    CHECK(coat.greatest_m == Approx(coat.shift_m + depth).margin(0.001));
    CHECK(coat.high_spots.empty());
  }
}

TEST_CASE("waves of 0.6 m are levelled, waves of 6 m are the wall's own shape") {
  const double height = 0.005;
  const auto waves = [&](double length) {
    UnevenWall of = plane_wall(3.6, 2.4);
    of.edge = 0.02;
    of.rise = [=](double u, double) { return height * std::cos(2 * std::numbers::pi * u / length); };
    return level(uneven(of));
  };
  const LevelCoat coat = waves(0.6);
  // Every crest must be covered: the mean is the least thickness and the wave's height, less the half per cent.
  CHECK(1000 * coat.mean_m == Approx(13).margin(0.6));  // 5 % of it: a crest at the border is drawn in a little
  CHECK(1000 * coat.greatest_m == Approx(18).margin(1));
  CHECK(coat.thin_share <= kHighShare + 1e-3);
  CHECK(spread_mm(waves(6)) < 1.5);
}

TEST_CASE("a bump that all the coat would have to cover is a high spot, told with place, height and area") {
  UnevenWall of = plane_wall(3, 2);
  of.edge = 0.0125;
  const auto bump = gaussian_dent(-0.015, 0.03, 2.0, 0.6);  // 15 mm high, some 10 cm across
  of.rise = bump;
  const LevelCoat coat = level(uneven(of));
  REQUIRE(coat.high_spots.size() == 1);
  const HighSpot& spot = coat.high_spots.front();
  CHECK(glm::length(spot.at - Vec3{2, 0, 0.6}) < 0.03);
  CHECK(spot.place.u == Approx(2).margin(0.02));
  // The trowel's patch rounds so small a bump; it must still be told as a good part of its height.
  CHECK(1000 * spot.height_m > 3);
  CHECK(1000 * spot.height_m < 15);
  CHECK(spot.area_m2 < 0.03);
  CHECK(coat.thin_share < 0.0065);
  const auto notes = level_notes(coat, {}, true);
  CHECK(std::any_of(notes.begin(), notes.end(),
                    [](const auto& n) { return n.find("conservator") != std::string::npos; }));
}

TEST_CASE("a wall that stands elsewhere, turned, has the same coat") {
  UnevenWall of = cylinder_wall(2, 2, 1.6);
  of.edge = 0.02;
  of.rise = gaussian_dent(0.012, 0.1, 0.9, 0.8);
  const LevelCoat here = level(uneven(of));
  UnevenWall moved = of;
  const double c = std::cos(0.7), s = std::sin(0.7);
  const auto turn = [=](const Vec3& p) { return Vec3{c * p.x - s * p.y, s * p.x + c * p.y, p.z}; };
  moved.place = [=](double u, double v) { return turn(of.place(u, v)) + Vec3{12, -7, 3}; };
  moved.normal = [=](double u, double v) { return turn(of.normal(u, v)); };
  const LevelCoat there = level(uneven(moved));
  CHECK(there.total_m3 == Approx(here.total_m3).epsilon(1e-5));  // normals are smoothed until 1e-6 of a step
  double most = 0;
  for (std::size_t i = 0; i < here.depth_m.size(); ++i)
    most = std::max(most, std::abs(here.depth_m[i] - there.depth_m[i]));
  CHECK(most < 1e-6);
}

TEST_CASE("giornate and rest share the whole volume") {
  UnevenWall of = cylinder_wall(2, 3, 2);
  of.edge = 0.02;
  of.rise = gaussian_dent(0.020, 0.15, 1.0, 1.0);
  const WallRef wall = uneven(of);
  const LevelCoat coat = level(wall);
  Network network = network_of(*wall);
  std::vector<Giornata> giornate;
  for (const double from : {0.1, 1.0, 1.7}) {
    Giornata& band = giornate.emplace_back();
    band.id = GiornataId{static_cast<std::uint32_t>(giornate.size())};
    Ring ring;
    for (const ChartPoint p : {ChartPoint{from, 0.3}, {from + 0.7, 0.2}, {from + 0.75, 1.5}, {from, 1.7}})
      ring.push_back(to_lattice(p));
    network = insert_outline(network, ring, giornate.back().id, wall->metric->meter()).value().network;
  }
  const LevelShares shares = level_shares(*wall, coat, network, giornate);
  REQUIRE(shares.giornate.size() == 3);
  double sum = shares.rest.volume_m3, area = shares.rest.area_m2;
  for (const auto& share : shares.giornate) sum += share.volume_m3, area += share.area_m2;
  CHECK(std::abs(sum - coat.total_m3) < 1e-9 * coat.total_m3);
  CHECK(std::abs(area - coat.area_m2) < 1e-9 * coat.area_m2);
  CHECK(std::abs(shares.residual_m3) < 1e-9 * coat.total_m3);
  // The dent's middle lies on the edge of the second outline.
  CHECK(shares.giornate[0].greatest_m < 0.025);
  CHECK(shares.giornate[1].greatest_m > 0.026);
  CHECK(shares.giornate[2].greatest_m < 0.010);
  const double mean = shares.giornate[2].volume_m3 / shares.giornate[2].area_m2;
  CHECK(mean == Approx(coat.shift_m * (1 - coat.shift_m / 4)).epsilon(0.02));
}

TEST_CASE("a round tower cut open for its chart is level across the cut") {
  const ShapeSpec spec{.kind = ShapeKind::drum, .height = 1.5, .span = 3, .angle_deg = 360};
  auto tower = std::make_shared<ChartedWall>(*built(spec, 0.001));
  REQUIRE(tower->chart->has_cuts());
  tower->scan = ScanReport{};
  const LevelCoat coat = level(tower);
  CHECK(spread_mm(coat) < 0.5);
  const auto& edges = tower->chart->border_edges();
  int seen = 0;
  for (std::uint32_t e = 0; e < edges.size(); ++e) {
    const auto other = tower->chart->across_cut(e);
    if (other == Chart::kNoTriangle) continue;
    const auto start = tower->mesh().triangles[edges[e].triangle][static_cast<std::size_t>(edges[e].side)];
    const auto& there = edges[other];
    const auto end = tower->mesh().triangles[there.triangle][static_cast<std::size_t>((there.side + 1) % 3)];
    CHECK(coat.depth_m[start] == coat.depth_m[end]);
    ++seen;
  }
  CHECK(seen > 0);
}

TEST_CASE("the share of a triangle below a limit") {
  CHECK(share_below({1, 2, 3}, 0.5) == 0);
  CHECK(share_below({1, 2, 3}, 4) == 1);
  CHECK(share_below({0, 2, 2}, 1) == Approx(0.25));
  CHECK(share_below({0, 0, 2}, 1) == Approx(0.75));
  CHECK(share_below({3, 1, 2}, 2) == Approx(0.5));
}

TEST_CASE("an analytic wall, wrong settings and Cancel are told in plain words") {
  const auto shape = level_wall(*flat_wall(2, 2), {}, "apse");
  REQUIRE_FALSE(shape.ok());
  CHECK(shape.problem().what.find("true already") != std::string::npos);
  UnevenWall of = plane_wall(1, 1);
  of.edge = 0.05;
  const WallRef wall = uneven(of);
  CHECK_FALSE(level_wall(*wall, {.straightedge_m = 0.1}, "w").ok());
  CHECK_FALSE(level_wall(*wall, {.least_mm = -1}, "w").ok());
  Progress progress;
  progress.cancelled = true;
  const auto stopped = level_wall(*wall, {}, "w", &progress);
  REQUIRE_FALSE(stopped.ok());
  CHECK(stopped.problem().what == "stopped");
}
