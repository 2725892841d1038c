#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/chart/openings_cut.h"
#include "engine/document/opening_edits.h"
#include "engine/document/project_file.h"
#include "engine/document/soundness.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/scans.h"

using namespace pontata;

namespace {

Opening rect(double u, double v, double w, double h) { return {OpeningKind::rect, {u, v}, w, h, {}}; }
Opening oculus(double u, double v, double d) { return {OpeningKind::round, {u, v}, d, 0, {}}; }

double area_of(const Document& doc, std::uint32_t id) {
  double area = 0;
  for (const auto& item : doc.walls)
    for (const FaceId f : item->network.faces_of(GiornataId{id}))
      area += static_cast<double>(item->network.sums(f).area) * kAreaUnit;
  return area;
}

std::vector<Ring> rings_of(const Document& doc, std::uint32_t id) {
  std::vector<Ring> rings;
  const Network& network = doc.walls[0]->network;
  for (const FaceId f : network.faces_of(GiornataId{id}))
    for (const auto& ring : network.rings(f)) {
      auto begin = std::min_element(ring.begin(), ring.end());
      rings.push_back(ring);
      std::rotate(rings.back().begin(), rings.back().begin() + (begin - ring.begin()), rings.back().end());
    }
  return rings;
}

void check_sound(const Document& doc) {
  Flow flow;
  for (const auto& fault : document_faults(doc, flow)) FAIL_CHECK(fault.message());
}

bool refused_for(const Result<OpeningEdited>& edited, const std::string& part) {
  if (edited) return false;
  INFO(edited.problem().message());
  return edited.problem().message().find(part) != std::string::npos;
}

// A dome with three giornate side by side below its crown.
DocumentRef dome_project() {
  ShapeSpec shape;
  shape.kind = ShapeKind::dome;
  shape.span = 4, shape.rise = 1.2;
  auto doc = done(add_shape_wall(Document{}, "dome", shape, {{1, 2, 3}, 30}));
  for (const double u : {0.9, 1.7, 2.5}) doc = done(draw_outline(*doc, WallId{1}, box(u, 1, 0.8, 1.5), false, ""));
  return doc;
}

}  // namespace

TEST_CASE("giornate that an opening reaches end on it, the others keep seams and area") {
  const auto before = small_project();
  const auto edited = add_opening(*before, WallId{1}, rect(2, 0.75, 1, 0.5));
  const auto after = done(edited);
  check_sound(*after);
  CHECK(area_of(*after, 1) == Approx(1).margin(1e-12));
  CHECK(rings_of(*after, 1) == rings_of(*before, 1));
  CHECK(area_of(*after, 2) == Approx(0.75).margin(1e-11));
  REQUIRE(edited->changed.size() == 1);
  CHECK(edited->changed[0].id == GiornataId{2});
  CHECK(edited->changed[0].before_m2 == Approx(1));
  CHECK(edited->wall_m2 == Approx(11.5));
  CHECK(after->walls[0]->openings.size() == 1);
  CHECK(before->walls[0]->openings.empty());
}

TEST_CASE("the same on a dome, where every seam is measured again") {
  const auto before = dome_project();
  const auto& wall = *before->walls[0]->wall;
  const Opening window = oculus(2.6, 2, 0.5);
  const auto after = done(add_opening(*before, WallId{1}, window));
  check_sound(*after);
  CHECK(area_of(*after, 1) == Approx(area_of(*before, 1)).margin(1e-10));
  CHECK(rings_of(*after, 1) == rings_of(*before, 1));
  const double lost = area_of(*before, 2) - area_of(*after, 2) + area_of(*before, 3) - area_of(*after, 3);
  CHECK(lost == Approx(area_by_clipping(wall, std::vector<Ring>{opening_ring(window).value()})).margin(1e-8));
}

TEST_CASE("a closed opening leaves wall that nobody paints yet") {
  const auto before = small_project();
  const auto cut = done(add_opening(*before, WallId{1}, rect(2, -0.2, 1, 1)));
  CHECK(area_of(*cut, 2) == Approx(0.85));
  const auto closed = done(remove_opening(*cut, WallId{1}, 0));
  check_sound(*closed);
  CHECK(closed->walls[0]->openings.empty());
  CHECK(closed->walls[0]->wall->metric->area() == Approx(12));
  CHECK(area_of(*closed, 2) == Approx(0.85));
  CHECK(rings_of(*closed, 1) == rings_of(*before, 1));
  const auto again = done(
      join(*done(draw_outline(*closed, WallId{1}, box(2, 0.5, 0.5, 0.3), false, "")), GiornataId{2}, GiornataId{3}));
  CHECK(area_of(*again, 2) == Approx(1).margin(1e-8));
}

TEST_CASE("openings that would spoil what is there are refused in plain words") {
  const auto doc = small_project();
  CHECK(refused_for(add_opening(*doc, WallId{1}, rect(1.4, 0.4, 1.2, 1.2)), "nothing would be left of giornata 2"));
  CHECK(refused_for(add_opening(*doc, WallId{1}, rect(1.9, 0.4, 0.2, 1.2)), "giornata 2 would be parted"));
  CHECK(refused_for(add_opening(*doc, WallId{1}, rect(0.6, 0.6, 0.2, 0.2)), "cut zone face"));
  CHECK(refused_for(add_opening(*doc, WallId{1}, rect(0.8, 0.65, 0.1, 0.7)), "cut zone face"));
  CHECK(refused_for(add_opening(*doc, WallId{1}, rect(9, 9, 1, 1)), "outside the wall"));
  CHECK(refused_for(add_opening(*doc, WallId{3}, rect(1, 1, 1, 1)), "no such wall"));
  CHECK(refused_for(remove_opening(*doc, WallId{1}, 0), "no opening 1"));
  auto painted = std::make_shared<Document>(*doc);
  painted->giornate[1].state = GiornataState::done;
  CHECK(refused_for(add_opening(*painted, WallId{1}, rect(2, 0.75, 1, 0.5)), "painted already"));
  CHECK(add_opening(*painted, WallId{1}, rect(3, 0.75, 0.5, 0.5)).ok());
}

TEST_CASE("openings are kept in the project, with the same wall and seams") {
  const TemporaryFolder folder;
  ShapeSpec shape;
  shape.width = 4, shape.height = 3;
  const std::vector<Opening> openings{{OpeningKind::arched, {1.2, 0}, 1, 2, {}},
                                      {OpeningKind::free, {}, 0, 0, {{3, 1}, {3.5, 1}, {3.2, 2}}}};
  auto doc = done(add_shape_wall(Document{}, "nave", shape, {}, openings));
  doc = done(draw_outline(*doc, WallId{1}, box(1, 0.5, 1.5, 2.2), false, ""));
  doc = done(add_opening(*doc, WallId{1}, oculus(2.8, 2.4, 0.3)));
  check_sound(*doc);
  const std::string text = project_text(*doc, folder.path()).value();
  REQUIRE(save_project(*doc, folder.file("p")).ok());
  const auto loaded = load_project(folder.file("p")).value();
  CHECK(loaded->walls[0]->openings == doc->walls[0]->openings);
  CHECK(loaded->walls[0]->wall->chart->places() == doc->walls[0]->wall->chart->places());
  CHECK(project_text(*loaded, folder.path()).value() == text);
  check_sound(*loaded);
}

TEST_CASE("an opening cut beside a seam that is led through its corner leaves no seam within a giornata") {
  ShapeSpec shape;
  shape.width = 4, shape.height = 2.5;
  const std::vector<Opening> openings{{OpeningKind::round, {3.1, 1.5}, 0.4, 0, {}}};
  auto doc = done(add_shape_wall(Document{}, "nave", shape, {}, openings));
  doc = done(draw_outline(*doc, WallId{1}, {{3.1, 1.7}, {2.93, 1.6}, {3, 1}, {2, 2}}, false, ""));
  doc = done(add_opening(*doc, WallId{1}, rect(2, 2, 0.3, 0.2)));
  check_sound(*doc);
  const Network& n = doc->walls[0]->network;
  for (std::uint32_t k = 0; k < n.half_edge_slots() / 2; ++k) {
    if (!n.alive(SeamId{k}) || n.on_border({k})) continue;
    const auto owner = [&](std::uint32_t h) { return n.face(n.half_edge({h}).face).owner; };
    CHECK(owner(2 * k) != owner(2 * k + 1));
  }
}

TEST_CASE("openings in a scan: cut, kept, closed") {
  const TemporaryFolder folder;
  const auto sheet = fixtures::grid_sheet(60, 40, [](double s, double t) {
    const double x = 3 * s;
    return Vec3{x, 0.12 * std::sin(2 * x) * std::cos(1.5 * t), 2 * t};
  });
  const auto path = fixtures::write_glb(folder.file("wall.glb"), {{sheet.points, sheet.triangles, {}, {}, {}, {}, {}}});
  ScanOptions options;
  options.y_up = false;
  auto doc = done(add_scan_wall(Document{}, "scan", path, "m", options));
  const auto whole = doc->walls[0]->wall;
  const ChartBox size = whole->chart->box();
  doc = done(draw_outline(*doc, WallId{1}, box(0.2, 0.2, 0.8, 0.8), false, ""));
  doc = done(draw_outline(*doc, WallId{1}, box(1, 0.2, 0.8, 0.8), false, ""));
  const double first = area_of(*doc, 1), second = area_of(*doc, 2);
  const Opening window = rect(1.5, 0.5, 0.6, 0.9), door = rect(2.4, -0.1, 0.4, 1);
  const auto cut = done(add_opening(*done(add_opening(*doc, WallId{1}, window)), WallId{1}, door));
  check_sound(*cut);
  CHECK(area_of(*cut, 1) == Approx(first).margin(1e-9));
  CHECK(area_of(*cut, 2) < second - 0.1);
  double taken = 0;
  for (const auto& o : {window, door}) taken += area_by_clipping(*whole, std::vector<Ring>{opening_ring(o).value()});
  // The fair area of a triangle cut in two differs a little from that of the whole.
  CHECK(cut->walls[0]->wall->metric->area() + taken == Approx(whole->metric->area()).margin(1e-5));
  CHECK(cut->walls[0]->wall->scan.has_value());
  REQUIRE(save_project(*cut, folder.file("p")).ok());
  const auto loaded = load_project(folder.file("p")).value();
  CHECK(loaded->walls[0]->wall->chart->places() == cut->walls[0]->wall->chart->places());
  CHECK(*loaded->walls[0]->wall->places_before_openings == whole->chart->places());
  check_sound(*loaded);
  const auto closed = done(remove_opening(*done(remove_opening(*loaded, WallId{1}, 0)), WallId{1}, 0));
  CHECK(closed->walls[0]->wall->chart->places() == whole->chart->places());
  CHECK(closed->walls[0]->wall->chart->box().width == size.width);
  CHECK(area_of(*closed, 1) == Approx(first).margin(1e-10));
  check_sound(*closed);
}
