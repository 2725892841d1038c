// Reports for programs: the documented keys of JSON, CSV by RFC 4180, iCalendar by RFC 5545.
#include <catch2/catch.hpp>

#include "editor/verbs/calendar_file.h"
#include "editor/verbs/table.h"
#include "tests/verbs/program.h"

using namespace pontata;

namespace {

using Rows = std::vector<std::vector<std::string>>;

// A reader of its own for RFC 4180: CRLF ends a record, quotes double.
Rows parse_csv(const std::string& text) {
  Rows rows(1);
  std::string field;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
      field += '"';
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (!quoted && (c == ',' || c == '\r')) {
      rows.back().push_back(field);
      field.clear();
    } else if (!quoted && c == '\n') {
      rows.emplace_back();
    } else {
      field += c;
    }
  }
  REQUIRE_FALSE(quoted);
  REQUIRE(rows.back().empty());
  rows.pop_back();
  return rows;
}

struct Project {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  Project() {
    add_flat_wall(path);
    for (const char* points : {"0.5 0.5\n1.5 0.5\n1.5 1.5\n0.5 1.5\n", "1.5 0.5\n2.5 0.5\n2.5 1.5\n1.5 1.5\n"})
      REQUIRE(run({"outline", path, "wall", "--points", "-", "--name", "Saint, \"the old\"; é"}, {points, {}, false})
                  .status == 0);
  }
  nlohmann::json report(const std::string& verb) const {
    const auto ran = run({verb, path, "--json"});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    return ran.json();
  }
};

void check_keys(const nlohmann::json& json, std::initializer_list<const char*> keys) {
  for (const char* key : keys) {
    INFO(key);
    CHECK(json.contains(key));
  }
}

}  // namespace

TEST_CASE("the documented keys are there") {
  const Project p;
  const auto measure = p.report("measure");
  check_keys(measure, {"walls", "totals"});
  check_keys(measure.at("walls").at(0),
             {"name", "area_m2", "raw_area_m2", "unassigned_m2", "residual_m2", "chart", "giornate"});
  check_keys(measure.at("walls").at(0).at("chart"), {"width_m", "height_m", "min_stretch", "max_stretch"});
  const auto& g = measure.at("walls").at(0).at("giornate").at(0);
  check_keys(g, {"id", "number", "name", "area_m2", "chart_area_m2", "perimeter_m", "coats", "hours", "neighbours"});
  check_keys(g.at("coats").at(0), {"name", "thickness_mm", "volume_L"});
  check_keys(measure.at("totals"), {"area_m2", "intonaco_L", "giornate"});
  CHECK(g.at("hours").is_null());  // no rate was given

  const auto plaster = p.report("plaster");
  check_keys(plaster.at("giornate").at(0), {"id", "number", "mortar_L", "putty_L", "aggregate_L", "putty_kg"});
  check_keys(plaster.at("totals"), {"mortar_L", "putty_L", "aggregate_L", "putty_kg"});

  const auto calendar = p.report("calendar");
  check_keys(calendar, {"giornate", "order", "problems"});
  check_keys(calendar.at("giornate").at(0), {"id", "number", "pontata", "hours", "window_h", "fits", "date"});
  CHECK(calendar.at("order").size() == 2);

  const auto review = p.report("review");
  REQUIRE(review.at("findings").is_array());

  const auto settings = run({"set", p.path, "--json"}).json();
  check_keys(settings.at("settings").at(0), {"key", "value", "unit", "default", "meaning"});
}

TEST_CASE("coats that do not fit into a hollow have no litres, and the total is told to lack them") {
  const Project p;
  REQUIRE(
      run({"wall", p.path, "b", "--shape", "barrel", "--span", "0.04m", "--length", "1m", "--rise", "0.02m"}).status ==
      0);
  REQUIRE(
      run({"outline", p.path, "b", "--points", "-"}, {"0.1 0.01\n0.5 0.01\n0.5 0.05\n0.1 0.05\n", {}, false}).status ==
      0);
  REQUIRE(run({"set", p.path, "giornata.3.mm", "30mm"}).status == 0);
  const auto ran = run({"measure", p.path, "--json"});
  REQUIRE(ran.status == 0);
  const auto json = ran.json();
  CHECK(json.at("walls").at(1).at("giornate").at(0).at("coats").is_null());
  CHECK(json.at("totals").at("intonaco_L").get<double>() == Approx(14));  // two of 1 m2, 7 mm
  CHECK(ran.err.find("left out of the total") != std::string::npos);
  CHECK(ran.err.find("giornata 3") == ran.err.rfind("giornata 3"));  // named once
  CHECK(run({"measure", p.path}).out.find("–") != std::string::npos);
  CHECK(run({"plaster", p.path}).status == 1);
  REQUIRE(run({"set", p.path, "giornata.3.mm", "none"}).status == 0);
  REQUIRE(run({"set", p.path, "giornata.1.mm", "2mm"}).status == 0);
  CHECK(run({"plaster", p.path}).out.find("its own intonaco is 2 mm thick") != std::string::npos);
}

TEST_CASE("CSV reads back with the names as they were given") {
  const Project p;
  for (const char* verb : {"measure", "plaster", "calendar", "review"}) {
    const std::string file = p.folder.file(std::string(verb) + ".csv");
    const auto ran = run({verb, p.path, "--csv", file});
    REQUIRE(ran.status == 0);
    CHECK_FALSE(ran.out.empty());
    const auto rows = parse_csv(bytes_of(file));
    REQUIRE(rows.size() >= 1);
    for (const auto& row : rows) CHECK(row.size() == rows[0].size());
    if (std::string(verb) == "review") continue;
    REQUIRE(rows.size() == 3);
    const auto name = std::find(rows[0].begin(), rows[0].end(), "name") - rows[0].begin();
    CHECK(rows[1][static_cast<std::size_t>(name)] == "Saint, \"the old\"; é");
  }
  CHECK(parse_csv(run({"measure", p.path, "--csv", "-"}).out).size() == 3);
}

TEST_CASE("a table aligns accented letters by characters and quotes only what needs it") {
  Table table{{{"name", "name", false}, {"area_m2", "m²"}},
              {{cell(std::string("é")), cell(1.25, 1)}, {cell(std::string("a,b")), cell(std::optional<double>{}, 1)}}};
  CHECK(table.text() == "name   m²\né     1.2\na,b     -\n");
  CHECK(table.csv() == "name,area_m2\r\né,1.25\r\n\"a,b\",\r\n");
}

TEST_CASE("the calendar file holds one all-day event a giornata, in folded lines") {
  const Project p;
  const std::string file = p.folder.file("days.ics");
  REQUIRE(run({"calendar", p.path, "--ics", file}).status == 0);
  const std::string text = bytes_of(file);
  CHECK(text.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:"));
  CHECK(text.ends_with("END:VCALENDAR\r\n"));
  std::size_t events = 0;
  for (std::size_t at = 0; (at = text.find("\r\nDTSTART;VALUE=DATE:", at)) != std::string::npos; ++at) ++events;
  CHECK(events == 2);
  CHECK(text.find("\r\nDTSTART;VALUE=DATE:20270503\r\nDTEND;VALUE=DATE:20270504\r\n") != std::string::npos);
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find("\r\n", at);
    REQUIRE(end != std::string::npos);
    CHECK(end - at <= 75);
    at = end + 2;
  }
  // Unfolded, the name is escaped: comma and semicolon by a backslash (RFC 5545, 3.3.11).
  std::string unfolded = text;
  for (std::size_t at = 0; (at = unfolded.find("\r\n ", at)) != std::string::npos;) unfolded.erase(at, 3);
  CHECK(unfolded.find("SUMMARY:Giornata 1 Saint\\, \"the old\"\\; é\r\n") != std::string::npos);
}

TEST_CASE("a fold never cuts a character") {
  CalendarEvent event{"a@pontata", {2027, 5, 3}, std::string(), "two\nlines"};
  for (int i = 0; i < 100; ++i) event.summary += "é";
  const std::string text = icalendar_text({event});
  for (std::size_t at = 0; (at = text.find("\r\n ", at)) != std::string::npos; ++at)
    CHECK((static_cast<unsigned char>(text[at + 3]) & 0xc0) != 0x80);
  CHECK(text.find("DESCRIPTION:two\\nlines\r\n") != std::string::npos);
}

TEST_CASE("settings are shown, changed and kept") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p");
  add_flat_wall(p);
  for (const auto& [key, value] : std::vector<std::pair<std::string, std::string>>{{"rate", "0.35"},
                                                                                   {"window.base", "9.5"},
                                                                                   {"coat.final.mm", "2.5"},
                                                                                   {"mix.first", "1:2 weight"},
                                                                                   {"pontata.levels", "2,4.1"},
                                                                                   {"workdays", "1-6"},
                                                                                   {"start", "2027-06-01"},
                                                                                   {"paper", "A3"},
                                                                                   {"painters", "2"}}) {
    REQUIRE(run({"set", p, key, value}).status == 0);
    CHECK(run({"set", p, key}).out == value + "\n");
  }
  CHECK(run({"set", p, "coat.first.mm", "0.5cm"}).status == 0);
  CHECK(run({"set", p, "coat.first.mm"}).out == "5\n");
  CHECK(run({"set", p, "rate", "0,4"}).status == 0);
  CHECK(run({"set", p, "rate"}).out == "0.4\n");
}
