// What SVG and DXF files say, read as lines: curves against closed forms, frames against the standards' own rules.
#include "engine/document/seam_files/curves.h"
#include "tests/document/seam_files_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

const DrawnLine& only(const Drawing& drawing) {
  REQUIRE(drawing.paths.size() == 1);
  REQUIRE(drawing.paths[0].lines.size() == 1);
  return drawing.paths[0].lines[0];
}
double area(const std::string& svg) {
  const auto drawing = drawn("a.svg", page(svg));
  return std::abs(shoelace(only(drawing)));
}
std::string refusal(const std::string& name, const std::string& text, const DrawingOptions& options = {}) {
  const auto drawing = drawing_in(name, text, options);
  REQUIRE_FALSE(drawing.ok());
  CHECK(drawing.problem().where.find(name) != std::string::npos);
  CHECK_FALSE(drawing.problem().remedy.empty());
  return drawing.problem().what;
}
Vec2 lowest_left(const DrawnLine& line) {
  Vec2 low = line.points[0];
  for (const Vec2& p : line.points) low = {std::min(low.x, p.x), std::min(low.y, p.y)};
  return low;
}

}  // namespace

TEST_CASE("curves enclose the areas of their closed forms and keep within a tenth of a millimetre") {
  const double pi = std::numbers::pi;
  // Chords inside a curve of length l lose at most 2/3 of the tolerance times l.
  const double off = 2e-4;
  CHECK(area(R"svg(<circle cx="2" cy="1.5" r="0.5"/>)svg") == Approx(pi / 4).margin(pi * off));
  CHECK(area(R"svg(<ellipse cx="2" cy="1.5" rx="1" ry="0.25" transform="rotate(30 2 1.5)"/>)svg") ==
        Approx(pi / 4).margin(5 * off));
  CHECK(area(R"svg(<path d="M1 1a.5.5 0 1 1 1 0a.5.5 0 1 1-1 0z"/>)svg") == Approx(pi / 4).margin(pi * off));
  // A half ellipse between the ends of its longer axis, turned by 30 degrees: axes 0.5 and 0.25.
  const double cos = 0.5 * std::cos(pi / 6), sin = 0.5 * std::sin(pi / 6);
  CHECK(area(fmt::format(R"svg(<path d="M{} {} A 0.5 0.25 30 0 1 {} {}z"/>)svg", 2 - cos, 1.5 - sin, 2 + cos,
                         1.5 + sin)) == Approx(pi / 16).margin(2 * off));
  CHECK(area(R"svg(<rect x="1" y="1" width="2" height="1" rx="0.2"/>)svg") ==
        Approx(2 - (4 - pi) * 0.04).margin(6 * off));
  // A parabola's segment is two thirds of its box: chord 1, height 1/2.
  CHECK(area(R"svg(<path d="M1 1 Q1.5 2 2 1z"/>)svg") == Approx(1.0 / 3).margin(off));
  // A cubic by the four corners of a square encloses 3/5 of it (Green's theorem, integrated by hand).
  CHECK(area(R"svg(<path d="M1 1 C1 2 2 2 2 1z"/>)svg") == Approx(0.6).margin(off));
  // Arcs too small for their chord are drawn larger (SVG 1.1, F.6.6): a half circle.
  CHECK(area(R"svg(<path d="M1 1 A0.1 0.1 0 0 0 2 1z"/>)svg") == Approx(pi / 8).margin(2 * off));
  // Smooth continuations mirror the control point (SVG 1.1, 8.3.6): the same as written out.
  CHECK(area(R"svg(<path d="M1 1 C1 2 1.5 2 1.5 1 S2 0 2 1 L2 2.5 L1 2.5z"/>)svg") ==
        Approx(area(R"svg(<path d="M1 1 C1 2 1.5 2 1.5 1 C1.5 0 2 0 2 1 L2 2.5 L1 2.5z"/>)svg")).epsilon(1e-12));
  CHECK(area(R"svg(<path d="M1 1 q.25 1 .5 0 t.5 0 v1.5h-1z"/>)svg") ==
        Approx(area(R"svg(<path d="M1 1 Q1.25 2 1.5 1 Q1.75 0 2 1 V2.5 H1z"/>)svg")).epsilon(1e-12));
}

TEST_CASE("points of flattened curves lie on the curve, and no middle of a chord is 0.1 mm off it") {
  const auto drawing = drawn("c.svg", page(R"svg(<circle cx="2" cy="1.5" r="1.2"/>)svg"));
  const auto& points = only(drawing).points;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 middle = (points[i] + points[(i + 1) % points.size()]) * 0.5;
    CHECK(glm::length(points[i] - Vec2(2, 1.5)) == Approx(1.2).epsilon(1e-12));
    CHECK(glm::length(middle - Vec2(2, 1.5)) > 1.2 - 1.001e-4);
  }
  CHECK(points.size() < 300);  // and no more of them than that asks for
}

TEST_CASE("sizes, view boxes, units and nested frames are laid as SVG has it") {
  const auto corner = [](const std::string& text) { return lowest_left(only(drawn("f.svg", text))); };
  const std::string r = R"svg(<rect x="10" y="20" width="30" height="40"/>)svg";
  // 96 px are an inch (CSS 2.1, 4.3.2, as SVG 1.1 takes it): page 200 px high, the rectangle's foot at 60.
  CHECK(corner("<svg width=\"300\" height=\"200\">" + r + "</svg>").x == Approx(10 * 0.0254 / 96));
  CHECK(corner("<svg width=\"300\" height=\"200\">" + r + "</svg>").y == Approx(140 * 0.0254 / 96));
  CHECK(corner("<svg width=\"30cm\" height=\"20cm\" viewBox=\"0 0 300 200\">" + r + "</svg>").y == Approx(0.14));
  CHECK(corner("<svg width=\"3in\" height=\"2in\" viewBox=\"0 0 300 200\">" + r + "</svg>").x == Approx(0.00254));
  // xMidYMid meet: 300 x 200 in 600 x 200 mm is centred, 150 mm to the right (SVG 1.1, 7.8).
  CHECK(corner("<svg width=\"600mm\" height=\"200mm\" viewBox=\"0 0 300 200\">" + r + "</svg>").x == Approx(0.16));
  CHECK(corner("<svg width=\"600mm\" height=\"200mm\" viewBox=\"0 0 300 200\" preserveAspectRatio=\"xMinYMin\">" + r +
               "</svg>")
            .x == Approx(0.01));
  CHECK(corner("<svg width=\"600mm\" height=\"200mm\" viewBox=\"0 0 300 200\" preserveAspectRatio=\"none\">" + r +
               "</svg>")
            .x == Approx(0.02));
  CHECK(corner("<svg width=\"600mm\" height=\"200mm\" viewBox=\"0 0 300 200\" preserveAspectRatio=\"xMinYMax slice\">" +
               r + "</svg>")
            .y == Approx(0.28));
  DrawingOptions unit;
  unit.unit_m = 0.01;
  unit.at = {1, 2};
  const auto moved = drawn("f.svg", "<svg width=\"7in\" viewBox=\"-5 0 300 200\">" + r + "</svg>", unit);
  CHECK(lowest_left(only(moved)).x == Approx(1.15));
  CHECK(lowest_left(only(moved)).y == Approx(3.4));
  // Transforms in a list work from the right, groups from the outside (SVG 1.1, 7.6).
  const auto at = corner(page(
      R"svg(<g transform="translate(1,1)"><g transform="rotate(90) scale(.01)"><rect x="10" y="20" width="30" height="40"/></g></g>)svg"));
  CHECK(at.x == Approx(1 - 0.6));
  CHECK(at.y == Approx(3 - 1.4));
  const auto skewed = corner(page(R"svg(<rect x="1" y="1" width="1" height="1" transform="skewX(45)"/>)svg"));
  CHECK(skewed.x == Approx(2.0));
  const auto inner = corner(page(
      R"svg(<svg x="1" y="1" width="1" height="1" viewBox="0 0 100 100"><rect x="10" y="20" width="30" height="40"/></svg>)svg"));
  CHECK(inner.x == Approx(1.1));
  CHECK(inner.y == Approx(1.4));
}

TEST_CASE("DXF entities enclose the areas of their closed forms") {
  const double pi = std::numbers::pi, off = 2e-4;
  const auto area_of = [](const std::vector<std::pair<int, std::string>>& list) {
    return shoelace(only(drawn("e.dxf", dxf(groups(list)))));
  };
  CHECK(area_of({{0, "CIRCLE"}, {8, "0"}, {10, "2"}, {20, "1.5"}, {40, "0.5"}}) == Approx(pi / 4).margin(pi * off));
  CHECK(area_of({{0, "ELLIPSE"},
                 {10, "2"},
                 {20, "1.5"},
                 {11, "0.6"},
                 {21, "0.8"},
                 {40, "0.25"},
                 {41, "0"},
                 {42, "6.283185307179586"}}) == Approx(pi / 4).margin(5 * off));
  // Bulge 1 is a half circle, tan(22.5 deg) a quarter (DXF Reference, LWPOLYLINE, group 42).
  CHECK(area_of({{0, "LWPOLYLINE"}, {70, "1"}, {10, "1"}, {20, "1"}, {42, "1"}, {10, "2"}, {20, "1"}, {42, "1"}}) ==
        Approx(pi / 4).margin(pi * off));
  CHECK(area_of({{0, "LWPOLYLINE"},
                 {70, "1"},
                 {10, "1"},
                 {20, "1"},
                 {10, "2"},
                 {20, "1"},
                 {42, "0.41421356237"},
                 {10, "1"},
                 {20, "2"}}) == Approx(pi / 4).margin(pi * off));
  // On the back of the plane x is mirrored and bulges turn the other way (DXF Reference, object coordinates).
  const auto back = drawn("e.dxf", dxf(groups({{0, "LWPOLYLINE"},
                                               {70, "1"},
                                               {230, "-1"},
                                               {10, "-1"},
                                               {20, "1"},
                                               {42, "-1"},
                                               {10, "-2"},
                                               {20, "1"},
                                               {42, "-1"}})));
  CHECK(shoelace(only(back)) == Approx(pi / 4).margin(pi * off));
  CHECK(lowest_left(only(back)).x == Approx(1.0).margin(off));
  CHECK(area_of({{0, "POLYLINE"},
                 {66, "1"},
                 {70, "1"},
                 {0, "VERTEX"},
                 {10, "1"},
                 {20, "1"},
                 {42, "1"},
                 {0, "VERTEX"},
                 {10, "2"},
                 {20, "1"},
                 {42, "1"},
                 {0, "SEQEND"}}) == Approx(pi / 4).margin(pi * off));
  // A cubic of one span is the Bezier curve of its control points: 3/5 of their box.
  CHECK(std::abs(area_of({{0, "SPLINE"},
                          {70, "8"},
                          {71, "3"},
                          {40, "0"},
                          {40, "0"},
                          {40, "0"},
                          {40, "0"},
                          {40, "1"},
                          {40, "1"},
                          {40, "1"},
                          {40, "1"},
                          {10, "1"},
                          {20, "1"},
                          {10, "1"},
                          {20, "2"},
                          {10, "2"},
                          {20, "2"},
                          {10, "2"},
                          {20, "1"}})) == Approx(0.6).margin(off));
}

TEST_CASE("a circle as a rational spline is a circle") {
  // Piegl and Tiller, The NURBS Book, 1997, section 7.5: nine control points on a square, weights 1 and sqrt(2)/2.
  Spline s;
  s.degree = 2;
  s.knots = {0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4};
  s.control = {{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}};
  const double w = std::sqrt(0.5);
  s.weights = {1, w, 1, w, 1, w, 1, w, 1};
  REQUIRE(s.sound());
  const Points points = spline_points(s, 1e-4);
  CHECK(points.size() > 100);
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    CHECK(glm::length(points[i]) == Approx(1.0).epsilon(1e-12));
    CHECK(glm::length(points[i] + points[i + 1]) / 2 > 1 - 1.001e-4);
  }
  s.weights[3] = 0;
  CHECK_FALSE(s.sound());
}

TEST_CASE("lines and arcs whose ends meet all the way round are one outline") {
  const auto line = [](const char* layer, double x0, double y0, double x1, double y1) {
    return groups({{0, "LINE"},
                   {8, layer},
                   {10, fmt::format("{}", x0)},
                   {20, fmt::format("{}", y0)},
                   {11, fmt::format("{}", x1)},
                   {21, fmt::format("{}", y1)}});
  };
  const std::string arc = groups({{0, "ARC"}, {8, "a"}, {10, "2"}, {20, "1.5"}, {40, "0.5"}, {50, "270"}, {51, "90"}});
  const std::string three = line("a", 2, 2, 1, 2) + line("a", 1, 1, 1, 2.000004) + line("a", 1, 1, 2, 1);
  const auto closed = drawn("l.dxf", dxf(three + arc));
  CHECK(std::abs(shoelace(only(closed))) == Approx(1 + std::numbers::pi / 8).margin(4e-4));
  CHECK(closed.paths[0].name == "a");
  CHECK(drawn("l.dxf", dxf(three)).paths.size() == 3);                                // a side is missing
  CHECK(drawn("l.dxf", dxf(three + line("b", 2, 1, 2, 2))).paths.size() == 4);        // or on another layer
  CHECK(drawn("l.dxf", dxf(three + arc + line("a", 2, 2, 3, 3))).paths.size() == 5);  // three ends in a place
}

TEST_CASE("only the layers asked for are read; hidden ones are told") {
  const std::string text = page(
      R"svg(<g id="one"><title>First</title><rect x="0" y="0" width="1" height="1"/></g>
         <g id="two" style="display:none"><rect x="1" y="0" width="1" height="1"/><text>12</text></g>)svg");
  const auto shown = drawn("g.svg", text);
  REQUIRE(shown.paths.size() == 1);
  CHECK(shown.paths[0].name == "First");
  CHECK(shown.notes.size() == 2);
  DrawingOptions second;
  second.layers = {"two"};
  CHECK(lowest_left(only(drawn("g.svg", text, second))).x == Approx(1.0));
  second.layers = {"three"};
  CHECK(refusal("g.svg", text, second).find("no layer named three") != std::string::npos);
}

TEST_CASE("what cannot be read is refused in one sentence") {
  for (const std::string d : {"L1 1", "M", "M1", "M1 1 L", "M1 1 L2", "M1 1 X2 2", "M1 1 L nan 2", "M1 1 L1e999 2",
                              "M1 1 A1 1 0 2 0 2 2", "M1 1z5 5", "M0 0 C1 1 2 2"})
    CHECK(refusal("d.svg", page("<path d=\"" + d + "\"/>")).find("path data") != std::string::npos);
  refusal("t.svg", page(R"svg(<rect transform="turn(3)" width="1" height="1"/>)svg"));
  refusal("t.svg", page(R"svg(<rect width="1em" height="1"/>)svg"));
  refusal("t.svg", page(R"svg(<polygon points="1 2 3"/>)svg"));
  refusal(
      "t.svg",
      page(R"svg(<g transform="scale(1e200)"><g transform="scale(1e200)"><rect width="1" height="1"/></g></g>)svg"));
  refusal("t.svg", "");
  refusal("t.svg", "<svg>");
  refusal("t.svg", "<html/>");
  refusal("t.svg", page(""));
  refusal("t.svg", "<svg><rect width=\"1\" height=\"1\"/></svg>");
  refusal("t.svg", "\x1f\x8b\x08");
  refusal("t.dxf", "");
  refusal("t.dxf", "a letter\nabout a wall\n");
  const std::string whole = dxf(groups({{0, "CIRCLE"}, {10, "2"}, {20, "1.5"}, {40, "0.5"}}));
  for (std::size_t cut = 0; cut + 6 < whole.size(); ++cut) refusal("t.dxf", whole.substr(0, cut));
  refusal("t.dxf", dxf(groups({{0, "CIRCLE"}, {10, "nan"}, {20, "1"}, {40, "1"}})));
  refusal("t.dxf", dxf(groups({{0, "CIRCLE"}, {10, "1"}, {20, "1"}, {40, "-1"}})));
  refusal("t.dxf", dxf(groups({{0, "CIRCLE"}, {10, "1"}, {20, "1"}, {40, "1"}, {210, "1"}, {230, "0"}})));
  refusal("t.dxf", dxf(groups({{0, "SPLINE"}, {71, "3"}, {11, "1"}, {21, "1"}})));
  refusal("t.dxf", dxf(groups({{0, "TEXT"}, {1, "a"}})));
  refusal("t.txt", "1 2\n");
}
