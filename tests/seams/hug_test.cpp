#include "engine/seams/hug.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <set>

#include "engine/base/predicates.h"
#include "engine/seams/outline_edit.h"
#include "tests/fixtures/figures.h"
#include "tests/fixtures/walls.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kNear = 0.001;  // m: the mean distance from the true contour that is asked for

Network border_of(const ChartedWall& wall) {
  return Network::from_border(wall.chart->border_rings(), wall.metric->meter()).value();
}

std::shared_ptr<HugGround> ground_of(WallRef wall, std::shared_ptr<const ContourField> contours = nullptr) {
  auto ground = std::make_shared<HugGround>();
  ground->network = border_of(*wall);
  ground->wall = std::move(wall);
  ground->contours = std::move(contours);
  return ground;
}

// The wall with a square picture of the figure, `side` chart metres wide about `middle`, one pixel a millimetre.
std::shared_ptr<HugGround> drawn_ground(const WallRef& wall, Vec2 middle, double side, const Figure& figure) {
  const PictureFrame frame{{middle.x - side / 2, middle.y - side / 2}, side, side, 0};
  const int pixels = static_cast<int>(std::lround(side * 1000));
  ContourOptions options;
  options.spacing = 0.001;
  return ground_of(
      wall, std::make_shared<ContourField>(contour_field(*wall, frame, drawn(frame, pixels, pixels, figure), options)));
}

std::vector<ChartPoint> clicks(const Figure& figure, int count, double jitter = 0) {
  std::mt19937 rng(2);
  std::normal_distribution<double> shake(0, jitter > 0 ? jitter : 1);
  std::vector<ChartPoint> points;
  for (int k = 0; k < count; ++k) {
    auto p = figure.at((k + 0.3) / count);
    if (jitter > 0) p = {p.u + shake(rng), p.v + shake(rng)};
    points.push_back(p);
  }
  return points;
}

Ring ring_of(const std::vector<ChartPoint>& line) {
  Ring ring;
  for (const auto& p : line) ring.push_back(to_lattice(p));
  return ring;
}

// Exact: no two pieces of the open line share more than the point between neighbours.
bool simple_line(const std::vector<ChartPoint>& line) {
  const Ring r = ring_of(line);
  for (std::size_t a = 0; a + 1 < r.size(); ++a) {
    for (std::size_t b = a + 2; b + 1 < r.size(); ++b) {
      if (segments_meet(r[a], r[a + 1], r[b], r[b + 1])) return false;
    }
    if (a + 2 < r.size() && on_segment(r[a], r[a + 1], r[a + 2])) return false;
  }
  return true;
}

bool holds(const std::vector<ChartPoint>& line, ChartPoint p) {
  return std::find(line.begin(), line.end(), p) != line.end();
}

double surface_length(const ChartedWall& wall, const std::vector<ChartPoint>& line, bool closed) {
  double sum = 0;
  for (std::size_t k = 0; k + (closed ? 0 : 1) < line.size(); ++k) {
    sum += wall.metric->measure(to_lattice(line[k]), to_lattice(line[(k + 1) % line.size()])).length_m;
  }
  return sum;
}

// Greatest chart distance from the points of one line, taken every millimetre, to another.
double apart(const std::vector<ChartPoint>& from, const std::vector<ChartPoint>& to) {
  double most = 0;
  for (std::size_t k = 0; k + 1 < from.size(); ++k) {
    const Vec2 a = to_vec(from[k]), d = to_vec(from[k + 1]) - a;
    const int parts = std::max(1, static_cast<int>(glm::length(d) / 0.001));
    for (int s = 0; s <= parts; ++s) {
      const Vec2 p = a + d * (static_cast<double>(s) / parts);
      double best = 1e9;
      for (std::size_t n = 0; n + 1 < to.size(); ++n) {
        const Vec2 b = to_vec(to[n]), e = to_vec(to[n + 1]) - b;
        const double t = glm::dot(e, e) > 0 ? std::clamp(glm::dot(p - b, e) / glm::dot(e, e), 0.0, 1.0) : 0;
        best = std::min(best, glm::length(p - b - e * t));
      }
      most = std::max(most, best);
    }
  }
  return most;
}

}  // namespace

TEST_CASE("a line through clicks round a figure lies within a millimetre of its outline") {
  const auto dome = dome_wall(2.4, 1.2), barrel = barrel_wall(1.4, 1.5, 0.7), flat = flat_wall(1.2, 1);
  const double crown = dome->chart->box().width / 2;
  struct Case {
    const char* name;
    WallRef wall;
    Vec2 middle;
    double wave;
  };
  for (const auto& c :
       {Case{"disc on a flat wall", flat, {0.6, 0.5}, 0}, Case{"blob on a flat wall", flat, {0.6, 0.5}, 0.2},
        Case{"blob on a barrel", barrel, {0.7, 1.0}, 0.2}, Case{"blob at a dome's crown", dome, {crown, crown}, 0.2},
        Case{"blob near a dome's rim", dome, {crown, 0.5}, 0.2}}) {
    const auto figure = blob(c.middle, 0.28, c.wave);
    const auto ground = drawn_ground(c.wall, c.middle, 0.8, figure);
    const auto points = clicks(figure, 10);
    const auto line = hug(ground, points, true);
    REQUIRE(line.ok());
    const auto d = deviation(*c.wall, figure, line->line, true);
    CAPTURE(c.name, d.mean, d.most, line->share(), line->line.size());
    CHECK(d.mean < kNear);
    CHECK(d.most < 0.003);
    CHECK(line->share() > 0.93);
    CHECK(line->seam_m == 0);
    CHECK(line->length_m == Approx(surface_length(*c.wall, line->line, true)).epsilon(1e-9));
    CHECK(line->line.size() < 300);  // simplified: the outline is about two metres long
    CHECK(find_self_crossing(ring_of(line->line)).first < 0);
    for (const auto& p : points) CHECK(holds(line->line, p));  // the clicks are kept exactly
  }
}

TEST_CASE("clicks a few millimetres off still give the outline, without spikes or loops") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.2);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  const auto line = hug(ground, clicks(figure, 10, 0.003), true);
  REQUIRE(line.ok());
  CHECK(deviation(*wall, figure, line->line, true).mean < kNear);
  CHECK(find_self_crossing(ring_of(line->line)).first < 0);
  // No notch at a click turns back on itself.
  const auto& l = line->line;
  for (std::size_t k = 0; k < l.size(); ++k) {
    const Vec2 a = to_vec(l[k]) - to_vec(l[(k + l.size() - 1) % l.size()]),
               b = to_vec(l[(k + 1) % l.size()]) - to_vec(l[k]);
    CHECK(glm::dot(a, b) > -0.5 * glm::length(a) * glm::length(b));
  }
}

TEST_CASE("corners of a figure stay sharp") {
  const std::vector<Vec2> corners{{0.3, 0.3}, {0.9, 0.28}, {0.82, 0.5}, {0.92, 0.75}, {0.6, 0.7}, {0.35, 0.8}};
  const auto wall = flat_wall(1.2, 1);
  const auto figure = cornered(corners);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  const auto line = hug(ground, clicks(figure, 18), true);
  REQUIRE(line.ok());
  const auto d = deviation(*wall, figure, line->line, true);
  CAPTURE(d.mean, d.most);
  CHECK(d.mean < kNear);
  for (const auto& corner : corners) {
    double nearest = 1;
    for (const auto& p : line->line) nearest = std::min(nearest, glm::length(to_vec(p) - corner));
    CHECK(nearest < 0.004);  // blurring by 1.5 px rounds a right angle by about as much
  }
}

TEST_CASE("with nothing to follow the stroke is straight") {
  const auto wall = flat_wall(1, 1);
  const PictureFrame frame{{0, 0}, 1, 1, 0};
  const Image grey{1000, 1000, std::vector<std::uint8_t>(3000000, 120)};
  const auto smooth = ground_of(wall, std::make_shared<ContourField>(contour_field(*wall, frame, grey)));
  const std::vector<ChartPoint> points{{0.2, 0.3}, {0.71, 0.44}, {0.5, 0.8}};
  const auto figure = blob({0.5, 0.5}, 0.2);
  const auto busy = drawn_ground(wall, {0.5, 0.5}, 0.9, figure);
  HugOptions let_go;
  let_go.reach_m = 0;
  for (const auto& line :
       {hug(smooth, points, false), hug(ground_of(wall), points, false), hug(busy, points, false, let_go)}) {
    REQUIRE(line.ok());
    CHECK(line->line == points);
    CHECK(line->hugged_m == 0);
    CHECK(line->length_m == Approx(glm::length(Vec2(0.51, 0.14)) + glm::length(Vec2(0.21, 0.36))).margin(4e-9));
  }
  HugStroke stroke(smooth, {0.2, 0.3}, {});
  CHECK(stroke.to({0.71, 0.44}).line == std::vector<ChartPoint>{{0.2, 0.3}, {0.71, 0.44}});
}

TEST_CASE("the line keeps within reach of the straight stroke, in surface metres") {
  const auto dome = dome_wall(2.4, 1.2);
  const double crown = dome->chart->box().width / 2;
  for (const double v : {crown, 0.5}) {  // near the rim the chart is 1.3 times as wide as the wall
    const auto figure = blob({crown, v}, 0.3);
    const auto ground = drawn_ground(dome, {crown, v}, 0.8, figure);
    const ChartPoint a{crown - 0.3, v}, b{crown + 0.3, v};  // half the disc lies 0.3 m off the stroke
    for (const double reach : {0.05, 0.1}) {
      HugOptions options;
      options.reach_m = reach;
      const std::vector<ChartPoint> ends{a, b};
      for (const auto& line : {hug(ground, ends, false, options).value(), HugStroke(ground, a, options).to(b)}) {
        for (const auto& p : line.line) {
          const double off = std::abs(p.v - v) * std::sqrt(form_near(*dome, p).G);
          CHECK(off < reach + 0.004);  // and a cell
        }
      }
    }
  }
}

TEST_CASE("a centimetre costs the same at a dome's crown and near its rim") {
  // Two ways round the same lens-shaped figure, one shorter on the wall: it must be taken at both places, though near
  // the rim the chart shows the other one shorter.
  const auto dome = dome_wall(1.6, 0.8);
  const double crown = dome->chart->box().width / 2;
  struct Place {
    Vec2 middle;
    double stretch;  // chart over wall along u
  };
  const double angle_from_crown = 1.2, colatitude = 0.8 * angle_from_crown;
  for (const auto& place :
       {Place{{crown, crown}, 1}, Place{{crown, crown - colatitude}, angle_from_crown / std::sin(angle_from_crown)}}) {
    // An ellipse-like figure that is, on the wall, 0.2 m wide and 0.24 m high.
    Figure figure;
    const Vec2 half(0.10 * place.stretch, 0.12);
    for (int k = 0; k < 2000; ++k) {
      const double angle = 2 * M_PI * k / 2000;
      figure.outline.push_back(place.middle + Vec2(std::cos(angle), std::sin(angle)) * half);
    }
    figure.inside = [=](Vec2 p) { return glm::length((p - place.middle) / half) < 1; };
    const auto ground = drawn_ground(dome, place.middle, 0.5, figure);
    // From a place at 20 degrees above the right end to one at 200: over the top is shorter than under the bottom.
    const auto on = [&](double degrees) {
      const double angle = degrees * M_PI / 180;
      return to_chart(place.middle + Vec2(std::cos(angle), std::sin(angle)) * half);
    };
    HugOptions options;
    options.reach_m = 0.2;
    const std::vector<ChartPoint> ends{on(12), on(180)};
    const auto line = hug(ground, ends, false, options);
    REQUIRE(line.ok());
    CHECK(deviation(*dome, figure, line->line, false).mean < kNear);
    const auto middle = line->line[line->line.size() / 2];
    CHECK(middle.v > place.middle.y);  // 168 degrees of outline over the top, 192 under the bottom
  }
}

TEST_CASE("laying the chart anew moves the line by less than a millimetre") {
  // The same flat wall addressed by a smooth bijection of the chart; the picture is drawn so that the figure lies on
  // the same places of the wall.
  const auto flat = flat_wall(1.2, 1);
  const auto bend = [](Vec2 p) {
    return Vec2(p.x + 0.02 * std::sin(4 * p.x) * std::cos(3 * p.y),
                p.y + 0.025 * std::sin(3 * p.x + 1) * std::sin(4 * p.y));
  };
  ShapeMesh shape;
  const int n = 120, m = 100;
  for (int j = 0; j <= m; ++j) {
    for (int i = 0; i <= n; ++i) {
      const Vec2 p(1.2 * i / n, 1.0 * j / m);
      shape.mesh.points.push_back({p.x, 0, p.y});
      shape.address.push_back(bend(p));
    }
  }
  shape.mesh.normals = {{0, -1, 0}};
  for (int j = 0; j < m; ++j) {
    for (int i = 0; i < n; ++i) {
      const auto a = static_cast<std::uint32_t>(j * (n + 1) + i), b = a + 1, c = a + n + 2, d = a + n + 1;
      shape.mesh.triangles.push_back({a, b, c});
      shape.mesh.triangles.push_back({a, c, d});
      shape.mesh.corner_normals.push_back({0, 0, 0});
      shape.mesh.corner_normals.push_back({0, 0, 0});
    }
  }
  const auto bent = chart_wall(std::make_shared<const SurfaceMesh>(shape.mesh), shape.address, "bent", false).value();
  const auto to_wall = [&](ChartPoint p) {
    const auto at = bent->position(p).value();
    return Vec2(at.x, at.z);
  };
  const auto figure = blob({0.6, 0.5}, 0.28, 0.2);
  Figure moved;
  for (const auto& p : figure.outline) moved.outline.push_back(to_vec(bent->address({p.x, 0, p.y}).place));
  moved.inside = [&](Vec2 p) {
    const auto at = bent->position(to_chart(p));
    return at && figure.inside({at->x, at->z});
  };
  const auto plain_ground = drawn_ground(flat, {0.6, 0.5}, 0.8, figure);
  const auto box = bent->chart->box();
  const auto bent_ground = drawn_ground(bent, {box.width / 2, box.height / 2}, 0.9, moved);
  const auto points = clicks(figure, 10);
  std::vector<ChartPoint> bent_points;
  for (const auto& p : points) bent_points.push_back(bent->address({p.u, 0, p.v}).place);
  const auto a = hug(plain_ground, points, true), b = hug(bent_ground, bent_points, true);
  REQUIRE(a.ok());
  REQUIRE(b.ok());
  std::vector<ChartPoint> back;
  for (std::size_t k = 0; k < b->line.size(); ++k) {
    const Vec2 p = to_vec(b->line[k]), q = to_vec(b->line[(k + 1) % b->line.size()]);
    for (int s = 0; s < 8; ++s) back.push_back(to_chart(to_wall(to_chart(p + (q - p) * (s / 8.0)))));
  }
  auto first = a->line;
  first.push_back(first[0]);
  back.push_back(back[0]);
  const double one = apart(back, first), other = apart(first, back);
  CAPTURE(one, other);
  CHECK(one < 0.001);
  CHECK(other < 0.001);
  CHECK(b->length_m == Approx(a->length_m).epsilon(2e-3));
}

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
  const auto ground = ground_of(wall, std::make_shared<ContourField>(contour_field(*wall, frame, image)));
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

TEST_CASE("moving the pointer a little keeps the line") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.2);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  HugStroke stroke(ground, figure.at(0.1), {});
  const auto target = figure.at(0.22);
  const auto reference = stroke.to(target);
  CHECK(reference.share() > 0.9);
  std::mt19937 rng(9);
  std::uniform_real_distribution<double> shake(-0.002, 0.002);
  for (int k = 0; k < 40; ++k) {
    const auto line = stroke.to({target.u + shake(rng), target.v + shake(rng)});
    // All but the last centimetre stays where it was.
    std::vector<ChartPoint> body;
    for (const auto& p : line.line) {
      if (glm::length(to_vec(p) - to_vec(target)) > 0.012) body.push_back(p);
    }
    REQUIRE(body.size() > 3);
    CHECK(apart(body, reference.line) < 0.0011);  // twice the simplification
  }
  CHECK(stroke.to(target).line == reference.line);
}

TEST_CASE("the live stroke and the finished line agree") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.2);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  for (const double t : {0.0, 0.3, 0.7}) {
    HugStroke stroke(ground, figure.at(t), {});
    for (double along = 0.005; along < 0.12; along += 0.005)
      stroke.to(figure.at(t + along));  // the pointer's way there
    const std::vector<ChartPoint> ends{figure.at(t), figure.at(t + 0.12)};
    const auto live = stroke.to(ends[1]);
    const auto done = hug(ground, ends, false).value();
    CHECK(apart(live.line, done.line) < 0.0011);
    CHECK(live.hugged_m == Approx(done.hugged_m).epsilon(0.02));
  }
}

TEST_CASE("the same clicks give the same line, to the last bit") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.2);
  const auto a = hug(drawn_ground(wall, {0.6, 0.5}, 0.8, figure), clicks(figure, 10, 0.002), true);
  const auto b = hug(drawn_ground(wall, {0.6, 0.5}, 0.8, figure), clicks(figure, 10, 0.002), true);
  REQUIRE(a.ok());
  CHECK(a->line == b->line);
  CHECK(a->length_m == b->length_m);
}

TEST_CASE("going back over the line takes it back; small loops are cut out") {
  const auto wall = flat_wall(1, 1);
  const auto ground = ground_of(wall);
  const std::vector<ChartPoint> back{{0.2, 0.2}, {0.8, 0.2}, {0.5, 0.2}, {0.5, 0.6}};
  const auto line = hug(ground, back, false);
  REQUIRE(line.ok());
  CHECK(line->line == std::vector<ChartPoint>{{0.2, 0.2}, {0.5, 0.2}, {0.5, 0.6}});
  const std::vector<ChartPoint> loop{{0.25, 0.25}, {0.6, 0.25}, {0.6, 0.3}, {0.5625, 0.3}, {0.5625, 0.1}, {0.8, 0.1}};
  const auto cut = hug(ground, loop, false);
  REQUIRE(cut.ok());
  CHECK(simple_line(cut->line));
  CHECK(cut->line == std::vector<ChartPoint>{{0.25, 0.25}, {0.5625, 0.25}, {0.5625, 0.1}, {0.8, 0.1}});
}

TEST_CASE("a stroke keeps off the line before it and finds another way") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.1);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  // Out along the contour to a click, then to a place back where the line came from, off the contour: the way back
  // along the contour would be the cheapest.
  const auto start = figure.at(0.0), tip = figure.at(0.12), back = figure.at(0.01);
  const std::vector<ChartPoint> points{start, tip, {back.u + 0.05, back.v}};
  const auto line = hug(ground, points, false);
  REQUIRE(line.ok());
  for (const auto& p : points) CHECK(holds(line->line, p));
  CHECK(simple_line(line->line));
  HugStroke first(ground, start, {});
  const auto before = first.to(tip).line;
  HugStroke second(ground, tip, {}, before);
  auto live = before;
  const auto rest = second.to(points[2]).line;
  live.insert(live.end(), rest.begin() + 1, rest.end());
  CHECK(simple_line(live));
  CHECK(HugStroke(ground, tip, {}).to(points[2]).share() > 0.6);  // without the line before it, it would run back
}

TEST_CASE("random clicks never give a line that crosses itself") {
  const auto wall = flat_wall(1, 1);
  const auto figure = blob({0.5, 0.5}, 0.25, 0.3);
  const auto ground = drawn_ground(wall, {0.5, 0.5}, 0.9, figure);
  std::mt19937 rng(12);
  std::uniform_real_distribution<double> place(0.08, 0.92);
  int drawn_lines = 0;
  for (int round = 0; round < 25; ++round) {
    std::vector<ChartPoint> points;
    for (int k = 0; k < 6; ++k) points.push_back({place(rng), place(rng)});
    const auto open = hug(ground, points, false), closed = hug(ground, points, true);
    if (open) {
      CHECK(simple_line(open->line));
      ++drawn_lines;
    } else {
      CHECK(open.problem().what.find("crosses itself") != std::string::npos);
    }
    if (closed) {
      CHECK(find_self_crossing(ring_of(closed->line)).first < 0);
      ++drawn_lines;
    } else {
      CHECK(closed.problem().what.find("crosses itself") != std::string::npos);
      CHECK_FALSE(closed.problem().where.empty());
    }
  }
  CHECK(drawn_lines > 20);
}

TEST_CASE("clicking past the beginning closes the outline where it met itself") {
  const auto wall = flat_wall(1.2, 1);
  const auto figure = blob({0.6, 0.5}, 0.28, 0.1);
  const auto ground = drawn_ground(wall, {0.6, 0.5}, 0.8, figure);
  auto points = clicks(figure, 10);
  points.push_back(figure.at(1.07));  // beyond the first click, which was at 0.03
  const auto line = hug(ground, points, true);
  REQUIRE(line.ok());
  CHECK(find_self_crossing(ring_of(line->line)).first < 0);
  CHECK(deviation(*wall, figure, line->line, true).mean < kNear);
  CHECK(line->length_m > 1.6);
}

TEST_CASE("points that are no numbers or lie beside the wall are refused with their number") {
  const auto ground = ground_of(flat_wall(1, 1));
  const std::vector<ChartPoint> strange{{0.2, 0.2}, {NAN, 0.2}}, beside{{0.2, 0.2}, {0.5, 0.5}, {1.2, 0.2}};
  REQUIRE_FALSE(hug(ground, strange, false).ok());
  const auto far = hug(ground, beside, false);
  REQUIRE_FALSE(far.ok());
  CHECK(far.problem().where.find("point 3") != std::string::npos);
  CHECK(far.problem().what.find("200 mm outside") != std::string::npos);
  const std::vector<ChartPoint> slip{{0.2, 0.2}, {1.004, 0.5}};
  CHECK(hug(ground, slip, false)->line.back() == ChartPoint{1, 0.5});
}

TEST_CASE("no length, one point, none") {
  const auto ground = ground_of(flat_wall(1, 1));
  HugStroke stroke(ground, {0.4, 0.4}, {});
  const auto none = stroke.to({0.4, 0.4});
  CHECK(none.line == std::vector<ChartPoint>{{0.4, 0.4}, {0.4, 0.4}});
  CHECK(none.length_m == 0);
  CHECK(none.share() == 0);
  CHECK(hug(ground, {}, true)->line.empty());
  const std::vector<ChartPoint> one{{0.4, 0.4}}, same{{0.4, 0.4}, {0.4, 0.4}, {0.4, 0.4}};
  CHECK(hug(ground, one, true)->line == one);
  CHECK(hug(ground, same, true)->line == one);
  CHECK(hug(ground, same, false)->length_m == 0);
}

TEST_CASE("cancelling stops with a word") {
  Progress progress;
  progress.cancelled = true;
  const std::vector<ChartPoint> points{{0.2, 0.2}, {0.7, 0.2}};
  CHECK_FALSE(hug(ground_of(flat_wall(1, 1)), points, false, {}, &progress).ok());
}
