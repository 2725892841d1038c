// Undo through packed steps: whatever was edited, every document comes back to the byte.
#include <algorithm>
#include <random>

#include "engine/document/giornata_records.h"
#include "engine/document/history.h"
#include "engine/document/opening_edits.h"
#include "engine/document/picture_edits.h"
#include "engine/document/project_file.h"
#include "engine/document/seam_edits.h"
#include "engine/document/step_pack.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"

using namespace pontata;

namespace {

std::string text(const Document& doc) { return *project_text(doc, "/"); }

// Some edit of any kind; refused ones count too.
class Storm {
 public:
  explicit Storm(unsigned seed) : rng_(seed) {}
  Result<Edited> edit(const Document& doc) {
    const WallId wall = doc.walls[rng_() % doc.walls.size()]->id;
    const GiornataId any{static_cast<std::uint32_t>(1 + rng_() % (doc.giornate.size() + 1))};
    const double u = real(0, 3.5), v = real(0, 2.5);
    switch (rng_() % 15) {
      case 0:
        return remove_giornata(doc, any);
      case 1:
        return join(doc, any, GiornataId{static_cast<std::uint32_t>(1 + rng_() % (doc.giornate.size() + 1))});
      case 2:
        return edited(divide(doc, any, {{0, v}, {4, v + 0.2}}, false));
      case 3:
        return rename_giornata(doc, any, std::string(rng_() % 40, 'n'));
      case 4:
        return set_intonaco(doc, any, rng_() % 2 ? std::optional(real(1, 20)) : std::nullopt);
      case 5:
        return add_zone(doc, wall, rng_() % 2 ? ZoneKind::detail : ZoneKind::keep_whole, box(u, v, 0.3, 0.2), "",
                        std::nullopt);
      case 6:
        return remove_zone(doc, ZoneId{static_cast<std::uint32_t>(1 + rng_() % doc.next_zone)});
      case 7:
        return set_parameter(doc, "window.base", std::to_string(8 + rng_() % 5));
      case 9:
        return set_note(doc, any, std::string(rng_() % 60, 'w'));
      case 10:
        return set_state(doc, std::vector<GiornataId>{any}, static_cast<GiornataState>(rng_() % 5));
      case 11:
        return cartoon_printed(doc, std::vector<GiornataId>{any});
      case 8:
        if (doc.walls.size() < 5) return add_shape_wall(doc, "wall " + std::to_string(doc.next_wall), flat(), {});
        [[fallthrough]];
      default:
        return edited(draw_outline(doc, wall, ring(u, v), false, "g"));
    }
  }

 private:
  static ShapeSpec flat() {
    ShapeSpec shape;
    shape.width = 4, shape.height = 3;
    return shape;
  }
  template <class E>
  static Result<Edited> edited(Result<E> made) {
    if (!made) return made.problem();
    return Edited(std::move(*made));
  }
  double real(double a, double b) { return std::uniform_real_distribution<double>(a, b)(rng_); }
  std::vector<ChartPoint> ring(double u, double v) {
    std::vector<ChartPoint> points;
    const int n = 4 + static_cast<int>(rng_() % 60);
    const double r = real(0.1, 0.7);
    for (int i = 0; i < n; ++i)
      points.push_back({std::clamp(u + r * std::cos(6.2832 * i / n), 0.0, 4.0),
                        std::clamp(v + r * std::sin(6.2832 * i / n), 0.0, 3.0)});
    return points;
  }
  std::mt19937 rng_;
};

// Undone to the first step, done again to the last: the same texts at every depth.
void check_there_and_back(History& history, const std::vector<std::string>& texts) {
  for (int round = 0; round < 2; ++round) {
    for (std::size_t i = texts.size(); i-- > 0;) {
      REQUIRE(text(*history.current()) == texts[i]);
      history.undo();
    }
    REQUIRE_FALSE(history.can_undo());
    for (std::size_t i = 0; i < texts.size(); ++i) {
      REQUIRE(text(*history.current()) == texts[i]);
      history.redo();
    }
    REQUIRE_FALSE(history.can_redo());
  }
}

// One more step, and the project's text after it.
template <class E>
void push_told(History& history, std::vector<std::string>& texts, const Result<E>& made) {
  INFO((made ? std::string() : made.problem().message()));
  REQUIRE(made.ok());
  history.push(*made);
  texts.push_back(text(*history.current()));
}

}  // namespace

TEST_CASE("a storm of edits is undone and done again to the byte, in a few kilobytes a step") {
  for (const unsigned seed : {1u, 2u}) {
    History history(flat_wall());
    Storm storm(seed);
    std::vector<std::string> texts{text(*history.current())};
    for (int i = 0; i < 150; ++i) {
      auto made = storm.edit(*history.current());
      if (!made) continue;
      history.push(std::move(*made));
      texts.push_back(text(*history.current()));
      REQUIRE(history.steps() + 1 == texts.size());
    }
    REQUIRE(texts.size() > 60);
    check_there_and_back(history, texts);
    std::vector<std::size_t> bytes;
    for (std::size_t i = 0; i < history.steps(); ++i) bytes.push_back(history.step_bytes(i));
    std::sort(bytes.begin(), bytes.end());
    INFO("median " << bytes[bytes.size() / 2] << ", most " << bytes.back() << " bytes");
    CHECK(bytes[bytes.size() / 2] <= 4096);
  }
}

TEST_CASE("after undo an edit goes on to the same bytes as if nothing had been undone") {
  History history(flat_wall());
  Storm storm(7);
  for (int i = 0; i < 60; ++i)
    if (auto made = storm.edit(*history.current())) history.push(std::move(*made));
  const WallId wall = history.current()->walls[0]->id;
  const auto next = [&](const Document& doc) {
    return text(*done(draw_outline(doc, wall, box(0.31, 0.27, 1.7, 1.3), false, "next")));
  };
  const DocumentRef kept = std::make_shared<const Document>(*history.current());
  const std::string wanted = next(*kept);
  for (int i = 0; i < 20; ++i) history.undo();
  for (int i = 0; i < 20; ++i) history.redo();
  CHECK(next(*history.current()) == wanted);
}

TEST_CASE("what a step did not touch keeps its identity, and what somebody holds comes back as itself") {
  History history(small_project());
  ShapeSpec shape;
  shape.width = shape.height = 2;
  history.push(*add_shape_wall(*history.current(), "other", shape, {}));
  const auto other = history.current()->walls[1];
  const WallRef surface = history.current()->walls[0]->wall;
  const WallId wall = history.current()->walls[0]->id;
  history.push(*draw_outline(*history.current(), wall, box(3, 1, 0.5, 0.5), false, ""));
  history.undo();
  CHECK(history.current()->walls[1] == other);
  CHECK(history.current()->walls[0]->wall == surface);
  history.undo();
  REQUIRE(history.current()->walls.size() == 1);
  history.redo();
  CHECK(history.current()->walls[1] == other);
  const DocumentRef held = history.current();
  history.redo();
  history.undo();
  CHECK(history.current() == held);
  history.redo();
  history.push(*rename_giornata(*history.current(), GiornataId{1}, "x"));
  const auto item = history.current()->walls[0];
  history.undo();
  CHECK(history.current()->walls[0] == item);
}

TEST_CASE("walls whose surface changes, openings and settings are undone too") {
  History history(small_project());
  std::vector<std::string> texts{text(*history.current())};
  const auto push = [&](const auto& made) { push_told(history, texts, made); };
  const WallId wall = history.current()->walls[0]->id;
  Opening window;
  window.kind = OpeningKind::round;
  window.at = {3.2, 2.2}, window.width = 0.5;
  push(add_opening(*history.current(), wall, window));
  push(draw_outline(*history.current(), wall, box(2.4, 1.9, 0.5, 0.5), false, "beside"));
  push(set_parameter(*history.current(), "giornata.1.mm", "9"));
  push(set_parameter(*history.current(), "coat.final.mm", "7"));
  push(set_parameter(*history.current(), "rate.face", "0.05"));
  push(remove_giornata(*history.current(), GiornataId{3}));
  push(remove_opening(*history.current(), wall, 0));
  check_there_and_back(history, texts);
}

TEST_CASE("pictures laid, moved and taken away are undone, and stay the pictures they were") {
  const TemporaryFolder folder;
  const std::string file = folder.file("picture.png");
  Image image{40, 30, {}};
  image.rgb.assign(3 * 40 * 30, 120);
  REQUIRE(write_png(image, file).ok());
  History history(flat_wall());
  std::vector<std::string> texts{text(*history.current())};
  const auto push = [&](const auto& made) { push_told(history, texts, made); };
  const WallId wall = history.current()->walls[0]->id;
  push(drape_picture(*history.current(), wall, file, {0, 0}, 2, 0, "one"));
  const PlacedRef one = history.current()->walls[0]->pictures[0];
  push(drape_picture(*history.current(), wall, file, {2, 0}, 1, 5, "two"));
  push(draw_outline(*history.current(), wall, box(0.5, 0.5, 1, 1), false, ""));
  push(remove_picture(*history.current(), history.current()->walls[0]->pictures[0]->id));
  check_there_and_back(history, texts);
  while (history.can_undo()) history.undo();
  history.redo();
  CHECK(history.current()->walls[0]->pictures[0] == one);
}
