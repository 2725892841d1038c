#include <catch2/catch.hpp>

#include "tests/seams/hug_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

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
  const auto smooth = ground_of(wall, std::make_shared<ContourField>(contour_field(*draped(wall, grey, frame))));
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
