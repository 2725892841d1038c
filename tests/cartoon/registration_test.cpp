// Tape offsets against closed forms, and what the day sheet says of hanging.
#include "engine/cartoon/registration.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <numbers>

#include "reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

const SnappedLine* named(const std::vector<SnappedLine>& lines, const std::string& name) {
  for (const SnappedLine& line : lines)
    if (line.name == name) return &line;
  return nullptr;
}

}  // namespace

TEST_CASE("on a flat wall plumb and level lines stand at whole steps, offsets are plain differences") {
  auto layout = layouts::on(layouts::flat(4, 3), 0.002, {{0, 0, 0.3}, 0});
  layouts::add_box(layout, 2.2, 1.25, 2.8, 1.9);
  auto input = cartoon_input(layout);
  input.walls[0].giornate[0].open_to_rest = true;
  const WallRegister wall(input.walls[0]);
  // centre line at u = 2; levels at whole metres of the building, the wall's foot at 0.3 m
  const SnappedLine *c = named(wall.lines(), "plumb line D"), *one = named(wall.lines(), "level line 1");
  REQUIRE(c);
  REQUIRE(one);
  for (const ChartPoint& p : c->pieces.front()) CHECK(p.u == Approx(3).margin(1e-6));
  for (const ChartPoint& p : one->pieces.front()) CHECK(p.v == Approx(0.7).margin(1e-6));
  CHECK(c->where.find("1.000 m right of the centre line") != std::string::npos);
  CHECK(one->where.find("1.000 m above the building's zero") != std::string::npos);
  const Registration r = wall.of(input.walls[0].giornate[0]);
  CHECK(r.taped());
  REQUIRE(r.marks.size() == 3);
  for (const RegistrationMark& mark : r.marks) {
    REQUIRE(mark.offsets.size() == 2);
    const double across = mark.place.u < 2.5 ? mark.place.u - 2 : 3 - mark.place.u;
    CHECK(mark.offsets[0].m == Approx(across).margin(1e-5));
    CHECK(mark.offsets[0].side == (mark.place.u < 2.5 ? "right of" : "left of"));
    // v = 0.7 and 2.7 are bare all along; 1.7 ends at the giornata's sides
    CHECK(mark.offsets[1].m == Approx(std::min(mark.place.v - 0.7, 2.7 - mark.place.v)).margin(1e-5));
  }
}

TEST_CASE("on a barrel offsets are lengths of arc, the springing is a line of its own") {
  // radius 2: the level plane 1 m above the springing meets it at arc 2 asin(1/2) = pi/3
  auto layout = layouts::on(layouts::barrel(4, 6, 2), 0);
  layouts::add_box(layout, 2.2, 0.3, 2.7, 0.8);
  auto input = cartoon_input(layout);
  input.walls[0].springing_m = 0;
  input.walls[0].giornate[0].open_to_rest = true;
  const WallRegister wall(input.walls[0]);
  const SnappedLine *level = named(wall.lines(), "level line 1"), *springing = named(wall.lines(), "the springing");
  REQUIRE(level);
  REQUIRE(springing);
  for (const auto& piece : level->pieces)
    for (const ChartPoint& p : piece)
      CHECK(std::min(p.v, 2 * std::numbers::pi - p.v) == Approx(std::numbers::pi / 3).margin(1e-3));
  const SnappedLine* crown = named(wall.lines(), "the crown line");
  REQUIRE(crown);
  CHECK(crown->pieces.front().front().v == Approx(std::numbers::pi).margin(1e-3));
  const Registration r = wall.of(input.walls[0].giornate[0]);
  REQUIRE(r.marks.size() == 3);
  for (const RegistrationMark& mark : r.marks) {
    REQUIRE(mark.offsets.size() == 2);
    const double across = mark.place.u < 2.5 ? mark.place.u - 2 : 3 - mark.place.u;
    CHECK(mark.offsets[0].m == Approx(across).epsilon(1e-3));
    const double up = std::min(mark.place.v, std::numbers::pi / 3 - mark.place.v);
    CHECK(mark.offsets[1].m == Approx(up).epsilon(2e-3));
    CHECK(mark.offsets[1].side == (mark.place.v < std::numbers::pi / 6 ? "above" : "below"));
  }
}

TEST_CASE("right of a line is right of it as one stands before the wall, on the far side of a vault too") {
  auto layout = layouts::on(layouts::barrel(4, 6, 2), 0);
  const double far = 2 * std::numbers::pi;  // the other springing
  layouts::add_box(layout, 2.2, far - 0.8, 2.4, far - 0.3);
  auto input = cartoon_input(layout);
  input.walls[0].springing_m = 0;
  input.walls[0].giornate[0].open_to_rest = true;
  for (const RegistrationMark& mark : WallRegister(input.walls[0]).of(input.walls[0].giornate[0]).marks) {
    REQUIRE(mark.offsets.size() == 2);
    // seen from inside at this springing the axis runs to the left
    CHECK(mark.offsets[0].line->sign == "C");
    CHECK(mark.offsets[0].side == "left of");
  }
}

TEST_CASE("lines are used only on bare wall, and where they cross the giornata they are drawn again") {
  auto layout = layouts::on(layouts::flat(4, 3), 0.002);
  layouts::add_box(layout, 0, 1.6, 4, 3);        // 1: finished, above: level lines 2 and 3 lie under it
  layouts::add_box(layout, 1.7, 0.8, 2.3, 1.6);  // 2: the centre line and level line 1 cross it
  auto input = cartoon_input(layout);
  input.walls[0].giornate[1].open_to_rest = true;
  const WallRegister wall(input.walls[0]);
  const Registration r = wall.of(input.walls[0].giornate[1]);
  CHECK_FALSE(r.enclosed);
  CHECK(r.taped());
  for (const RegistrationMark& mark : r.marks)
    for (const TapeOffset& offset : mark.offsets) {
      CHECK(offset.line->name != "level line 2");
      CHECK_FALSE(offset.over_finished);
    }
  std::map<std::string, int> ends;
  for (const BuriedLine& b : r.buried) ends[b.line->name] = b.bare_ends;
  CHECK(ends.size() == 2);
  CHECK(ends["level line 1"] == 2);
  CHECK(ends["the centre line (C)"] == 1);  // its upper end is under giornata 1
}

TEST_CASE("an enclosed last giornata hangs by its finished neighbours, nothing is snapped on paint") {
  auto layout = layouts::on(layouts::flat(3, 3), 0.002);
  layouts::add_box(layout, 0, 0, 3, 1);
  layouts::add_box(layout, 0, 1, 1, 2);
  layouts::add_box(layout, 2, 1, 3, 2);
  layouts::add_box(layout, 0, 2, 3, 3);
  layouts::add_box(layout, 1, 1, 2, 2);
  auto input = cartoon_input(layout);
  const CartoonWall& wall = input.walls[0];
  const WallRegister lines(wall);
  const Registration r = lines.of(wall.giornate[4]);
  CHECK(r.enclosed);
  CHECK(r.marks.empty());
  std::string words;
  for (const auto& line : r.words(wall, wall.giornate[4])) words += line + "\n";
  CHECK(words.find("Enclosed by finished work") != std::string::npos);
  CHECK(words.find("giornata 1, 2, 3 and 4") != std::string::npos);
  CHECK(words.find("nothing is snapped or nailed on paint") != std::string::npos);
  CHECK(words.find("from end to end") == std::string::npos);
}

TEST_CASE("the day sheet lists the marks, and they stand on the pattern") {
  auto layout = layouts::on(layouts::flat(4, 3), 0.002);
  layouts::add_box(layout, 1.7, 0.8, 2.3, 1.3);
  auto input = cartoon_input(layout);
  input.walls[0].giornate[0].open_to_rest = true;
  const TempFolder folder;
  const auto report = write_cartoon(input, folder.path(), {*paper_named("A1")});
  REQUIRE(report);
  const std::string sheet = raw_text_of_page(folder.file("day-sheets.pdf"), 2);
  for (const char* mark : {"mark 1: ", "mark 2: ", "mark 3: "}) CHECK(sheet.find(mark) != std::string::npos);
  CHECK(sheet.find("Snap again in the fresh intonaco, from end to end: the centre line (C) and level line 1") !=
        std::string::npos);
  int triangles = 0;
  for (const DrawnPath& p : drawn_paths(folder.file("cartoon.pdf"), 1))
    triangles += p.closed && p.points.size() == 3 && std::abs(p.width_mm - 0.3) < 0.01;
  CHECK(triangles == 3);
}
