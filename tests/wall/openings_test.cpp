#include "engine/wall/openings.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <numbers>

using namespace pontata;

namespace {

double area_of(const std::vector<Vec2>& ring) {
  double twice = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) twice += cross2(ring[i], ring[(i + 1) % ring.size()]);
  return twice / 2;
}

Opening opening(const char* text) { return parse_opening(text).value(); }
std::vector<Vec2> outline(const char* text, double sagitta = 1e-4) {
  return opening_outline(opening(text), sagitta).value();
}

// Greatest distance of the chords from the circle about `centre`.
double off_circle(const std::vector<Vec2>& arc, Vec2 centre, double r) {
  double worst = 0;
  for (std::size_t i = 0; i + 1 < arc.size(); ++i)
    for (const Vec2 p : {arc[i], 0.5 * (arc[i] + arc[i + 1])})
      worst = std::max(worst, std::abs(glm::length(p - centre) - r));
  return worst;
}

}  // namespace

TEST_CASE("openings as people write them") {
  const Opening door = opening("rect:50cm,0,1.2m,2100mm");
  CHECK(door.kind == OpeningKind::rect);
  CHECK(door.at == ChartPoint{0.5, 0});
  CHECK(door.width == Approx(1.2));
  CHECK(door.height == Approx(2.1));
  CHECK(opening("round:1,2,80cm").width == Approx(0.8));
  CHECK(opening_name(opening("arched:1,2,1,2").kind) == "arched");
}

TEST_CASE("outlines of openings hold their exact area") {
  constexpr double pi = std::numbers::pi;
  CHECK(area_of(outline("rect:1,2,0.9,2")) == Approx(1.8).epsilon(1e-14));
  CHECK(area_of(outline("round:1,2,0.8")) == Approx(pi * 0.16).epsilon(1e-13));
  CHECK(area_of(outline("arched:1,0,1,2")) == Approx(1.5 + pi / 8).epsilon(1e-13));
  CHECK(area_of(outline("arched:1,0,1,0.5")) == Approx(pi / 8).epsilon(1e-13));
}

TEST_CASE("arcs keep to the sagitta asked for") {
  for (const double sagitta : {1e-3, 1e-4, 1e-5}) {
    const auto circle = outline("round:0,0,2", sagitta);
    CHECK(off_circle(circle, {0, 0}, 1) <= sagitta);
    CHECK(off_circle(circle, {0, 0}, 1) > sagitta / 4);
    const auto head = outline("arched:-1,0,2,1", sagitta);
    CHECK(off_circle(head, {0, 0}, 1) <= sagitta);
  }
}

TEST_CASE("an arch springs from its jambs") {
  const auto ring = outline("arched:1,0,1,2");
  CHECK(ring[0] == Vec2{1, 0});
  CHECK(ring[1] == Vec2{2, 0});
  CHECK(ring[2] == Vec2{2, 1.5});
  CHECK(ring.back() == Vec2{1, 1.5});
}

TEST_CASE("free outlines come from a file, either way round") {
  const std::string path = "openings_test_outline.txt";
  std::ofstream(path) << "# a niche\n1 1\n1 2m  # up\n\n200cm 1\n";
  const Opening niche = opening(("free:" + path).c_str());
  CHECK(niche.outline.size() == 3);
  CHECK(area_of(*opening_outline(niche, 1e-4)) == Approx(0.5));
  std::remove(path.c_str());
}

TEST_CASE("openings that make no sense are refused in plain words") {
  for (const char* text : {"door", "rect:1,2,3", "rect:1,2,3,4,5", "round:1,2,x", "round:1,2,0", "rect:0,0,-1,2",
                           "arched:0,0,2,0.9", "free:/nowhere", "oval:1,2,3"})
    CHECK_FALSE(parse_opening(text).ok());
  Opening bow{OpeningKind::free, {}, 0, 0, {{0, 0}, {1, 1}, {1, 0}, {0, 1}}};
  CHECK(opening_outline(bow, 1e-4).problem().what.find("crosses") != std::string::npos);
  bow.outline = {{0, 0}, {1, 1}};
  CHECK_FALSE(opening_outline(bow, 1e-4).ok());
}
