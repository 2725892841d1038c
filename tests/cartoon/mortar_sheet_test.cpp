// The mortar of the day sheet, as an independent reader finds it.
#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>

#include "engine/cartoon/day_sheet.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/working_order.h"
#include "reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

layouts::Layout one_patch() {
  auto layout = layouts::on(layouts::flat(4, 3));
  layouts::add_box(layout, 1, 1, 2, 2);
  return layout;
}

// All words of the day sheet, one space between them.
std::string sheet_of(const layouts::Layout& layout, const PlasterSettings& plaster,
                     const std::vector<PuttyBatch>& putty = {}) {
  CartoonInput input = cartoon_input(layout);
  input.plaster = plaster;
  input.putty = putty;
  CartoonGiornata& g = input.walls[0].giornate[0];
  g.day.date = {2027, 5, 4};
  g.need = plaster_need(g.measure, layout.giornate[0], 2, plaster).value();
  const TempFolder folder;
  auto pdf = PdfPages::create(folder.file("day.pdf"), "day");
  REQUIRE(pdf);
  draw_day_sheet(*pdf, input, {&input.walls[0], &g});
  REQUIRE(pdf->finish());
  std::istringstream in(text_of_page(folder.file("day.pdf"), 1));
  std::string text;
  for (std::string word; in >> word;) text += word + " ";
  return text;
}

bool holds(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

}  // namespace

TEST_CASE("the day sheet tells each coat's mix, batch and grain, and the wet weight on the deck") {
  const auto layout = one_patch();
  PlasterSettings plaster;
  plaster.supply.sand_moisture_pct = 4;
  const std::string sheet = sheet_of(layout, plaster);
  const GiornataNeed need = plaster_need(layout.measure().giornate[0], layout.giornate[0], 2, plaster).value();
  CHECK(holds(sheet, "first, pressed in for bond: 1 lime putty : 1.5 sand, by volume."));
  CHECK(holds(sheet, "final: 1 lime putty : 1 sand, by volume."));
  CHECK(holds(sheet, "of damp sand up to 0.5 mm"));
  CHECK(holds(sheet, "1 bucket of 12 L to carry up; " + std::to_string(static_cast<int>(std::lround(wet_kg(need)))) +
                         " kg of wet mortar on the deck"));
  CHECK_FALSE(holds(sheet, "marble"));
  CHECK_FALSE(holds(sheet, "pozzolana"));
  CHECK(holds(sheet, "H318"));
}

TEST_CASE("marble dust and pozzolana stand on the day sheet where they are used") {
  PlasterSettings plaster;
  plaster.intonaco[1].mix = {.putty = 1, .sand = 0.5, .marble = 0.5};
  plaster.intonaco[0].mix = {.putty = 1, .sand = 1.5, .pozzolana = 0.5};
  const std::string sheet = sheet_of(one_patch(), plaster);
  CHECK(holds(sheet, "marble, L pozzolana, L wet, kg"));
  CHECK(holds(sheet, "of marble dust"));
}

TEST_CASE("the day sheet names the tubs of putty that are ripe on its day") {
  const std::vector<PuttyBatch> tubs{{"north", {2026, 5, 4}, 80, ""}, {"south", {2026, 5, 5}, 40, ""}};
  const std::string sheet = sheet_of(one_patch(), {}, tubs);
  CHECK(holds(sheet, "12 months old on this day: north (slaked 2026-05-04)."));
  CHECK_FALSE(holds(sheet, "south"));
  CHECK(holds(sheet_of(one_patch(), {}, {tubs[1]}), "None of the tubs noted is 12 months old on this day."));
}
