#include "engine/cartoon/sheet_preview.h"

#include <catch2/catch.hpp>

#include "reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

layouts::Layout two_boxes() {
  auto l = layouts::on(layouts::flat(4, 3), 0);
  layouts::add_box(l, 0.5, 0.5, 1.6, 1.1);
  layouts::add_box(l, 1.6, 0.5, 1.9, 0.8);
  return l;
}

}  // namespace

TEST_CASE("the plan counts the sheets and the paper that are then printed") {
  const auto layout = two_boxes();
  const auto input = cartoon_input(layout);
  for (const char* paper : {"A3", "roll610"}) {
    const CartoonOptions options{*paper_named(paper)};
    const auto plan = plan_sheets(input, options);
    REQUIRE(plan);
    const TempFolder folder;
    const auto report = write_cartoon(input, folder.path(), options);
    REQUIRE(report);
    CHECK(plan->sheets == report->sheets);
    CHECK(plan->paper_m2 == Approx(report->paper_m2));
    CHECK(plan->roll_m == Approx(report->roll_m));
    double area = 0, length = 0;
    for (const Vec2& box : page_boxes_mm(folder.file("cartoon.pdf")))
      area += 1e-6 * box.x * box.y, length += box.y / 1e3;
    CHECK(report->paper_m2 == Approx(area).epsilon(1e-4));
    CHECK(report->roll_m == Approx(options.paper.roll ? length : 0).epsilon(1e-4));
    REQUIRE(plan->giornate.size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
      CHECK(plan->giornate[i].sheets == report->giornate[i].sheets);
      REQUIRE(plan->giornate[i].tilings.size() == 1);
      CHECK(static_cast<int>(plan->giornate[i].tilings[0].tiles.size()) == report->giornate[i].sheets);
    }
  }
}

TEST_CASE("a sheet in the preview is the sheet that is printed") {
  const auto layout = two_boxes();
  const auto input = cartoon_input(layout, ruled_picture(400, 300));
  const CartoonOptions options{*paper_named("A3")};
  const TempFolder folder;
  REQUIRE(write_cartoon(input, folder.path(), options));
  auto preview = SheetPreview::make(input, options, GiornataId{1});
  REQUIRE(preview);
  REQUIRE(preview->sheets() > 1);
  for (const int index : {1, 0}) {
    const auto sheet = preview->sheet(index, 40);
    REQUIRE(sheet);
    const PageImage printed = render_page(folder.file("cartoon.pdf"), index + 1, 40);
    CHECK(std::abs(sheet->width - printed.width) <= 1);
    CHECK(std::abs(sheet->height - printed.height) <= 1);
    double apart = 0, ink = 0;
    for (int y = 0; y < std::min(sheet->height, printed.height); ++y)
      for (int x = 0; x < std::min(sheet->width, printed.width); ++x) {
        const int a = sheet->rgb[static_cast<std::size_t>(3 * (y * sheet->width + x))], b = printed.at(x, y)[0];
        apart += std::abs(a - b), ink += 255 - b;
      }
    CHECK(apart < 0.12 * ink);
  }
  CHECK_FALSE(preview->sheet(preview->sheets(), 40));
  CHECK_FALSE(preview->sheet(-1, 40));
  CHECK_FALSE(SheetPreview::make(input, options, GiornataId{99}));
}

TEST_CASE("plan and preview can be stopped") {
  const auto layout = two_boxes();
  const auto input = cartoon_input(layout);
  Progress progress;
  progress.cancelled = true;
  const auto plan = plan_sheets(input, {*paper_named("A3")}, &progress);
  REQUIRE_FALSE(plan);
  CHECK(plan.problem().what == "stopped");
  CHECK_FALSE(SheetPreview::make(input, {*paper_named("A3")}, GiornataId{1}, &progress));
}
