#include <catch2/catch.hpp>

#include "engine/cartoon/record_sheet.h"
#include "engine/chart/charted_wall.h"
#include "tests/cartoon/reader.h"

using namespace pontata;

namespace {

WallRef flat_wall() {
  ShapeSpec shape;
  shape.width = 6;
  shape.height = 4;
  return build_wall(shape, {}, "wall").value();
}

Ring box(double u, double v, double width, double height) {
  return {to_lattice({u, v}), to_lattice({u + width, v}), to_lattice({u + width, v + height}),
          to_lattice({u, v + height})};
}

// Two giornate beside each other, the left one earlier and cut 0.2 m short of what was planned.
RecordWall two_painted(const WallRef& wall) {
  RecordWall record;
  record.name = "choir";
  record.wall = wall.get();
  RecordPatch left;
  left.label = "1", left.name = "Angel", left.painted = true, left.area_m2 = 3.6;
  left.rings = {box(1, 1, 1.8, 2)};
  left.planned = {box(1, 1, 2, 2)};
  left.dates = {"2027-05-03"};
  left.inside = {1.9, 2};
  RecordPatch right = left;
  right.label = "2", right.name = "Cloud";
  right.rings = {box(2.8, 1, 2.2, 2)};
  right.planned.clear();
  right.dates = {"2027-05-04 failed", "2027-05-09 again"};
  right.inside = {3.9, 2};
  record.patches = {left, right};
  record.seams = {{{{2.8, 1}, {2.8, 3}}, false}};
  return record;
}

// Keeps what is drawn of arrows: filled triangles.
class Drawn final : public Pages {
 public:
  std::vector<std::vector<Vec2>> triangles;
  std::vector<std::vector<Vec2>> dashed;
  int dots_drawn = 0;
  void begin_page(double, double) override { ++pages_; }
  int pages() const override { return pages_; }
  void set_layer(Layer layer) override { layer_ = layer; }
  void path(std::span<const Vec2> points, bool, const Stroke& stroke) override {
    if (!stroke.dash_mm.empty() && layer_ == Layer::lines) dashed.emplace_back(points.begin(), points.end());
  }
  void fill(std::span<const std::vector<Vec2>> rings, Colour) override {
    if (rings.size() == 1 && rings[0].size() == 3 && layer_ == Layer::marks) triangles.push_back(rings[0]);
  }
  void dots(std::span<const Vec2>, double, Colour) override { dots_drawn += layer_ == Layer::marks; }
  void text(Vec2, std::string_view, const TextStyle&) override {}
  double text_width(std::string_view words, const TextStyle& style) const override {
    return 0.6 * style.size_mm * static_cast<double>(words.size());
  }
  void picture(const Image&, Vec2, Vec2) override {}
  void clip_rectangle(Vec2, Vec2) override {}
  void unclip() override {}
  Outcome finish() override { return Done{}; }

 private:
  int pages_ = 0;
  Layer layer_ = Layer::frame;
};

}  // namespace

TEST_CASE("arrows point from the earlier giornata to the later, planned lines are dashed where they differ") {
  const auto wall = flat_wall();
  Drawn drawn;
  draw_record(drawn, "p", two_painted(wall));
  CHECK(drawn.pages() == 2);
  // 2 m of seam at 1 : 25 are 80 mm: one arrow, or two at most.
  REQUIRE_FALSE(drawn.triangles.empty());
  CHECK(drawn.triangles.size() <= 2);
  for (const auto& head : drawn.triangles) CHECK(head[0].x > std::max(head[1].x, head[2].x));  // the tip first
  REQUIRE(drawn.dashed.size() == 1);
  CHECK(drawn.dots_drawn == 0);
  RecordWall one_day = two_painted(wall);
  one_day.seams[0].same_day = true;
  Drawn plain;
  draw_record(plain, "p", one_day);
  CHECK(plain.triangles.empty());
  CHECK(plain.dots_drawn > 0);
}

TEST_CASE("the record's pages say what a later reader must know") {
  const auto wall = flat_wall();
  const fixtures::TempFolder folder;
  REQUIRE(write_record("chapel.pontata", {two_painted(wall)}, folder.file("r.pdf")).ok());
  const std::string text = fixtures::output_of("pdftotext -layout " + folder.file("r.pdf") + " -");
  for (const char* words : {"choir", "Dates are as written by the painter", "Scale 1 : 25", "2027-05-03",
                            "2027-05-04 failed", "2027-05-09 again", "Angel", "3.60", "lengths are true"}) {
    INFO(words);
    CHECK(text.find(words) != std::string::npos);
  }
  for (const Vec2 page : fixtures::page_boxes_mm(folder.file("r.pdf"))) {
    CHECK(page.x == Approx(420).margin(0.1));  // ISO 216, A3
    CHECK(page.y == Approx(297).margin(0.1));
  }
}

TEST_CASE("the scale is the least round one at which the wall fits") {
  CHECK(record_scale({6, 4}, {300, 200}) == 20);
  CHECK(record_scale({6.1, 4}, {300, 200}) == 25);
  CHECK(record_scale({12, 4}, {300, 200}) == 50);
  CHECK(record_scale({0.3, 0.2}, {300, 200}) == 1);
  CHECK(record_scale({301, 1}, {300, 200}) == 2000);
}
