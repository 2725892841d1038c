#include <catch2/catch.hpp>
#include <set>

#include "engine/seams/outline_edit.h"
#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

TEST_CASE("where a line runs along an existing seam it repeats the seam's vertices, and the giornate share it") {
  const auto wall = barrel_wall(1.4, 2.2, 0.7);
  const auto meter = wall->metric->meter();
  const auto figure = blob({1.2, 1.2}, 0.3, 0.15);
  const auto ground = drawn_ground(wall, {1.2, 1.2}, 1.0, figure);
  const auto first = hug(ground, clicks(figure, 8), true);
  REQUIRE(first.ok());
  const auto one = insert_outline(ground->network, ring_of(first->line), GiornataId{1}, meter);
  REQUIRE(one.ok());
  ground->network = one->network;

  // A second giornata to the right: two clicks near the first one's rim, the rest out on smooth ground.
  std::vector<ChartPoint> points{figure.at(0.85), {1.9, 0.75}, {2.0, 1.6}, figure.at(0.13)};
  points[0] = {points[0].u + 0.004, points[0].v - 0.003};
  points[3] = {points[3].u + 0.003, points[3].v + 0.005};
  const auto second = hug(ground, points, true, {.reach_m = 0.2});
  REQUIRE(second.ok());
  std::set<LatticePoint> vertices;
  for (std::uint32_t v = 0; v < ground->network.vertex_slots(); ++v)
    vertices.insert(ground->network.vertex(VertexId{v}).place);
  int on = 0;
  for (const auto& p : second->line) on += vertices.count(to_lattice(p)) > 0;
  CHECK(on > 15);
  CHECK(second->seam_m > 0.4);
  const auto two = insert_outline(ground->network, ring_of(second->line), GiornataId{2}, meter);
  REQUIRE(two.ok());
  CHECK(two->dropped.empty());         // no sliver was cut off
  CHECK_FALSE(two->overlap_given_up);  // and none overlapped
  double shared = 0;
  for (const auto& s : shared_seams(two->network)) {
    if (s.a == GiornataId{1} && s.b == GiornataId{2}) shared += s.length_m;
  }
  CHECK(shared == Approx(second->seam_m).margin(1e-6));
  CHECK(two->network.faces().size() == 3);  // the two giornate and one rest
  CHECK(two->network.check().empty());
  // The first giornata's area moved by no more than the pitches its seam may be led through.
  CHECK(std::abs(two->network.sums(two->network.faces_of(GiornataId{1})[0]).area -
                 one->network.sums(one->network.faces_of(GiornataId{1})[0]).area) < 1000);  // 1e-9 m^2
}

TEST_CASE("giornate hugged one after another share their seams: the network is sound and free of slivers") {
  // Overlapping figures; every outline follows contours that earlier outlines followed too.
  const auto wall = flat_wall(1, 1);
  const PictureFrame frame{{0, 0}, 1, 1, 0};
  Image image{1000, 1000, std::vector<std::uint8_t>(3000000, 200)};
  std::mt19937 rng(5);
  const auto random = [&](double a, double b) { return a + (b - a) * static_cast<double>(rng()) / 4294967295.0; };
  for (int f = 0; f < 16; ++f) {
    const auto figure =
        blob({random(0, 1), random(0, 1)}, random(0.05, 0.25), random(0, 0.3), 2 + static_cast<int>(rng() % 6));
    const std::uint8_t colour[3] = {static_cast<std::uint8_t>(rng()), static_cast<std::uint8_t>(rng()),
                                    static_cast<std::uint8_t>(rng())};
    for (int k = 0; k < 1000000; ++k) {
      const Vec2 pixel(k % 1000 + 0.5, k / 1000 + 0.5);
      if (figure.inside(to_vec(from_pixel(frame, image, pixel))))
        std::copy(colour, colour + 3, image.rgb.begin() + 3 * k);
    }
  }
  const auto ground = ground_of(wall, std::make_shared<ContourField>(contour_field(*draped(wall, image, frame))));
  int inserted = 0;
  double on_seams = 0;
  for (std::uint32_t round = 1; round <= 30; ++round) {
    std::vector<ChartPoint> points;
    const Vec2 middle(random(0.1, 0.9), random(0.1, 0.9));
    for (int k = 0; k < 7; ++k) {
      const double angle = 2 * M_PI * k / 7, radius = random(0.1, 0.25);
      points.push_back(wall->chart->clamp(to_chart(middle + Vec2(std::cos(angle), std::sin(angle)) * radius)));
    }
    const auto line = hug(ground, points, true);
    if (!line) continue;
    const auto next = insert_outline(ground->network, ring_of(line->line), GiornataId{round}, wall->metric->meter());
    if (!next) continue;  // nothing left of it
    ground->network = next->network;
    ++inserted;
    on_seams += line->seam_m;
  }
  CHECK(inserted > 15);
  CHECK(on_seams > 3);
  CHECK(ground->network.check().empty());
  int slivers = 0;
  for (const auto f : ground->network.faces()) slivers += std::abs(ground->network.sums(f).area) < 1'000'000;  // 1 mm^2
  CHECK(slivers <= 1);
}

TEST_CASE("a stroke that passes alongside a seam is drawn to it, before contours") {
  const auto wall = flat_wall(2, 2);
  // A picture edge at u = 1.012 and a seam at u = 1: the stroke down the edge goes to the seam.
  const Figure half = cornered({{-1, -1}, {1.012, -1}, {1.012, 3}, {-1, 3}});
  const auto ground = drawn_ground(wall, {1, 1}, 1.8, half);
  const Ring left{to_lattice({0.5, 0.4}), to_lattice({1, 0.4}), to_lattice({1, 1.6}), to_lattice({0.5, 1.6})};
  ground->network = insert_outline(ground->network, left, GiornataId{1}, wall->metric->meter())->network;
  const std::vector<ChartPoint> points{{1.3, 0.2}, {1.012, 0.6}, {1.012, 1.4}, {1.3, 1.8}};
  const auto line = hug(ground, points, false);
  REQUIRE(line.ok());
  CHECK(line->seam_m == Approx(0.8).margin(0.05));
  int on = 0;
  for (const auto& p : line->line) on += p.u == 1.0;
  CHECK(on >= 2);
  // Without seams the same clicks follow the picture.
  HugOptions apart_from_seams;
  apart_from_seams.seam_reach_m = 0;
  const auto free = hug(ground, points, false, apart_from_seams);
  REQUIRE(free.ok());
  CHECK(free->seam_m == 0);
  for (const auto& p : free->line) CHECK(p.u > 1.005);
}

TEST_CASE("ends within reach of a seam or the border lie on it, at a vertex where one is near") {
  const auto wall = flat_wall(2, 1);
  const auto ground = ground_of(wall);
  const std::vector<ChartPoint> points{{0.013, 0.5}, {1, 0.6}, {1.9999, 0.9998}};
  const auto line = hug(ground, points, false);
  REQUIRE(line.ok());
  CHECK(line->line == std::vector<ChartPoint>{{0, 0.5}, {1, 0.6}, {2, 1}});
  CHECK(line->seam_m == 0);
  HugStroke stroke(ground, {0.5, 0.5}, {});
  CHECK(stroke.to({0.5, 0.985}).line.back() == ChartPoint{0.5, 1});
  CHECK(stroke.to({0.5, 1.4}).line.back() == ChartPoint{0.5, 1});  // the pointer off the wall: its nearest place
  CHECK(stroke.to({0.5, 0.975}).line.back() == ChartPoint{0.5, 0.975});
}

TEST_CASE("two clicks on the border follow it round a corner") {
  const auto wall = flat_wall(2, 1);
  const std::vector<ChartPoint> points{{0.005, 0.0625}, {0.078125, 0.004}};
  const auto line = hug(ground_of(wall), points, false);
  REQUIRE(line.ok());
  CHECK(line->line == std::vector<ChartPoint>{{0, 0.0625}, {0, 0}, {0.078125, 0}});
  CHECK(line->seam_m == Approx(0.140625));
  CHECK(line->share() == Approx(1));
  // Too far round: across instead.
  const std::vector<ChartPoint> far{{0, 0.6}, {0.7, 0}};
  CHECK(hug(ground_of(wall), far, false)->line.size() == 2);
}

TEST_CASE("a giornata hugging the wall's border shares it exactly") {
  const auto wall = dome_wall(2, 1);
  const auto box = wall->chart->box();
  const auto ground = ground_of(wall);
  const double middle = box.width / 2, radius = box.width / 2;
  std::vector<ChartPoint> points;
  for (const double degrees : {200.0, 215.0, 230.0, 245.0, 260.0}) {  // a few millimetres inside the rim
    const double angle = degrees * M_PI / 180;
    points.push_back({middle + (radius - 0.006) * std::cos(angle), middle + (radius - 0.006) * std::sin(angle)});
  }
  points.push_back({middle - 0.2, middle - 0.6});
  const auto line = hug(ground, points, true);
  REQUIRE(line.ok());
  CHECK(line->seam_m == Approx(60 * M_PI / 180).epsilon(0.002));  // of the springing circle, radius 1 m
  const auto drawn_in = insert_outline(ground->network, ring_of(line->line), GiornataId{1}, wall->metric->meter());
  REQUIRE(drawn_in.ok());
  CHECK(drawn_in->network.faces().size() == 2);
  CHECK(drawn_in->network.check().empty());
}
