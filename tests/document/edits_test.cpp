#include "engine/document/edits.h"

#include <algorithm>
#include <cmath>

#include "engine/base/predicates.h"
#include "engine/document/history.h"
#include "engine/document/project_file.h"
#include "tests/document/small_project.h"

using namespace pontata;

namespace {

template <class E>
void check_refused(const Result<E>& edited) {
  REQUIRE_FALSE(edited.ok());
  CHECK_FALSE(edited.problem().what.empty());
}

}  // namespace

TEST_CASE("an edit leaves the document it was made from as it was") {
  const auto doc = small_project();
  const std::string before = *project_text(*doc, "/");
  REQUIRE(draw_outline(*doc, doc->walls[0]->id, box(3, 1, 0.5, 0.5), false, "new").ok());
  REQUIRE(remove_giornata(*doc, GiornataId{1}).ok());
  REQUIRE(rename_giornata(*doc, GiornataId{1}, "other").ok());
  REQUIRE(set_intonaco(*doc, GiornataId{1}, 9.0).ok());
  REQUIRE(set_parameter(*doc, "window.base", "9").ok());
  CHECK(*project_text(*doc, "/") == before);
}

TEST_CASE("undone and redone edits give the same bytes, and a saved, reloaded document goes on to the same bytes") {
  History history(flat_wall());
  const WallId wall = history.current()->walls[0]->id;
  std::vector<std::string> texts{*project_text(*history.current(), "/")};
  const auto push = [&](auto&& edited) {
    REQUIRE(edited.ok());
    history.push(*edited);
    texts.push_back(*project_text(*history.current(), "/"));
  };
  for (int i = 0; i < 5; ++i)
    push(draw_outline(*history.current(), wall, box(0.1 + 0.5 * i, 0.3, 0.7, 1.1), false, "g"));
  push(remove_giornata(*history.current(), GiornataId{2}));
  push(join(*history.current(), GiornataId{3}, GiornataId{4}));
  push(divide(*history.current(), GiornataId{3}, {{1.0, 0.8}, {2.3, 0.8}}, false));
  for (std::size_t i = texts.size(); i-- > 1;) {
    CHECK(*project_text(*history.current(), "/") == texts[i]);
    history.undo();
  }
  const auto loaded = project_from_text(texts[4], "p", "/");
  REQUIRE(loaded.ok());
  auto doc = loaded->document;
  doc = done(draw_outline(*doc, wall, box(2.1, 0.3, 0.7, 1.1), false, "g"));
  CHECK(*project_text(*doc, "/") == texts[5]);
  doc = done(remove_giornata(*doc, GiornataId{2}));
  CHECK(*project_text(*doc, "/") == texts[6]);
  doc = done(join(*doc, GiornataId{3}, GiornataId{4}));
  CHECK(*project_text(*doc, "/") == texts[7]);
}

TEST_CASE("numbers are the least free ones, ids are never used again") {
  auto doc = small_project();
  doc = done(remove_giornata(*doc, GiornataId{1}));
  CHECK(doc->giornata(GiornataId{1}) == nullptr);
  const auto drawn = draw_outline(*doc, doc->walls[0]->id, box(3, 1, 0.5, 0.5), false, "");
  REQUIRE(drawn.ok());
  CHECK(drawn->id == GiornataId{3});
  CHECK(drawn->number == 1);
  CHECK(drawn->area_m2 == Approx(0.25));
}

TEST_CASE("names of walls are their own and not empty") {
  const auto doc = flat_wall("vault");
  ShapeSpec shape;
  shape.width = shape.height = 1;
  for (const std::string name : {"vault", "", "  ", "two\nlines", "\xff"})
    check_refused(add_shape_wall(*doc, name, shape, {}));
  CHECK(done(add_shape_wall(*doc, "Vault à gauche", shape, {}))->walls.size() == 2);
}

TEST_CASE("giornate and walls that are not there are refused") {
  const auto doc = small_project();
  check_refused(remove_giornata(*doc, GiornataId{9}));
  check_refused(remove_giornata(*doc, GiornataId{}));
  check_refused(rename_giornata(*doc, GiornataId{9}, "x"));
  check_refused(join(*doc, GiornataId{1}, GiornataId{1}));
  check_refused(join(*doc, GiornataId{1}, GiornataId{9}));
  check_refused(draw_outline(*doc, WallId{7}, box(1, 1, 1, 1), false, ""));
  check_refused(divide(*doc, GiornataId{9}, {{1, 1}, {2, 2}}, false));
  check_refused(set_intonaco(*doc, GiornataId{1}, 0.0));
  check_refused(set_intonaco(*doc, GiornataId{1}, std::nan("")));
}

TEST_CASE("joining keeps the first one's record and the sum of the areas") {
  auto doc = done(join(*small_project(), GiornataId{2}, GiornataId{1}));
  CHECK(doc->giornata(GiornataId{1}) == nullptr);
  CHECK(doc->giornata(GiornataId{2})->number == 2);
  const auto& network = doc->walls[0]->network;
  double area = 0;
  for (const auto f : network.faces_of(GiornataId{2})) area += static_cast<double>(network.sums(f).area) * kAreaUnit;
  CHECK(area == Approx(2));
}

TEST_CASE("zones are closed areas with a sense") {
  const auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  check_refused(add_zone(*doc, wall, ZoneKind::keep_whole, {{1, 1}, {2, 2}}, "", std::nullopt));
  check_refused(
      add_zone(*doc, wall, ZoneKind::keep_whole, {{1, 1}, {2, 2}, {2, 1}, {1, 2}}, "", std::nullopt));  // a bow tie
  check_refused(add_zone(*doc, wall, ZoneKind::keep_whole, {{1, 1}, {2, 1}, {3, 1}}, "", std::nullopt));
  check_refused(add_zone(*doc, wall, ZoneKind::keep_whole, box(1, 1, 1, 1), "", 0.1));
  check_refused(add_zone(*doc, wall, ZoneKind::detail, box(1, 1, 1, 1), "", -0.1));
  check_refused(add_zone(*doc, wall, ZoneKind::detail, box(1, 1, 1, 1), "face", 0.1));
  auto clockwise = box(1, 1, 1, 1);
  std::reverse(clockwise.begin(), clockwise.end());
  const auto with = done(add_zone(*doc, wall, ZoneKind::keep_whole, clockwise, "face", std::nullopt));
  CHECK(twice_area(with->walls[0]->zones.back().ring) > 0);
}

TEST_CASE("a giornata's own thickness and a zone's rate are set by key") {
  auto doc = done(set_parameter(*small_project(), "giornata.2.mm", "1cm"));
  CHECK(doc->giornata(GiornataId{2})->intonaco_mm == 10.0);
  doc = done(set_parameter(*doc, "giornata.2.mm", "none"));
  CHECK_FALSE(doc->giornata(GiornataId{2})->intonaco_mm.has_value());
  doc = done(set_parameter(*doc, "rate.face", "0.08"));
  CHECK(doc->walls[0]->zones[0].rate_m2_per_h == 0.08);
  check_refused(set_parameter(*doc, "rate.nobody", "0.08"));
  check_refused(set_parameter(*doc, "giornata.7.mm", "8"));
  check_refused(set_parameter(*doc, "giornata..mm", "8"));
}
