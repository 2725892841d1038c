// Who a giornata is after edits, bites over a cut of the chart, and seams redrawn along a picture.
#include <cmath>
#include <numbers>

#include "engine/document/giornata_records.h"
#include "engine/document/picture_edits.h"
#include "engine/document/seam_edits.h"
#include "engine/seams/cut_contacts.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/figures.h"

using namespace pontata;

namespace {

double area(const DocumentRef& doc, std::uint32_t id) {
  const Network& n = doc->walls[0]->network;
  double sum = 0;
  for (const FaceId f : n.faces_of({id})) sum += static_cast<double>(n.sums(f).area) * kAreaUnit;
  return sum;
}

// Faces of a giornata that do not touch, across cuts too.
std::size_t places(const DocumentRef& doc, std::uint32_t id) {
  const WallItem& item = *doc->walls[0];
  const auto contacts = cut_contacts(item.network, *item.wall->chart);
  return joined_across(item.network, item.network.faces_of({id}), contacts).size();
}

// Giornata 1 "Angel" with a note and 2 beside it, both printed, so that their numbers stay.
DocumentRef noted_pair() {
  const auto noted = done(set_note(*small_project(), {1}, "wet the arriccio twice"));
  return done(cartoon_printed(*noted, std::vector<GiornataId>{{1}, {2}}));
}

void check_is_angel(const DocumentRef& doc, const std::string& label = "1") {
  const Giornata& g = *doc->giornata({1});
  CHECK(g.name == "Angel");
  CHECK(g.note == "wet the arriccio twice");
  CHECK(label_of(g) == label);
}

// A drum of 1.5 m, cut open along u = 0: its chart is 4.7 m wide, and the surface unrolled.
struct Drum {
  DocumentRef doc = done(add_shape_wall(
      Document{}, "drum", {.kind = ShapeKind::drum, .height = 1.6, .span = 1.5, .angle_deg = 360}, {{0, 0, 0}, 0}));
  WallId wall = doc->walls[0]->id;
  double round_m = doc->walls[0]->wall->chart->box().width;
  // The drum is built of flat facets, each a little less wide than the arc that the chart unrolls.
  double flat = doc->walls[0]->wall->metric->area() / (round_m * 1.6);
  // From u to u + width past the cut, as a pointer would go.
  std::vector<ChartPoint> over_cut(double u, double v, double width, double height) const {
    return box(round_m + u, v, width, height);
  }
};

}  // namespace

TEST_CASE("a bite over the cut of a drum takes on both sides of it") {
  const Drum drum;
  const auto doc = done(draw_outline(*drum.doc, drum.wall, drum.over_cut(-0.5, 0.4, 1, 0.8), false, "Angel"));
  // Unrolled, areas are those of rectangles.
  CHECK(area(doc, 1) == Approx(0.8 * drum.flat).margin(2e-6));
  CHECK(places(doc, 1) == 1);
  const auto made = draw_over(*doc, drum.wall, drum.over_cut(-0.2, 0.2, 0.5, 0.7), false);
  const auto next = done(made);
  REQUIRE(made->taken.size() == 1);
  CHECK(made->taken[0].area_m2 == Approx(0.25 * drum.flat).margin(2e-6));
  CHECK(made->parts.empty());
  CHECK(area(next, 1) == Approx(0.55 * drum.flat).margin(2e-6));
  CHECK(area(next, 2) == Approx(0.35 * drum.flat).margin(2e-6));
  CHECK(places(next, 1) == 1);
  CHECK(places(next, 2) == 1);
  CHECK(next->walls[0]->network.check().empty());
}

TEST_CASE("a bite that parts a giornata lying over the cut makes one part of both sides") {
  const Drum drum;
  const auto doc = done(draw_outline(*drum.doc, drum.wall, drum.over_cut(-0.5, 0.4, 1, 0.8), false, "Angel"));
  const auto made = draw_over(*doc, drum.wall, drum.over_cut(-0.6, 0.7, 1.2, 0.1), false);
  const auto next = done(made);
  CHECK(area(next, 1) == Approx(0.4 * drum.flat).margin(2e-6));
  REQUIRE(made->parts == std::vector<GiornataId>{{3}});
  CHECK(area(next, 3) == Approx(0.3 * drum.flat).margin(2e-6));
  CHECK(next->walls[0]->network.faces_of({3}).size() == 2);
  for (const std::uint32_t id : {1u, 2u, 3u}) CHECK(places(next, id) == 1);
  CHECK(next->giornata({1})->name == "Angel");
  CHECK(next->giornata({3})->name.empty());
  // Cut along the cut itself, the two sides are parts.
  const auto parted = draw_over(*doc, drum.wall, drum.over_cut(-0.1, 0.3, 0.15, 1), false);
  REQUIRE(parted.ok());
  CHECK(parted->parts.size() == 1);
  CHECK(area(parted->document, 1) == Approx(0.45 * 0.8 * drum.flat).margin(2e-6));
  CHECK(area(parted->document, 3) == Approx(0.4 * 0.8 * drum.flat).margin(2e-6));
}

TEST_CASE("through bites the larger part stays the giornata it was, whichever side it lies on") {
  const auto doc = noted_pair();
  const WallId wall = doc->walls[0]->id;
  for (const double u : {0.6, 0.85, 1.1, 1.3}) {
    const auto made = draw_over(*doc, wall, box(u, 0.2, 0.05, 1.6), false);
    const auto next = done(made);
    INFO("bitten through at " << u);
    REQUIRE(made->parts.size() == 1);
    CHECK(area(next, 1) == Approx(std::max(u - 0.5, 1.45 - u)).margin(1e-6));
    check_is_angel(next, "1a");
    CHECK(label_of(*next->giornata(made->parts[0])) == "1b");
    CHECK(next->giornata(made->parts[0])->name.empty());
    CHECK(next->giornata({1})->changed);
    CHECK_FALSE(next->giornata({2})->changed);
  }
  // Bitten down to a tenth, it is still itself; its neighbour has no part in it.
  const auto most = done(draw_over(*doc, wall, box(0.4, 0.4, 1, 1.2), false));
  CHECK(area(most, 1) == Approx(0.1).margin(1e-6));
  check_is_angel(most);
}

TEST_CASE("through redraws and moved nodes giornate stay who they are, however large each becomes") {
  auto doc = noted_pair();
  const WallId wall = doc->walls[0]->id;
  // The seam between them goes step by step over the other's ground: 1 shrinks to a quarter, 2 grows.
  for (double u = 1.3; u > 0.65; u -= 0.1)
    doc = done(redraw(*doc, wall, {{u + 0.2, 0.5}, {u, 0.7}, {u, 1.3}, {u + 0.2, 1.5}}, false));
  CHECK(area(doc, 1) < 0.4);
  CHECK(area(doc, 1) + area(doc, 2) == Approx(2).margin(1e-6));
  check_is_angel(doc);
  const ChartPoint corner{0.5, 1.5};
  doc = done(move_node(*doc, wall, corner, {0.3, 2.5}));
  doc = done(add_node(*doc, wall, {0.4, 1.5}));
  doc = done(move_node(*doc, wall, {0.4, 1.5}, {0.1, 1.5}));
  doc = done(remove_node(*doc, wall, {0.1, 1.5}));
  check_is_angel(doc);
  CHECK(doc->giornate.size() == 2);
  CHECK(doc->giornata({1})->changed);
  CHECK(doc->giornata({2})->changed);
  CHECK(label_of(*doc->giornata({2})) == "2");
}

TEST_CASE("a hugged redraw follows the contour of a picture") {
  using namespace pontata::fixtures;
  // A disc of 35 cm whose edge goes over the seam at u = 1.5 twice, 36 cm apart.
  constexpr double kRadius = 0.35;
  const Vec2 middle(1.2, 1);
  const double half = std::sqrt(kRadius * kRadius - 0.09);
  const PictureFrame frame{{1.1, 0.6}, 0.8, 0.8, 0};
  const TemporaryFolder folder;
  REQUIRE(write_png(drawn(frame, 800, 800, blob(middle, kRadius)), folder.file("disc.png")).ok());
  auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  BySize size;
  size.at = {1.1, 0.6};
  size.width_m = 0.8;
  doc = done(add_picture(*doc, wall, folder.file("disc.png"), size, "disc"));
  const std::vector<ChartPoint> line{{1.5, 1 - half}, {1.552, 1.004}, {1.5, 1 + half}};
  const auto made = redraw(*doc, wall, line, true);
  const auto next = done(made);
  CHECK(made->line.hugged_m > 0.3);
  double sum = 0, most = 0;
  for (const ChartPoint p : made->line.line) {
    const double off = std::abs(glm::length(to_vec(p) - middle) - kRadius);
    sum += off, most = std::max(most, off);
  }
  CHECK(sum / static_cast<double>(made->line.line.size()) < 1e-3);
  CHECK(most < 2.5e-3);
  // The segment of the disc beyond the seam, r^2 (t - sin t) / 2; a millimetre along it at most amiss.
  const double t = 2 * std::asin(half / kRadius);
  CHECK(area(next, 1) == Approx(1 + kRadius * kRadius * (t - std::sin(t)) / 2).margin(4e-4));
  // Unhugged, the straight pieces leave a quarter of that out.
  CHECK(area(done(redraw(*doc, wall, line, false)), 1) < 1.0098);
}
