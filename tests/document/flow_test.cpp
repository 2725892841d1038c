#include "engine/document/flow.h"

#include "engine/document/open_edges.h"
#include "engine/document/soundness.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/pictures.h"

using namespace pontata;

TEST_CASE("asking again gives the very same results") {
  const auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  Flow flow;
  CHECK(flow.figures(*doc, wall) == flow.figures(*doc, wall));
  CHECK(flow.plan(*doc) == flow.plan(*doc));
  CHECK(flow.giornate(*doc) == flow.giornate(*doc));
  CHECK(flow.findings(*doc, wall) == flow.findings(*doc, wall));
}

TEST_CASE("an edit makes again only what follows from it") {
  const auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  Flow flow;
  const auto figures = flow.figures(*doc, wall);
  const auto plan = flow.plan(*doc);
  const auto giornate = flow.giornate(*doc);
  const auto findings = flow.findings(*doc, wall);

  const auto renamed = done(rename_giornata(*doc, GiornataId{1}, "other"));
  CHECK(flow.figures(*renamed, wall) == figures);
  CHECK(flow.plan(*renamed) == plan);

  const auto wasteful = done(set_parameter(*doc, "waste.pct", "50"));
  CHECK(flow.figures(*wasteful, wall) == figures);
  CHECK(flow.plan(*wasteful) == plan);
  CHECK(flow.findings(*wasteful, wall) == findings);
  CHECK(flow.giornate(*wasteful) != giornate);
  CHECK(flow.giornate(*wasteful)->at(0).need->mortar_L > giornate->at(0).need->mortar_L);

  const auto slower = done(set_parameter(*doc, "rate", "0.2"));
  CHECK(flow.figures(*slower, wall) != figures);
  CHECK(*flow.figures(*slower, wall)->hours[1].hours > *figures->hours[1].hours);

  const auto cut = done(divide(*doc, GiornataId{2}, {{2, 0.5}, {2, 1.5}}, false));
  CHECK(flow.figures(*cut, wall)->measure.giornate.size() == 3);
  CHECK(flow.giornate(*cut)->size() == 3);
}

TEST_CASE("drawing on one wall leaves the other wall's figures alone") {
  const auto one = small_project();
  ShapeSpec shape;
  shape.width = shape.height = 2;
  const auto two = done(add_shape_wall(*one, "other", shape, {}));
  Flow flow;
  const auto figures = flow.figures(*two, two->walls[0]->id);
  const auto drawn = done(draw_outline(*two, two->walls[1]->id, box(0.5, 0.5, 1, 1), false, ""));
  CHECK(flow.figures(*drawn, two->walls[0]->id) == figures);
  CHECK(flow.figures(*drawn, two->walls[1]->id)->measure.giornate.size() == 1);
}

TEST_CASE("the first day's rim is open, the shared metre is closed on the second") {
  // Two squares of 1 m side by side: rims of 4 m each, 1 m shared, 3 m each against the rest.
  const auto doc = small_project();
  Flow flow;
  const auto rows = flow.giornate(*doc);
  REQUIRE(rows->size() == 2);
  const auto& first = rows->at(0);
  const auto& second = rows->at(1);
  CHECK(first.day.date < second.day.date);
  CHECK(first.open_edge_m == Approx(4));
  CHECK(first.meets_finished.empty());
  CHECK(first.stays_open == std::vector<GiornataId>{second.id});
  CHECK(first.open_to_rest);
  CHECK(second.open_edge_m == Approx(3));
  CHECK(second.meets_finished == std::vector<GiornataId>{first.id});
  CHECK(second.stays_open.empty());
}

TEST_CASE("the wall's own border is no open edge") {
  auto doc = flat_wall();
  doc = done(draw_outline(*doc, doc->walls[0]->id, box(0, 0, 1, 1), false, ""));  // a corner: 2 m of border
  Flow flow;
  CHECK(flow.giornate(*doc)->at(0).open_edge_m == Approx(2));
}

TEST_CASE("finished work closes the edges it meets") {
  const std::vector<SharedSeam> seams{{GiornataId{1}, GiornataId{2}, 1.0}, {GiornataId{2}, GiornataId{}, 3.0}};
  Plan plan;
  plan.days.resize(2);
  plan.days[0].id = GiornataId{1};
  plan.days[0].dated = false;
  plan.days[1].id = GiornataId{2};
  const auto edges = edges_on_day(GiornataId{2}, seams, plan);
  CHECK(edges.meets_finished == std::vector<GiornataId>{GiornataId{1}});
  CHECK(edges.open_edge_m == 3.0);
  plan.days[0].dated = true;
  plan.days[0].date = add_days(plan.days[1].date, 1);
  CHECK(edges_on_day(GiornataId{2}, seams, plan).open_edge_m == 4.0);
  CHECK(edges_on_day(GiornataId{2}, seams, plan).stays_open == std::vector<GiornataId>{GiornataId{1}});
}

TEST_CASE("a document made by edits is sound, one with swapped records is not") {
  const auto doc = small_project();
  Flow flow;
  CHECK(document_faults(*doc, flow).empty());
  auto wrong = std::make_shared<Document>(*doc);
  wrong->giornate[1].number = wrong->giornate[0].number;
  CHECK_FALSE(document_faults(*wrong, flow).empty());
  auto lost = std::make_shared<Document>(*doc);
  Giornata extra = lost->giornate[0];
  extra.id = GiornataId{3};
  extra.number = 3;
  lost->giornate.push_back(extra);
  Flow other;
  CHECK_FALSE(document_faults(*lost, other).empty());
}

namespace {

// The small project with a picture, dark on the left and light on the right.
DocumentRef with_picture() {
  Document doc = *small_project();
  Image image{400, 300, {}};
  for (int k = 0; k < 400 * 300; ++k) image.rgb.insert(image.rgb.end(), 3, k % 400 < 200 ? 40 : 210);
  auto item = std::make_shared<WallItem>(*doc.walls[0]);
  item->pictures = {fixtures::placed(image, PictureFrame{{0, 0}, 4, 3, 0})};
  doc.walls[0] = std::move(item);
  return std::make_shared<const Document>(std::move(doc));
}

}  // namespace

TEST_CASE("contours are made again only for other pictures or other settings of theirs") {
  const auto doc = with_picture();
  const WallId wall = doc->walls[0]->id;
  Flow flow;
  const auto draped = flow.draped(*doc, wall);
  const auto contours = flow.contours(*doc, wall);
  REQUIRE(contours->columns > 0);
  const auto drawn = done(draw_outline(*doc, wall, box(3, 2, 0.5, 0.5), false, ""));
  CHECK(flow.draped(*drawn, wall) == draped);
  CHECK(flow.contours(*drawn, wall) == contours);

  const auto stronger = done(set_parameter(*doc, "contours.strength", "0.3"));
  const auto again = flow.contours(*stronger, wall);
  CHECK(flow.draped(*stronger, wall) == draped);
  CHECK(again != contours);
  CHECK(again->tile(0, 0) == contours->tile(0, 0));  // only joined anew
}

TEST_CASE("contours found elsewhere are taken over, those of a stopped search are not") {
  const auto doc = with_picture();
  const WallId wall = doc->walls[0]->id;
  Flow one, other, third;
  const auto draped = one.draped(*doc, wall);
  const auto contours = one.contours(*doc, wall);
  other.take_over(*doc, wall, draped, contours);
  CHECK(other.draped(*doc, wall) == draped);
  CHECK(other.contours(*doc, wall) == contours);
  third.take_over(*doc, wall, draped, std::make_shared<const ContourField>());
  CHECK(third.contours(*doc, wall)->columns == contours->columns);
}
