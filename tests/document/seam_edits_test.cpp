#include "engine/document/seam_edits.h"

#include "engine/document/history.h"
#include "engine/document/project_file.h"
#include "tests/document/small_project.h"

using namespace pontata;

namespace {

// Giornate 1 and 2 share the seam at u = 1.5, v = 0.5 to 1.5.
double area(const Document& doc, std::uint32_t id) {
  const Network& n = doc.walls[0]->network;
  double sum = 0;
  for (const FaceId f : n.faces_of({id})) sum += static_cast<double>(n.sums(f).area) * kAreaUnit;
  return sum;
}

}  // namespace

TEST_CASE("a nudge is one edit that says what moved and leaves the document before as it was") {
  const auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  const std::string before = *project_text(*doc, "/");
  const auto made = nudge(*doc, wall, {1.5, 1}, {0.05, 0}, 0.3);
  const auto next = done(made);
  CHECK(made->did == "Seam between giornate 1 and 2 moved");
  CHECK(made->most_m == Approx(0.05));
  CHECK(made->line.hugged_m == 0);
  CHECK(made->line.length_m > 1);  // the seam's metre, and its bulge
  CHECK(area(*next, 1) == Approx(1 + 0.05 * 0.3).margin(1e-6));
  CHECK(*project_text(*doc, "/") == before);
  CHECK(next->giornate.size() == doc->giornate.size());
  // Saved, loaded and saved again: the same bytes.
  const std::string text = *project_text(*next, "/");
  const auto loaded = project_from_text(text, "p", "/");
  REQUIRE(loaded.ok());
  CHECK(*project_text(*loaded->document, "/") == text);
}

TEST_CASE("redraws and nodes are edits too, and a wall or place that is not there is refused") {
  const auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  auto next = done(redraw(*doc, wall, {{1.5, 0.7}, {1.6, 1}, {1.5, 1.3}}, false));
  CHECK(area(*next, 1) == Approx(1.03).margin(1e-7));
  next = done(move_node(*next, wall, {1.6, 1}, {1.4, 1}));
  CHECK(area(*next, 1) == Approx(0.97).margin(1e-7));
  next = done(remove_node(*next, wall, {1.4, 1}));
  CHECK(area(*next, 1) == Approx(1).margin(1e-7));
  next = done(add_node(*next, wall, {1.5, 1}));
  CHECK(area(*next, 1) == Approx(1).margin(1e-7));
  CHECK_FALSE(nudge(*doc, WallId{9}, {1.5, 1}, {0.05, 0}, 0.3).ok());
  CHECK_FALSE(redraw(*doc, wall, {{1.5, 0.7}}, false).ok());
  CHECK_FALSE(nudge(*doc, wall, {3.5, 2.5}, {0.05, 0}, 0.3).ok());
}

TEST_CASE("a painted giornata's seams stay, and the refusal calls it by its number") {
  Document doc = *small_project();
  doc.giornate[1].state = GiornataState::done;
  const auto made = nudge(doc, doc.walls[0]->id, {1.5, 1}, {0.05, 0}, 0.3);
  REQUIRE_FALSE(made.ok());
  CHECK(made.problem().message().find("giornata 2 is painted") != std::string::npos);
  CHECK(nudge(doc, doc.walls[0]->id, {0.5, 1}, {0.05, 0}, 0.3).ok());
}

TEST_CASE("a hugged redraw follows contours, not the stretch that it takes away") {
  const auto doc = small_project();  // no picture: nothing to hug but seams
  const auto made = redraw(*doc, doc->walls[0]->id, {{1.5, 0.7}, {1.512, 1}, {1.5, 1.3}}, true);
  const auto next = done(made);
  CHECK(area(*next, 1) == Approx(1 + 0.6 * 0.012 / 2).margin(1e-6));
}
