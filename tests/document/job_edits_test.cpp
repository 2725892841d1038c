#include "engine/document/job_edits.h"

#include "engine/document/history.h"
#include "engine/document/job_checks.h"
#include "engine/document/project_file.h"
#include "engine/document/seam_edits.h"
#include "engine/document/soundness.h"
#include "tests/document/full_job.h"

using namespace pontata;

namespace {

constexpr GiornataId kOne{1}, kTwo{2}, kThree{3};

DocumentRef three_giornate() {
  const auto doc = small_project();
  return done(draw_outline(*doc, doc->walls[0]->id, box(2.5, 0.5, 1, 1), false, ""));
}

void check_sound(const Document& doc) {
  Flow flow;
  for (const auto& fault : document_faults(doc, flow)) FAIL_CHECK(fault.message());
}

double area_of(const Document& doc, GiornataId id) {
  const WallItem& item = *doc.walls[0];
  double sum = 0;
  for (const FaceId f : item.network.faces_of(id)) sum += static_cast<double>(item.network.sums(f).area) * kAreaUnit;
  return sum;
}

template <class E>
std::string refusal(const Result<E>& edited) {
  REQUIRE_FALSE(edited.ok());
  return edited.problem().message();
}

bool says(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("pairs are laid down once, and a circle is refused by its numbers") {
  auto doc = three_giornate();
  doc = done(add_pair(*doc, {kOne, kTwo, PairKind::before}));
  doc = done(add_pair(*doc, {kTwo, kThree, PairKind::before}));
  CHECK(says(refusal(add_pair(*doc, {kThree, kOne, PairKind::before})), "3 before 1 before 2 before 3"));
  CHECK_FALSE(add_pair(*doc, {kOne, kTwo, PairKind::before}).ok());
  CHECK_FALSE(add_pair(*doc, {kOne, kOne, PairKind::apart}).ok());
  CHECK_FALSE(add_pair(*doc, {kOne, GiornataId{9}, PairKind::apart}).ok());
  doc = done(add_pair(*doc, {kOne, kThree, PairKind::apart}));
  CHECK_FALSE(add_pair(*doc, {kThree, kOne, PairKind::apart}).ok());
  CHECK_FALSE(add_pair(*doc, {kThree, kOne, PairKind::together}).ok());
  doc = done(remove_pair(*doc, {kThree, kOne, PairKind::apart}));
  CHECK_FALSE(remove_pair(*doc, {kTwo, kOne, PairKind::before}).ok());
  CHECK(doc->job().pairs.size() == 2);
}

TEST_CASE("what is told of a giornata goes with it, the diary stays") {
  auto doc = full_job();
  doc = done(set_state(*doc, std::vector<GiornataId>{kOne}, GiornataState::redo));
  const auto gone = done(remove_giornata(*doc, kOne));
  CHECK(gone->job().diary.size() == doc->job().diary.size());
  CHECK(std::ranges::none_of(gone->job().pairs, [](const PairRule& r) { return r.first == kOne; }));
  CHECK_FALSE(of_giornata(gone->job(), kOne));
  CHECK(gone->job().secco.empty());
  check_sound(*gone);
}

TEST_CASE("a part keeps what was told of the whole; joined, finishes and pigments pass over") {
  auto doc = three_giornate();
  doc = done(set_palette(*doc, kTwo, {"PR 102"}));
  doc = done(set_secco(*doc, {0, kTwo, "stars", "egg", 0.1, 2, std::nullopt}));
  doc = done(add_pair(*doc, {kTwo, kThree, PairKind::before}));
  doc = done(move_to_day(*doc, kTwo, Date{2027, 5, 5}));
  const auto split = divide(*doc, kTwo, {{1.75, 0.5}, {1.75, 1.5}}, false);
  const GiornataId part = split->new_id;
  const Job& job = done(split)->job();
  REQUIRE(of_giornata(job, part));
  CHECK(of_giornata(job, part)->palette == std::vector<std::string>{"PR 102"});
  CHECK_FALSE(of_giornata(job, part)->day);
  CHECK(std::ranges::count(job.pairs, PairRule{part, kThree, PairKind::before}) == 1);
  check_sound(*split->document);
  const auto joined = done(join(*doc, kOne, kTwo));
  CHECK(of_giornata(joined->job(), kOne)->palette == std::vector<std::string>{"PR 102"});
  CHECK(joined->job().secco.at(0).giornata == kOne);
  CHECK(joined->job().pairs.empty());
  check_sound(*joined);
}

TEST_CASE("the line cut in the evening: what was painted keeps the giornata, the rest is planned") {
  for (const double painted_u : {0.6, 1.4}) {
    const auto doc = small_project();
    const auto written =
        write_diary(*doc, full_entry(1, {2027, 5, 4}), {{1.1, 0.53}, {1.1, 1.46}}, ChartPoint{painted_u, 1});
    const auto after = done(written);
    const double left = 0.6, right = 0.4;
    const double painted = painted_u < 1.1 ? left : right;
    CHECK(area_of(*after, kOne) == Approx(painted).margin(1e-9));
    CHECK(area_of(*after, written->rest) == Approx(1 - painted).margin(1e-9));
    CHECK(after->giornata(kOne)->state == GiornataState::done);
    CHECK(after->giornata(kOne)->number == doc->giornata(kOne)->number);
    CHECK(after->giornata(kOne)->name == "Angel");
    CHECK(after->giornata(written->rest)->state == GiornataState::planned);
    const DiaryEntry& entry = *after->job().diary.at(0);
    CHECK(entry.area_m2 == Approx(painted).margin(1e-9));
    CHECK(entry.areas[0] == Approx(painted).margin(1e-9));
    CHECK(area_by_clipping(*after->walls[0]->wall, entry.planned) == Approx(1).margin(1e-9));
    CHECK(area_by_clipping(*after->walls[0]->wall, entry.cut) == Approx(painted).margin(1e-9));
    CHECK(entry.rest == written->rest);
    // 0.91 m2 at 0.35 m2/h and the face, 0.09 m2, at 0.06.
    CHECK(entry.planned_hours.value() == Approx(0.91 / 0.35 + 0.09 / 0.06));
    CHECK(entry.planned_on.has_value());
    check_sound(*after);
  }
}

TEST_CASE("without a side told, the larger part was painted") {
  const auto after = done(write_diary(*small_project(), entry_of(1, {2027, 5, 4}), {{0.7, 0.5}, {0.7, 1.5}}));
  CHECK(area_of(*after, kOne) == Approx(0.8).margin(1e-9));
}

TEST_CASE("an outline of what was painted may follow the rim by eye") {
  const auto doc = small_project();
  // Within 50 mm of the rim on three sides; cut away on the right, and at the lower left corner.
  const std::vector<ChartPoint> outline{{0.53, 0.9}, {0.9, 0.54},  {1.2, 0.47}, {1.25, 1.0},
                                        {1.2, 1.52}, {0.47, 1.47}, {0.53, 0.9}};
  const auto written = write_diary(*doc, entry_of(1, {2027, 5, 4}), outline);
  const auto after = done(written);
  REQUIRE(written->rests.size() == 2);
  CHECK(area_of(*after, kOne) + area_of(*after, written->rests[0]) + area_of(*after, written->rests[1]) ==
        Approx(1).margin(1e-9));
  CHECK(area_of(*after, written->rests[0]) == Approx(0.275).margin(0.03));
  CHECK(area_of(*after, written->rests[1]) == Approx(0.08).margin(0.03));
  check_sound(*after);
}

TEST_CASE("a cut that does not part the giornata is refused with its place, and nothing changes") {
  const auto doc = small_project();
  const auto cut = [&](const std::vector<ChartPoint>& line, std::optional<ChartPoint> painted = std::nullopt) {
    return refusal(write_diary(*doc, entry_of(1, {2027, 5, 4}), line, painted));
  };
  CHECK(says(cut({{1, 0.5}, {1, 1.2}}), "300 mm from the rim of giornata 1"));
  CHECK(says(cut({{1, 0.7}, {1.2, 0.7}, {1.2, 1}, {1, 0.7}}), "nowhere"));
  CHECK(says(cut({{0.5, 0.5}, {1.5, 0.5}, {1.5, 1.5}, {0.5, 1.5}, {0.5, 0.5}}), "nothing"));
  CHECK(says(cut({{1, 0.5}, {1, 1.5}}, ChartPoint{3, 2}), "painted"));
  CHECK(says(cut({{1, 0.5}, {1e9, 1.5}}), "far outside"));
  CHECK_FALSE(write_diary(*doc, entry_of(1, {2027, 5, 4}), {{1, 0.5}}).ok());
}

TEST_CASE("a painted giornata is held, its cut too, until it is found bad") {
  auto doc = full_job();
  CHECK_FALSE(write_diary(*doc, entry_of(1, {2027, 5, 5})).ok());
  CHECK_FALSE(divide(*doc, kOne, {{0.75, 0.5}, {0.75, 1.5}}, false).ok());
  CHECK_FALSE(move_to_day(*doc, kOne, Date{2027, 5, 5}).ok());
  CHECK(next_attempt(doc->job().diary, kTwo) == 2);
  CHECK(doc->job().diary.back()->attempt == 2);
  CHECK(doc->giornata(kTwo)->state == GiornataState::done);
  // Found bad again, and attempt 3 may not lie before attempt 2.
  doc = done(fail_giornata(*doc, kTwo, {2027, 5, 14}, ""));
  CHECK(doc->giornata(kTwo)->state == GiornataState::redo);
  CHECK_FALSE(fail_giornata(*doc, kTwo, {2027, 5, 14}, "").ok());
  CHECK_FALSE(write_diary(*doc, entry_of(2, {2027, 5, 11})).ok());
  const auto again = done(write_diary(*doc, entry_of(2, {2027, 5, 15})));
  CHECK(again->job().diary.back()->attempt == 3);
  CHECK(standing_entries(again->job().diary, kTwo).size() == 3);
  check_sound(*again);
}

TEST_CASE("set to be done again without a word, the first attempt is kept as failed") {
  auto doc = done(write_diary(*small_project(), full_entry(1, {2027, 5, 4})));
  doc = done(set_state(*doc, std::vector<GiornataId>{kOne}, GiornataState::redo));
  doc = done(write_diary(*doc, entry_of(1, {2027, 5, 8})));
  const auto standing = standing_entries(doc->job().diary, kOne);
  REQUIRE(standing.size() == 2);
  CHECK(standing[0]->failed);
  CHECK(standing[0]->hours == 6.5);
  CHECK(standing[1]->attempt == 2);
}

TEST_CASE("a correction stands for the entry it corrects, which is kept") {
  auto doc = done(write_diary(*small_project(), full_entry(1, {2027, 5, 4})));
  DiaryEntry right = *doc->job().diary[0];
  right.hours = 5.5;
  right.corrects = 1;
  doc = done(write_diary(*doc, right));
  REQUIRE(doc->job().diary.size() == 2);
  CHECK(doc->job().diary[0]->hours == 6.5);
  CHECK(standing_entries(doc->job().diary, kOne).at(0)->hours == 5.5);
  CHECK(doc->job().diary[1]->area_m2 == doc->job().diary[0]->area_m2);
  CHECK_FALSE(write_diary(*doc, right).ok());  // corrected already
  right.corrects = 7;
  CHECK_FALSE(write_diary(*doc, right).ok());
  // It was the other giornata: that one is painted, this one planned again.
  right.corrects = 2;
  right.giornata = kTwo;
  const auto other = done(write_diary(*doc, right));
  CHECK(other->giornata(kOne)->state == GiornataState::planned);
  CHECK(other->giornata(kTwo)->state == GiornataState::done);
  CHECK(other->job().diary.size() == 3);
  check_sound(*other);
}

TEST_CASE("a failure can be taken back until the giornata is done again") {
  auto doc = done(write_diary(*small_project(), full_entry(1, {2027, 5, 4})));
  doc = done(fail_giornata(*doc, kOne, {2027, 5, 6}, "cracks"));
  DiaryEntry sound = *doc->job().diary.back();
  sound.corrects = sound.id;
  sound.failed = false, sound.failed_on.reset(), sound.failed_why.clear();
  CHECK(done(write_diary(*doc, sound))->giornata(kOne)->state == GiornataState::done);
  doc = done(write_diary(*doc, entry_of(1, {2027, 5, 8})));
  CHECK_FALSE(write_diary(*doc, sound).ok());
}

TEST_CASE("numbers and words out of range are refused with the range") {
  const auto doc = small_project();
  const WallId wall = doc->walls[0]->id;
  const auto with = [&](auto change) {
    DiaryEntry entry = full_entry(1, {2027, 5, 4});
    change(entry);
    return write_diary(*doc, entry).ok();
  };
  CHECK(with([](DiaryEntry&) {}));
  CHECK_FALSE(with([](DiaryEntry& e) { e.hours = 24.5; }));
  CHECK_FALSE(with([](DiaryEntry& e) { e.hours = std::nan(""); }));
  CHECK_FALSE(with([](DiaryEntry& e) { e.air->humidity_pct = 101; }));
  CHECK_FALSE(with([](DiaryEntry& e) { e.date = {1899, 12, 31}; }));
  CHECK_FALSE(with([](DiaryEntry& e) { e.date = {2027, 2, 29}; }));
  CHECK_FALSE(with([](DiaryEntry& e) { e.remarks = "two\nlines"; }));
  CHECK_FALSE(with([](DiaryEntry& e) { e.remarks = std::string(1001, 'x'); }));
  CHECK_FALSE(with([](DiaryEntry& e) { e.photo = "/no/such/picture.jpg"; }));
  CHECK_FALSE(with([](DiaryEntry& e) { e.giornata = GiornataId{99}; }));
  CHECK_FALSE(add_days_off(*doc, {{2027, 5, 4}, {2027, 5, 3}, DayOffWhy::rest, ""}).ok());
  CHECK_FALSE(add_days_off(*doc, {{2027, 5, 4}, {2031, 5, 3}, DayOffWhy::rest, ""}).ok());
  CHECK_FALSE(remove_days_off(*doc, {2027, 5, 4}).ok());
  CHECK_FALSE(set_ground(*doc, {wall, 0, {2027, 5, 4}, Date{2027, 5, 3}, "", true, true, true, ""}).ok());
  CHECK_FALSE(set_ground(*doc, {WallId{7}, 0, {2027, 5, 4}, std::nullopt, "", false, false, false, ""}).ok());
  CHECK_FALSE(set_putty(*doc, {" ", {2025, 1, 1}, 10, ""}).ok());
  CHECK_FALSE(set_putty(*doc, {"a", {2025, 1, 1}, -1, ""}).ok());
  CHECK_FALSE(set_palette(*doc, kOne, {"PR 101", " "}).ok());
  CHECK_FALSE(set_secco(*doc, {0, kOne, "", "egg", 1, 1, std::nullopt}).ok());
  CHECK_FALSE(set_secco(*doc, {5, kOne, "sky", "egg", 1, 1, std::nullopt}).ok());
  CHECK_FALSE(remove_secco(*doc, 1).ok());
  CHECK_FALSE(add_weather(*doc, std::vector<DayWeather>{{{2027, 5, 3}, {90, 50, 0}, std::nullopt}}).ok());
}

TEST_CASE("days told again are replaced, days taken out are gone, and nothing left is no job") {
  auto doc = small_project();
  const auto day = [](int d, double c) { return DayWeather{{2027, 5, d}, {c, 50, 0}, std::nullopt}; };
  doc = done(add_weather(*doc, std::vector{day(3, 10), day(5, 12)}));
  doc = done(add_weather(*doc, std::vector{day(5, 14), day(4, 11)}));
  REQUIRE(doc->job().weather.size() == 3);
  CHECK(doc->job().weather[2].air.temperature_c == 14);
  doc = done(remove_weather(*doc, {2027, 5, 1}, {2027, 5, 31}));
  CHECK(doc->written == nullptr);
  doc = done(set_behind_scaffold(*doc, kOne, true));
  CHECK(done(set_behind_scaffold(*doc, kOne, false))->written == nullptr);
}

TEST_CASE("every edit of the job is one step back") {
  const auto before = small_project();
  const auto after = full_job();
  History history(before);
  history.push({after, "all"});
  history.undo();
  CHECK(*project_text(*history.current(), "/") == *project_text(*before, "/"));
  history.redo();
  CHECK(*project_text(*history.current(), "/") == *project_text(*after, "/"));
}
