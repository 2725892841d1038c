// The plaster of the job as the verb tells it: JSON, CSV and words hold the same numbers.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <sstream>

#include "tests/verbs/program.h"

using namespace pontata;
using Json = nlohmann::json;

namespace {

// A half barrel of radius 2 m, 6 m long, with three giornate, two of them one above the other.
struct Barrel {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  Barrel() {
    REQUIRE(
        run({"wall", path, "vault", "--shape", "barrel", "--span", "4m", "--length", "6m", "--rise", "2m"}).status ==
        0);
    for (const char* points :
         {"1 0.2\n2 0.2\n2 1.2\n1 1.2\n", "1 2.4\n2 2.4\n2 3.4\n1 3.4\n", "3 2.4\n4 2.4\n4 3.4\n3 3.4\n"})
      REQUIRE(run({"outline", path, "vault", "--points", "-"}, {points, {}, false}).status == 0);
    set("start", "2026-12-31");  // a Thursday: the first week is that of two years
    set("pontata.levels", "0,1.5");
  }
  void set(const std::string& key, const std::string& value) const {
    const auto ran = run({"set", path, key, value});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
  }
  Json report(std::vector<std::string> more = {}, RunOptions options = {}) const {
    std::vector<std::string> arguments{"plaster", path, "--json"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const auto ran = run(arguments, options);
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    return ran.json();
  }
};

// Rows of a CSV without quotes or commas inside, by their head.
std::vector<std::map<std::string, std::string>> csv_rows(const std::string& text) {
  std::vector<std::vector<std::string>> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    lines.emplace_back();
    std::istringstream fields(line + ",");
    for (std::string field; std::getline(fields, field, ',');) lines.back().push_back(field);
  }
  std::vector<std::map<std::string, std::string>> rows;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    REQUIRE(lines[i].size() == lines[0].size());
    rows.emplace_back();
    for (std::size_t c = 0; c < lines[0].size(); ++c) rows.back()[lines[0][c]] = lines[i][c];
  }
  return rows;
}

// Every column of the CSV whose key the JSON object has holds the very same value.
void check_same(const std::map<std::string, std::string>& row, const Json& json) {
  std::size_t same = 0;
  for (const auto& [key, text] : row) {
    if (!json.contains(key)) continue;
    INFO(key << " = " << text);
    const Json& value = json.at(key);
    if (value.is_number())
      CHECK(std::stod(text) == value.get<double>());
    else if (value.is_string())
      CHECK(text == value.get<std::string>());
    else if (value.is_boolean())
      CHECK(text == (value.get<bool>() ? "true" : "false"));
    else
      CHECK(text.empty());  // null
    ++same;
  }
  CHECK(same + 1 >= row.size());  // one may bear another name in its list
}

double sum_over(const Json& list, const char* key) {
  double sum = 0;
  for (const Json& one : list) sum += one.at(key).get<double>();
  return sum;
}

}  // namespace

TEST_CASE("sums by pontata, week, coat and batch are those of the giornate") {
  const Barrel barrel;
  const Json json = barrel.report();
  REQUIRE(json.at("giornate").size() == 3);
  for (const char* key : {"mortar_L", "putty_L", "aggregate_L", "putty_kg", "aggregate_kg", "wet_kg", "sand_L"}) {
    INFO(key);
    const double all = json.at("totals").at(key).get<double>();
    CHECK(all > 0);
    for (const char* list : {"giornate", "per_pontata", "per_week"}) CHECK(sum_over(json.at(list), key) == Approx(all));
    double coats = 0, batches = 0;
    for (const Json& g : json.at("giornate"))
      coats += sum_over(g.at("coats"), key), batches += sum_over(g.at("batches"), key);
    CHECK(coats == Approx(all));
    CHECK(batches == Approx(all));
    CHECK(sum_over(json.at("ground"), key) == Approx(json.at("ground_totals").at(key).get<double>()));
  }
  CHECK(json.at("per_pontata").size() == 2);
  // 31 December 2026 is a Thursday; after it come Friday and the Monday of the next week.
  REQUIRE(json.at("per_week").size() == 2);
  CHECK(json.at("per_week")[0].at("week") == "2026-W53");
  CHECK(json.at("per_week")[1].at("week") == "2027-W01");
  CHECK(json.at("per_week")[1].at("monday") == "2027-01-04");
}

TEST_CASE("the ground of a barrel is the shells behind it, by pontata and rest") {
  const Barrel barrel;
  barrel.set("waste.pct", "0");
  Json json = barrel.report();
  const auto shell = [](double outer, double inner) {
    return 1000 * std::numbers::pi / 2 * (outer * outer - inner * inner) * 6;
  };
  CHECK(json.at("ground_totals").at("mortar_L").get<double>() == Approx(shell(2.017, 2)).epsilon(1e-4));
  CHECK(json.at("ground").size() == 3);  // two decks and the rest
  CHECK(json.at("ground")[2].at("pontata").is_null());
  const double intonaco = json.at("totals").at("mortar_L").get<double>();
  barrel.set("surface.is", "bare wall");
  json = barrel.report();
  CHECK(json.at("ground_totals").at("mortar_L").get<double>() == Approx(shell(2, 1.983)).epsilon(1e-4));
  CHECK(json.at("totals").at("mortar_L").get<double>() < intonaco);
  barrel.set("coat.rinzaffo.mm", "0");
  barrel.set("coat.arriccio.mm", "0");
  json = barrel.report();
  CHECK(json.at("ground").empty());
  CHECK(json.at("totals").at("mortar_L").get<double>() == Approx(intonaco));
}

TEST_CASE("what is bought is ground and intonaco with the reserve, marble dust and sands apart") {
  const Barrel barrel;
  barrel.set("mix.final", "1 : 0.5 sand : 0.5 marble");
  barrel.set("mix.rinzaffo", "1 : 2 sand : 0.5 pozzolana volume");
  barrel.set("reserve.pct", "25");
  const Json json = barrel.report();
  std::map<std::string, double> litres;
  for (const Json& line : json.at("purchase")) litres[line.at("material")] += line.at("litres").get<double>();
  for (const auto& [material, key] : std::map<std::string, const char*>{{"lime putty", "putty_L"},
                                                                        {"sand", "sand_measured_L"},
                                                                        {"marble dust", "marble_dust_L"},
                                                                        {"pozzolana", "pozzolana_L"}}) {
    INFO(material);
    CHECK(litres[material] ==
          Approx(1.25 * (json.at("totals").at(key).get<double>() + json.at("ground_totals").at(key).get<double>())));
    CHECK(litres[material] > 0);
  }
  CHECK(json.at("purchase").size() == 7);  // four sizes of sand
  CHECK(json.at("slaking").is_null());
}

TEST_CASE("giornate that are done need nothing more") {
  const Barrel barrel;
  barrel.set("coat.rinzaffo.mm", "0");
  barrel.set("coat.arriccio.mm", "0");
  for (const char* id : {"1", "2"}) barrel.set(std::string("giornata.") + id + ".state", "done");
  const Json json = barrel.report();
  double third = 0;
  for (const Json& g : json.at("giornate"))
    if (g.at("id") == 3) third = g.at("putty_L").get<double>();
  CHECK(json.at("to_come")[0].at("litres").get<double>() == Approx(1.1 * third));
  CHECK(json.at("purchase")[0].at("litres").get<double>() ==
        Approx(1.1 * json.at("totals").at("putty_L").get<double>()));
}

TEST_CASE("who slakes is told when, how much and all the cautions") {
  const Barrel barrel;
  barrel.set("slake.own", "yes");
  const auto ran = run({"plaster", barrel.path});
  REQUIRE(ran.status == 0);
  const Json slaking = barrel.report().at("slaking");
  CHECK(slaking.at("slake_by") == "2025-12-31");  // twelve months
  CHECK(slaking.at("quicklime_kg").get<double>() + slaking.at("water_L").get<double>() ==
        Approx(slaking.at("putty_kg").get<double>() + slaking.at("left_on_the_sieve_kg").get<double>()));
  REQUIRE(slaking.at("cautions").size() >= 5);
  for (const Json& line : slaking.at("cautions")) CHECK(ran.out.find(line.get<std::string>()) != std::string::npos);
}

TEST_CASE("CSV holds what JSON holds, with a decimal point in every locale") {
  const Barrel barrel;
  barrel.set("sand.moisture", "3");
  const auto file = [&](const char* name) { return barrel.folder.file(std::string(name) + ".csv"); };
  RunOptions german;
  german.environment = {{"LC_ALL", "de_DE.UTF-8"}, {"LANG", "de_DE.UTF-8"}};
  const Json json = barrel.report({"--csv", file("giornate"), "--batches", file("batches"), "--ground", file("ground"),
                                   "--sums", file("sums"), "--purchase", file("purchase")},
                                  german);
  CHECK(json == barrel.report());
  for (const char* list : {"giornate", "ground", "purchase"}) {
    INFO(list);
    const auto rows = csv_rows(bytes_of(file(list)));
    REQUIRE(rows.size() == json.at(list).size());
    for (std::size_t i = 0; i < rows.size(); ++i) check_same(rows[i], json.at(list)[i]);
  }
  const auto sums = csv_rows(bytes_of(file("sums")));
  REQUIRE(sums.size() == json.at("per_pontata").size() + json.at("per_week").size());
  for (std::size_t i = 0; i < sums.size(); ++i) {
    const std::size_t decks = json.at("per_pontata").size();
    check_same(sums[i], i < decks ? json.at("per_pontata")[i] : json.at("per_week")[i - decks]);
  }
  const auto batches = csv_rows(bytes_of(file("batches")));
  REQUIRE(batches.size() == 2 * json.at("giornate").size());
  for (std::size_t i = 0; i < batches.size(); ++i)
    check_same(batches[i], json.at("giornate")[i / 2].at("batches")[i % 2]);
}

TEST_CASE("one name for two tables is refused, and nothing is written") {
  const Barrel barrel;
  const std::string file = barrel.folder.file("one.csv");
  const auto ran = run({"plaster", barrel.path, "--ground", file, "--purchase", file});
  CHECK(ran.status == 1);
  CHECK(ran.err.find("named twice") != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(file));
}
