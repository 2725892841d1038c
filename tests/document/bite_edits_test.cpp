// Outlines over giornate, joins of several and changed zones as edits of a document.
#include <algorithm>

#include "engine/base/predicates.h"
#include "engine/document/project_file.h"
#include "engine/document/seam_edits.h"
#include "tests/document/small_project.h"

using namespace pontata;

namespace {

double area(const Document& doc, GiornataId id) {
  const Network& n = doc.walls[0]->network;
  double sum = 0;
  for (const FaceId f : n.faces_of(id)) sum += static_cast<double>(n.sums(f).area) * kAreaUnit;
  return sum;
}

template <class E>
std::string refusal(const Result<E>& edited) {
  REQUIRE_FALSE(edited.ok());
  return edited.problem().message();
}

}  // namespace

TEST_CASE("an outline over two giornate takes from both and is one edit") {
  const auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  const std::string before = *project_text(*doc, "/");
  const auto made = draw_over(*doc, wall, box(1.25, 0.75, 0.5, 0.5), false, {std::nullopt, "Hand"});
  const auto next = done(made);
  CHECK(made->did == "Outline of giornata 3");
  CHECK(made->id == GiornataId{3});
  CHECK(made->area_m2 == Approx(0.25));
  REQUIRE(made->taken.size() == 2);
  CHECK(made->taken[0].from == GiornataId{1});
  CHECK(made->taken[0].area_m2 == Approx(0.125));
  CHECK(made->parts.empty());
  CHECK(area(*next, {1}) == Approx(0.875));
  CHECK(area(*next, {2}) == Approx(0.875));
  CHECK(next->giornata({1})->name == "Angel");
  CHECK(next->giornata({3})->name == "Hand");
  CHECK(*project_text(*doc, "/") == before);
  const std::string text = *project_text(*next, "/");
  const auto loaded = project_from_text(text, "p", "/");
  REQUIRE(loaded.ok());
  CHECK(*project_text(*loaded->document, "/") == text);
}

TEST_CASE("what a bite cuts off is a part with its own id, after the new giornata's") {
  Document doc = *small_project();
  doc.giornate[0].intonaco_mm = 4;
  const auto made = draw_over(doc, doc.walls[0]->id, box(0.7, 0, 0.3, 2), false);
  const auto next = done(made);
  REQUIRE(made->parts == std::vector<GiornataId>{{4}});
  CHECK(area(*next, {1}) == Approx(0.5));
  CHECK(area(*next, {4}) == Approx(0.2));
  CHECK(next->giornata({1})->name == "Angel");
  CHECK(next->giornata({4})->intonaco_mm == 4);
}

TEST_CASE("an outline is added to a giornata that is there") {
  const auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  const auto made = draw_over(*doc, wall, box(1.25, 0.75, 0.5, 1.25), false, {GiornataId{1}, ""});
  const auto next = done(made);
  CHECK(made->did == "Giornata 1 enlarged");
  CHECK(next->giornate.size() == 2);
  CHECK(area(*next, {1}) == Approx(1 + 0.25 * 0.75 + 0.5 * 0.5));
  CHECK(area(*next, {2}) == Approx(1 - 0.25 * 0.75));
  CHECK(refusal(draw_over(*doc, wall, box(3, 2, 0.5, 0.5), false, {GiornataId{1}, ""})).find("does not touch") !=
        std::string::npos);
  CHECK(refusal(draw_over(*doc, wall, box(3, 2, 0.5, 0.5), false, {GiornataId{9}, ""})).find("id 9") !=
        std::string::npos);
  CHECK(refusal(draw_over(*doc, wall, box(1.4, 0.4, 1.2, 1.2), false)).find("Nothing would be left of giornata 2") !=
        std::string::npos);
}

TEST_CASE("painted giornate keep their ground and are neither divided, joined, enlarged nor taken away") {
  Document doc = *small_project();
  doc.giornate[1].state = GiornataState::done;
  const WallId wall = doc.walls[0]->id;
  const auto made = draw_over(doc, wall, box(1.25, 0.75, 0.5, 0.5), false);
  const auto next = done(made);
  CHECK(made->overlap_given_up);
  CHECK(area(*next, {2}) == Approx(1));
  CHECK(area(*next, {3}) == Approx(0.125));
  const std::vector<GiornataId> both{{1}, {2}};
  for (const std::string& said : {refusal(draw_over(doc, wall, box(1.7, 0.7, 0.5, 0.5), false)),
                                  refusal(draw_over(doc, wall, box(1.25, 0.75, 0.5, 0.5), false, {GiornataId{2}, ""})),
                                  refusal(divide(doc, {2}, {{2, 0.4}, {2, 1.6}}, false)), refusal(join(doc, both)),
                                  refusal(remove_giornata(doc, {2}))})
    CHECK(said.find("giornata 2 is painted") != std::string::npos);
  doc.giornate[1].state = GiornataState::redo;
  CHECK(remove_giornata(doc, {2}).ok());
  CHECK(divide(doc, {2}, {{2, 0.4}, {2, 1.6}}, false).ok());
}

TEST_CASE("several giornate are joined in whatever order they touch, all or none") {
  auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  doc = done(draw_outline(*doc, wall, box(2.5, 0.5, 1, 1), false, ""));
  doc = done(draw_outline(*doc, wall, box(0.5, 2, 1, 0.5), false, ""));
  const std::vector<GiornataId> row{{1}, {3}, {2}};
  const auto made = join(*doc, row);
  const auto next = done(made);
  CHECK(made->did == "Giornate 3 and 2 joined to 1");
  CHECK(area(*next, {1}) == Approx(3));
  CHECK(next->giornata({1})->name == "Angel");
  CHECK_FALSE(next->giornata({2}));
  const std::vector<GiornataId> apart{{1}, {2}, {4}}, twice{{1}, {2}, {1}}, one{{1}};
  CHECK(refusal(join(*doc, apart)).find("giornata 4") != std::string::npos);
  CHECK(refusal(join(*doc, twice)).find("itself") != std::string::npos);
  CHECK(refusal(join(*doc, one)).find("two giornate") != std::string::npos);
}

TEST_CASE("the corners of a zone over the cut are those it was drawn by, and moving one is as if it were drawn so") {
  ShapeSpec shape;
  shape.kind = ShapeKind::drum;
  shape.span = 4;
  shape.height = 3;
  shape.angle_deg = 360;
  const auto drum = done(add_shape_wall(Document{}, "tower", shape, {}));
  const double round = drum->walls[0]->wall->chart->box().width;
  std::vector<ChartPoint> drawn{{round - 0.5, 1}, {0.4, 1}, {0.5, 1.5}, {0.4, 2}, {round - 0.5, 2}};
  const auto add = [&] {
    return done(add_zone(*drum, drum->walls[0]->id, ZoneKind::keep_whole, drawn, "", std::nullopt));
  };
  const auto doc = add();
  const Zone& zone = doc->walls[0]->zones[0];
  REQUIRE(zone.more.size() == 1);
  auto corners = zone_corners(*doc->walls[0], zone);
  REQUIRE(corners.size() == drawn.size());
  const auto tip =
      std::find_if(corners.begin(), corners.end(), [](ChartPoint p) { return std::abs(p.v - 1.5) < 1e-4; });
  REQUIRE(tip != corners.end());
  ZoneChange change;
  *tip = drawn[2] = {0.9, 1.4};
  change.points = corners;
  const Zone moved = done(change_zone(*doc, zone.id, change))->walls[0]->zones[0];
  const auto area = [](const Zone& z) {
    double sum = 0;
    for (const Ring& ring : z.rings()) sum += 0.5 * kPitch * kPitch * static_cast<double>(twice_area(ring));
    return sum;
  };
  CHECK(area(moved) == Approx(area(add()->walls[0]->zones[0])).epsilon(1e-9));
  CHECK(area(moved) == Approx(0.9 + 0.5 * 0.5).epsilon(1e-3));  // shoelace: a box of 0.9 by 1 m and its tip
  const auto flat = small_project();
  CHECK(zone_corners(*flat->walls[0], flat->walls[0]->zones[0]).size() == 4);
}

TEST_CASE("a zone changes its kind, name, rate and outline") {
  auto doc = small_project();
  doc = done(add_zone(*doc, doc->walls[0]->id, ZoneKind::detail, box(2, 2, 0.5, 0.5), "hands", std::nullopt));
  const auto zone = [](const DocumentRef& d) { return d->walls[0]->zones[0]; };
  ZoneChange change;
  change.name = "head";
  change.points = box(0.6, 0.6, 0.2, 0.2);
  auto next = done(change_zone(*doc, ZoneId{1}, change));
  CHECK(zone(next).name == "head");
  CHECK(zone(next).rate_m2_per_h == 0.06);
  CHECK(zone(next).ring.size() == 4);
  CHECK(to_chart(zone(next).ring[0]).u == Approx(0.6));
  change = {};
  change.kind = ZoneKind::keep_whole;
  next = done(change_zone(*doc, ZoneId{1}, change));
  CHECK(zone(next).kind == ZoneKind::keep_whole);
  CHECK_FALSE(zone(next).rate_m2_per_h);  // a keep-whole zone has none
  change.rate_m2_per_h = 0.1;
  CHECK(refusal(change_zone(*doc, ZoneId{1}, change)).find("no painting rate") != std::string::npos);
  change = {};
  change.name = "hands";
  CHECK(refusal(change_zone(*doc, ZoneId{1}, change)).find("named hands already") != std::string::npos);
  change = {};
  change.points = box(2, 2, 0.5, 0.5);
  CHECK(refusal(change_zone(*doc, ZoneId{1}, change)).find("there already") != std::string::npos);
  change.points = {{0, 0}, {1, 1}, {1, 0}, {0, 0.8}};
  CHECK(refusal(change_zone(*doc, ZoneId{1}, change)).find("crosses itself") != std::string::npos);
  CHECK(refusal(change_zone(*doc, ZoneId{1}, {})).find("nothing") != std::string::npos);
  CHECK(refusal(change_zone(*doc, ZoneId{7}, change)).find("id 7") != std::string::npos);
}
