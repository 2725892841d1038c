#include "engine/document/giornata_records.h"

#include <algorithm>
#include <cmath>
#include <random>

#include "engine/base/predicates.h"
#include "engine/document/history.h"
#include "engine/document/numbering.h"
#include "engine/document/project_file.h"
#include "engine/document/seam_edits.h"
#include "tests/document/small_project.h"
#include "tests/seams/network_fixtures.h"

using namespace pontata;

namespace {

const Giornata& record(const DocumentRef& doc, std::uint32_t id) { return *doc->giornata(GiornataId{id}); }
std::string label(const DocumentRef& doc, std::uint32_t id) { return label_of(record(doc, id)); }

// Two giornate side by side, 1 and 2, the seam between them at u = 1.5 from v = 0.5 to 1.5, both printed.
DocumentRef printed_pair() {
  const auto doc = small_project();
  return done(cartoon_printed(*doc, std::vector<GiornataId>{{1}, {2}}));
}

// Farthest that places of one rim lie from the other, by a fine sampling; infinite without one of them.
double farthest(const Network& a, const Network& b, GiornataId g) {
  const auto rim = [&](const Network& n) {
    std::vector<std::pair<Vec2, Vec2>> found;
    for (std::uint32_t h = 0; h < n.half_edge_slots(); h += 2) {
      if (!n.alive(HalfEdgeId{h})) continue;
      const auto owner = [&](HalfEdgeId e) {
        const FaceId f = n.half_edge(e).face;
        return f == Network::kOutside ? GiornataId{} : n.face(f).owner;
      };
      if ((owner({h}) == g) != (owner({h + 1}) == g))
        found.push_back({to_vec(to_chart(n.origin({h}))), to_vec(to_chart(n.target({h})))});
    }
    return found;
  };
  const auto ra = rim(a), rb = rim(b);
  double most = ra.empty() != rb.empty() ? INFINITY : 0;
  for (const auto& [p, q] : ra)
    for (int k = 0; k <= 20; ++k) {
      const Vec2 at = p + (q - p) * (k / 20.0);
      double least = INFINITY;
      for (const auto& [c, d] : rb) {
        const double t = std::clamp(glm::dot(at - c, d - c) / glm::dot(d - c, d - c), 0.0, 1.0);
        least = std::min(least, glm::length(at - c - t * (d - c)));
      }
      most = std::max(most, least);
    }
  return most;
}

}  // namespace

TEST_CASE("numbers follow the order they are given, and stay once they are frozen") {
  auto doc = small_project();
  const auto turned = renumbered(doc, std::vector<GiornataId>{{2}, {1}});
  CHECK(label(turned, 2) == "1");
  CHECK(label(turned, 1) == "2");
  CHECK(renumbered(turned, std::vector<GiornataId>{{2}, {1}}) == turned);
  CHECK(label(renumbered(doc, std::vector<GiornataId>{{2}}), 1) == "2");
  CHECK(label(renumbered(doc, {}), 1) == "1");
  const auto frozen = printed_pair();
  CHECK(frozen->numbers_frozen);
  CHECK(renumbered(frozen, std::vector<GiornataId>{{2}, {1}}) == frozen);
}

TEST_CASE("after an edit the numbers follow the plan, and its words name the new giornata by its number") {
  Flow flow;
  auto doc = flat_wall();
  const WallId wall = doc->walls[0]->id;
  const auto draw = [&](double v) {
    auto made = draw_outline(*doc, wall, box(0.5, v, 1, 0.5), false, "");
    REQUIRE(made.ok());
    Edited edit = std::move(*made);
    number_in_order(*doc, edit, flow);
    doc = edit.document;
    return edit.did;
  };
  CHECK(draw(0.2) == "Outline of giornata 1");
  CHECK(draw(1.2) == "Outline of giornata 1");  // higher up comes first
  CHECK(draw(2.2) == "Outline of giornata 1");
  CHECK(label(doc, 1) == "3");
  CHECK(label(doc, 3) == "1");
  CHECK(numbered_in_order(doc, flow) == doc);
  CHECK_FALSE(order_may_differ(*doc, *done(rename_giornata(*doc, GiornataId{1}, "x"))));
  CHECK_FALSE(order_may_differ(*doc, *done(set_parameter(*doc, "paper", "A3"))));
  CHECK(order_may_differ(*doc, *done(set_parameter(*doc, "pontata.levels", "0,1"))));
  CHECK(order_may_differ(*doc, *done(set_state(*doc, std::vector<GiornataId>{{1}}, GiornataState::done))));
  Edited removed = *remove_giornata(*doc, GiornataId{3});
  number_in_order(*doc, removed, flow);
  CHECK(removed.did == "Giornata 1 taken away");
  CHECK(label(removed.document, 2) == "1");
}

TEST_CASE("a giornata that is painted or begun keeps its number; the others pass it over") {
  Flow flow;
  auto doc = flat_wall();
  const WallId wall = doc->walls[0]->id;
  const auto made = [&](Result<Edited> edit) {
    REQUIRE(edit.ok());
    number_in_order(*doc, *edit, flow);
    doc = edit->document;
  };
  const auto draw = [&](double u) {
    auto edit = draw_outline(*doc, wall, box(u, 2, 0.5, 0.5), false, "");
    REQUIRE(edit.ok());
    made(Result<Edited>(std::move(*edit)));
  };
  for (const double u : {1.0, 1.7, 2.4, 3.1}) draw(u);  // in a row, from the left: 1 to 4
  for (const auto state : {GiornataState::today, GiornataState::done, GiornataState::redo}) {
    made(set_state(*doc, std::vector<GiornataId>{{3}}, state));
    for (std::uint32_t id = 1; id <= 4; ++id) CHECK(label(doc, id) == std::to_string(id));
  }
  draw(0.2);  // left of all: first of those to come
  const std::vector<std::string> expected{"2", "4", "3", "5", "1"};
  for (std::uint32_t id = 1; id <= 5; ++id) CHECK(label(doc, id) == expected[id - 1]);
  made(set_state(*doc, std::vector<GiornataId>{{3}}, GiornataState::planned));
  CHECK(label(doc, 3) == "4");
}

TEST_CASE("the larger part of a divided giornata keeps id, number, name and note, whichever side it lies on") {
  auto doc = done(set_note(*small_project(), GiornataId{1}, "wet the arriccio twice"));
  for (const double u : {0.8, 1.2}) {
    const auto parted = divide(*doc, GiornataId{1}, {{u, 0.5}, {u, 1.5}}, false);
    REQUIRE(parted.ok());
    const auto& after = parted->document;
    CHECK(record(after, 1).name == "Angel");
    CHECK(record(after, 1).note == "wet the arriccio twice");
    CHECK(label(after, 1) == "1");
    CHECK(record(after, parted->new_id.value).name.empty());
    const Network& n = after->walls[0]->network;
    CHECK(n.owner_at(to_lattice({u < 1 ? 1.4 : 0.6, 1})) == GiornataId{1});
  }
}

TEST_CASE("once frozen a split gives letters, and numbers of what was printed are not given again") {
  auto doc = printed_pair();
  auto parted = divide(*doc, GiornataId{1}, {{0.8, 0.5}, {0.8, 1.5}}, false);
  REQUIRE(parted.ok());
  doc = parted->document;
  CHECK(label(doc, 1) == "1a");
  CHECK(label(doc, 3) == "1b");
  CHECK(record(doc, 1).changed);
  CHECK(record(doc, 3).changed);
  CHECK_FALSE(record(doc, 2).changed);
  doc = done(divide(*doc, GiornataId{3}, {{0.5, 0.8}, {0.8, 0.8}}, false));
  CHECK(label(doc, 3) == "1b");
  CHECK(label(doc, 4) == "1c");
  CHECK(giornata_labelled(*doc, "1c")->id == GiornataId{4});
  CHECK(giornata_labelled(*doc, "1") == nullptr);
  const auto joined = done(join(*doc, GiornataId{3}, GiornataId{4}));
  CHECK(label(joined, 3) == "1b");
  doc = done(remove_giornata(*doc, GiornataId{2}));
  const WallId wall = doc->walls[0]->id;
  doc = done(draw_outline(*doc, wall, box(3, 2, 0.5, 0.5), false, "new"));
  CHECK(label(doc, 5) == "3");
  CHECK_FALSE(record(doc, 5).printed);
  const auto text = *project_text(*doc, "/");
  const auto loaded = project_from_text(text, "p", "/");
  REQUIRE(loaded.ok());
  CHECK(*project_text(*loaded->document, "/") == text);
}

TEST_CASE("a printed giornata is flagged when its rim moves, on both sides of the seam, and undo takes that back") {
  History history(printed_pair());
  const WallId wall = history.current()->walls[0]->id;
  // Beside it, sharing a border: the rim gains vertices and runs as before.
  history.push(*draw_outline(*history.current(), wall, {{1, 1.5}, {2, 1.5}, {2, 2}, {1, 2}}, false, "above"));
  CHECK_FALSE(record(history.current(), 1).changed);
  CHECK_FALSE(record(history.current(), 2).changed);
  history.push(*remove_giornata(*history.current(), GiornataId{3}));
  CHECK_FALSE(record(history.current(), 1).changed);
  history.push(*nudge(*history.current(), wall, {1.5, 1}, {0.05, 0}, 0.3));
  CHECK(record(history.current(), 1).changed);
  CHECK(record(history.current(), 2).changed);
  history.undo();
  CHECK_FALSE(record(history.current(), 1).changed);
  history.redo();
  history.push(*cartoon_printed(*history.current(), std::vector<GiornataId>{{2}}));
  CHECK(history.undo_name() == "Cartoon printed of giornata 2");
  CHECK(record(history.current(), 1).changed);
  CHECK_FALSE(record(history.current(), 2).changed);
  const auto joined = done(join(*history.current(), GiornataId{2}, GiornataId{1}));
  CHECK(record(joined, 2).changed);
  CHECK_FALSE(cartoon_printed(*joined, std::vector<GiornataId>{{1}}).ok());
  CHECK_FALSE(cartoon_printed(*joined, {}).ok());
}

TEST_CASE("rims that changed are those of which some place moved, by a fine sampling") {
  using namespace pontata::fixtures;
  std::mt19937 rng(4);
  const auto real = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(rng); };
  Network n = plain_wall();
  int unchanged = 0, changed = 0;
  for (std::uint32_t k = 1; k < 60; ++k) {
    Result<Network> next = Problem{};
    if (k % 4 == 0) {
      next = remove_giornata(n, {static_cast<std::uint32_t>(1 + rng() % k)}, flat_meter());
    } else {
      auto made =
          insert_outline(n, regular(real(0.3, 3.7), real(0.3, 2.7), real(0.1, 0.8), 5 + static_cast<int>(rng() % 30)),
                         {k}, flat_meter());
      if (made) next = std::move(made->network);
    }
    if (!next) continue;
    const auto found = rims_changed(n, *next);
    for (std::uint32_t id = 1; id <= k; ++id) {
      const bool moved = std::max(farthest(n, *next, {id}), farthest(*next, n, {id})) > 1e-4;
      REQUIRE((std::find(found.begin(), found.end(), GiornataId{id}) != found.end()) == moved);
      (moved ? changed : unchanged) += 1;
    }
    n = *next;
  }
  CHECK(changed > 30);
  CHECK(unchanged > 100);
}

TEST_CASE("state, note and thickness of several giornate at once") {
  const auto doc = small_project();
  const std::vector<GiornataId> both{{1}, {2}}, wrong{{1}, {9}};
  const auto ready = set_state(*doc, both, GiornataState::ready);
  REQUIRE(ready.ok());
  CHECK(ready->did == "State of 2 giornate: ready");
  CHECK(record(ready->document, 2).state == GiornataState::ready);
  CHECK(record(done(set_intonaco(*doc, both, 9.0)), 2).intonaco_mm == 9.0);
  CHECK_FALSE(set_state(*doc, wrong, GiornataState::ready).ok());
  CHECK_FALSE(set_state(*doc, {}, GiornataState::ready).ok());
  CHECK_FALSE(set_intonaco(*doc, both, 99.0).ok());
  CHECK_FALSE(set_note(*doc, GiornataId{1}, "two\nlines").ok());
  CHECK_FALSE(set_note(*doc, GiornataId{1}, std::string(1001, 'x')).ok());
  CHECK_FALSE(set_note(*doc, GiornataId{1}, "\xff").ok());
  CHECK(set_note(*doc, GiornataId{1}, std::string(1000, 'x')).ok());
  auto set = done(set_parameter(*doc, "giornata.2.state", "today"));
  set = done(set_parameter(*set, "giornata.2.note", "à finir"));
  set = done(set_parameter(*set, "giornata.2.name", "Hand"));
  CHECK(record(set, 2).state == GiornataState::today);
  CHECK(record(set, 2).note == "à finir");
  CHECK(record(set, 2).name == "Hand");
  CHECK_FALSE(set_parameter(*doc, "giornata.2.state", "wet").ok());
  CHECK_FALSE(set_parameter(*doc, "giornata.2.colour", "x").ok());
  CHECK_FALSE(set_parameter(*doc, "giornata.9.note", "x").ok());
  // A painted giornata holds its seams.
  CHECK_FALSE(nudge(*set, set->walls[0]->id, {1.5, 1}, {0.05, 0}, 0.3).ok());
}

TEST_CASE("labels come in the order of numbers, then letters") {
  std::vector<std::string> labels{"15", "14b", "9", "14", "14aa", "14a"};
  std::sort(labels.begin(), labels.end(), label_less);
  CHECK(labels == std::vector<std::string>{"9", "14", "14a", "14b", "14aa", "15"});
}
