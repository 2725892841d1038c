// The calendar as files: read back by an independent iCalendar parser (Debian python3-icalendar, BSD licence; its
// version 4 takes a backslash before n for a line break though it stands twice, so no word here has that), CSV beside
// JSON, numbers in a locale with commas.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <map>
#include <set>
#include <sstream>

#include "editor/verbs/calendar_file.h"
#include "tests/verbs/program.h"

using namespace pontata;
using Json = nlohmann::json;

namespace {

// Every event as one JSON line: uid, first day, last day, words; anything the parser finds wrong ends it.
constexpr const char* kReader = R"py(
import sys, json, datetime
from icalendar import Calendar
calendar = Calendar.from_ical(open(sys.argv[1], "rb").read())
assert calendar["VERSION"] == "2.0" and calendar["PRODID"] and not calendar.errors, calendar.errors
for event in calendar.walk("VEVENT"):
    assert not event.errors, event.errors
    first, after = event.decoded("DTSTART"), event.decoded("DTEND")
    assert type(first) is datetime.date and type(after) is datetime.date and after > first
    assert event.decoded("DTSTAMP").tzinfo is not None
    print(json.dumps({"uid": str(event["UID"]), "from": first.isoformat(),
                      "to": (after - datetime.timedelta(days=1)).isoformat(),
                      "summary": str(event["SUMMARY"]), "description": str(event["DESCRIPTION"])}))
)py";

std::vector<Json> read_back(const std::string& file) {
  const TemporaryFolder folder;
  write_bytes(folder.file("read.py"), kReader);
  const std::string out = folder.file("out");
  REQUIRE(std::system(("/usr/bin/python3 " + folder.file("read.py") + " " + file + " >" + out).c_str()) == 0);
  std::vector<Json> events;
  std::istringstream lines(bytes_of(out));
  for (std::string line; std::getline(lines, line);) events.push_back(Json::parse(line));
  return events;
}

// Two rows of two patches on a wall of 4 by 3 m, on two decks, for a painter with a rate.
struct TwoDecks {
  TemporaryFolder folder;
  std::string path = folder.file("chapel.pontata");
  TwoDecks() {
    add_flat_wall(path);
    for (const char* points : {"0.5 0.5\n1.5 0.5\n1.5 1.5\n0.5 1.5\n", "1.5 0.5\n2.5 0.5\n2.5 1.5\n1.5 1.5\n",
                               "0.5 1.5\n1.5 1.5\n1.5 2.5\n0.5 2.5\n", "1.5 1.5\n2.5 1.5\n2.5 2.5\n1.5 2.5\n"})
      REQUIRE(run({"outline", path, "wall", "--points", "-", "--name", "Saint, \"the old\"; é\\-"}, {points, {}, false})
                  .status == 0);
    set("rate", "0.3");
    set("pontata.levels", "0,1.5");
    set("scaffold.move", "2");
    set("scaffold.strike", "1");
  }
  void set(const std::string& key, const std::string& value) const {
    const auto ran = run({"set", path, key, value});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
  }
  Json report() const { return run({"calendar", path, "--json"}).json(); }
  std::vector<Json> events() const {
    const std::string file = folder.file("days.ics");
    REQUIRE(run({"calendar", path, "--ics", file}).status == 0);
    return read_back(file);
  }
};

Json of_kind(const Json& report, const std::string& kind) {
  Json found = Json::array();
  for (const Json& event : report.at("events"))
    if (event.at("kind") == kind) found.push_back(event);
  return found;
}

// A reader for the CSV of this test: no line breaks inside fields.
std::vector<std::map<std::string, std::string>> read_csv(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    REQUIRE(line.ends_with('\r'));
    line.pop_back();
    std::vector<std::string> row(1);
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (line[i] == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"')
        row.back() += line[i++];
      else if (line[i] == '"')
        quoted = !quoted;
      else if (line[i] == ',' && !quoted)
        row.emplace_back();
      else
        row.back() += line[i];
    }
    rows.push_back(row);
  }
  std::vector<std::map<std::string, std::string>> named;
  for (std::size_t r = 1; r < rows.size(); ++r) {
    REQUIRE(rows[r].size() == rows[0].size());
    for (std::size_t c = 0; c < rows[0].size(); ++c) named.resize(r), named.back()[rows[0][c]] = rows[r][c];
  }
  return named;
}

std::string text_of(const Json& value) {
  if (value.is_null()) return "";
  if (value.is_string()) return value.get<std::string>();
  if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
  return value.dump();
}

}  // namespace

TEST_CASE("an independent parser reads every day back: giornate, moves and strikes") {
  const TwoDecks job;
  const Json report = job.report();
  const auto events = job.events();
  REQUIRE(events.size() == report.at("giornate").size() + report.at("events").size());
  CHECK(of_kind(report, "scaffold-move").size() == 1);
  CHECK(of_kind(report, "strike").size() == 2);
  std::set<std::string> uids;
  for (const Json& event : events) CHECK(uids.insert(event.at("uid")).second);
  for (const Json& g : report.at("giornate")) {
    const auto it = std::ranges::find_if(events, [&](const Json& e) {
      return e.at("uid").get<std::string>().starts_with("giornata-" + g.at("id").dump() + "-");
    });
    REQUIRE(it != events.end());
    CHECK(it->at("from") == g.at("date"));
    CHECK(it->at("to") == g.at("date"));
    CHECK(it->at("summary") == "Giornata " + g.at("label").get<std::string>() + " " + g.at("name").get<std::string>());
    const std::string words = it->at("description");
    CHECK(words.find("h of painting") != std::string::npos);
    CHECK(words.find(report.at("caution").get<std::string>()) != std::string::npos);
  }
  for (const Json& told : report.at("events")) {
    const auto it = std::ranges::find_if(events, [&](const Json& e) { return e.at("summary") == told.at("says"); });
    REQUIRE(it != events.end());
    CHECK(it->at("from") == told.at("from"));
    CHECK(it->at("to") == told.at("to"));
    CHECK(it->at("description").get<std::string>().size() > 20);  // its caution
  }
}

TEST_CASE("the same thing keeps its uid when the days move") {
  const TwoDecks job;
  const auto uids = [&] {
    std::set<std::string> all;
    for (const Json& event : job.events()) all.insert(event.at("uid"));
    return all;
  };
  const auto before = uids();
  job.set("start", "2027-08-02");
  CHECK(uids() == before);
}

TEST_CASE("any words come back from an event as they were") {
  const TemporaryFolder folder;
  std::vector<CalendarEvent> events{{"a@pontata", {2027, 12, 31}, "plain", "two\nlines; a \\ and, commas", {}},
                                    {"b@pontata", {2028, 2, 28}, "", "", Date{2028, 3, 1}},
                                    {"c@pontata", {2027, 5, 3}, "\"quoted\": é č 漢 BEGIN:VEVENT", "\\ end", {}}};
  for (int k = 0; k < 60; ++k) events[1].summary += k % 7 == 0 ? "\\" : k % 5 == 0 ? "漢" : "é;";
  write_bytes(folder.file("a.ics"), icalendar_text(events));
  const auto back = read_back(folder.file("a.ics"));
  REQUIRE(back.size() == events.size());
  for (std::size_t i = 0; i < events.size(); ++i) {
    CHECK(back[i].at("uid") == events[i].uid);
    CHECK(back[i].at("from") == format_date(events[i].date));
    CHECK(back[i].at("to") == format_date(events[i].last.value_or(events[i].date)));
    CHECK(back[i].at("summary") == events[i].summary);
    CHECK(back[i].at("description") == events[i].description);
  }
}

TEST_CASE("CSV tells what JSON tells") {
  const TwoDecks job;
  const Json report = job.report();
  const auto rows = read_csv(run({"calendar", job.path, "--csv", "-"}).out);
  const std::size_t giornate = report.at("giornate").size();
  REQUIRE(rows.size() == giornate + report.at("events").size());
  for (std::size_t i = 0; i < giornate; ++i) {
    const Json& g = report.at("giornate")[i];
    auto row = rows[i];
    for (const char* key : {"date", "pontata", "wall", "id", "name", "hours", "window_h", "fits", "weather_window_h",
                            "lay_h", "moved", "for_strike", "attempt"}) {
      INFO(key);
      REQUIRE(row.contains(key));
      if (g.at(key).is_number())
        CHECK(std::stod(row[key]) == g.at(key).get<double>());
      else
        CHECK(row[key] == text_of(g.at(key)));
    }
    CHECK(row["number"] == g.at("label"));
    CHECK(row["kind"] == "giornata");
  }
  for (std::size_t i = 0; i < report.at("events").size(); ++i) {
    const Json& event = report.at("events")[i];
    auto row = rows[giornate + i];
    CHECK(row["date"] == event.at("from"));
    for (const char* key : {"to", "says", "kind", "pontata", "wall"}) CHECK(row[key] == text_of(event.at(key)));
  }
}

TEST_CASE("calendar files have a decimal point in every locale") {
  const TwoDecks job;
  RunOptions comma;
  comma.environment = {{"LC_ALL", "de_DE.UTF-8"}, {"LANG", "de_DE.UTF-8"}};
  for (const char* form : {"--json", "--csv", "--ics"}) {
    std::vector<std::string> arguments{"calendar", job.path, form};
    if (std::string(form) != "--json") arguments.push_back(job.folder.file("out"));
    const auto bytes = [&](const RunOptions& options) {
      const auto ran = run(arguments, options);
      REQUIRE(ran.status == 0);
      return std::string(form) == "--json" ? ran.out : bytes_of(job.folder.file("out"));
    };
    CHECK(bytes(comma) == bytes({}));
  }
  CHECK(job.report().at("giornate")[0].at("hours").get<double>() == Approx(1 / 0.3));
}

TEST_CASE("laps name each seam once: who is cut first and who is pressed against it") {
  const TwoDecks job;
  const Json report = job.report();
  std::map<int, int> place;
  for (const Json& id : report.at("order")) place.emplace(id.get<int>(), static_cast<int>(place.size()));
  int shared = 0;
  std::set<std::vector<int>> seams;
  for (const Json& lap : report.at("laps")) {
    CHECK(seams.insert(lap.at("giornate").get<std::vector<int>>()).second);
    CHECK_FALSE(lap.at("wet_together").get<bool>());
    if (lap.at("pressed").is_null()) {
      CHECK(lap.at("giornate").size() == 1);  // against the rest of the wall
      CHECK(lap.at("length_m").get<double>() == Approx(2));
      continue;
    }
    CHECK(place.at(lap.at("cut_first").get<int>()) < place.at(lap.at("pressed").get<int>()));
    CHECK(lap.at("length_m").get<double>() == Approx(1));
    ++shared;
  }
  CHECK(shared == 4);
  CHECK(seams.size() == 8);
}

TEST_CASE("what the calendar does not hold to is told in text, and by rule in JSON") {
  const TwoDecks job;
  job.set("rate", "0.05");
  const Json report = job.report();
  CHECK(report.at("weather_counts") == false);
  CHECK(report.at("circles").empty());
  const auto full =
      std::ranges::count_if(report.at("issues"), [](const Json& i) { return i.at("rule") == "over-full"; });
  CHECK(full == 4);
  CHECK(report.at("problems").size() == 4);
  const std::string text = run({"calendar", job.path}).out;
  for (const Json& problem : report.at("problems"))
    CHECK(text.find("problem: " + problem.get<std::string>()) != std::string::npos);
  CHECK(text.find("note: Nothing is told of the arriccio of wall") != std::string::npos);
  for (const Json& event : report.at("events"))
    CHECK(text.find(event.at("says").get<std::string>()) != std::string::npos);
}
