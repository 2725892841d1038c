// What is written down on the job: order, days, arriccio, weather, putty, pigments, finishes and the diary.
#include <catch2/catch.hpp>
#include <filesystem>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

// Two giornate side by side, ids 1 and 2.
struct Job {
  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  Job() {
    add_flat_wall(path);
    outline("0.5 0.5\n1.5 0.5\n1.5 1.5\n0.5 1.5\n");
    outline("1.5 0.5\n2.5 0.5\n2.5 1.5\n1.5 1.5\n");
    REQUIRE(run({"set", path, "rate", "0.25"}).status == 0);
  }
  void outline(const std::string& points) const {
    REQUIRE(run({"outline", path, "wall", "--points", "-"}, {points, {}, false}).status == 0);
  }
  Ran ran(std::vector<std::string> arguments, const std::string& input = "") const {
    arguments.insert(arguments.begin() + 1, path);
    return run(arguments, {input, {}, false});
  }
  void does(const std::vector<std::string>& arguments, const std::string& input = "") const {
    const Ran made = ran(arguments, input);
    INFO(arguments[0] << ": " << made.err);
    CHECK(made.status == 0);
  }
  nlohmann::json json(std::vector<std::string> arguments) const {
    arguments.emplace_back("--json");
    const Ran told = ran(arguments);
    INFO(arguments[0] << ": " << told.err);
    REQUIRE(told.status == 0);
    return told.json();
  }
  // Cannot be done: one error line, and the project stays as it was.
  void cannot(const std::vector<std::string>& arguments, const std::string& input = "") const {
    const std::string before = bytes_of(path);
    const Ran refused = ran(arguments, input);
    INFO(arguments[0] << " " << refused.out << refused.err);
    CHECK(refused.status == 1);
    CHECK(is_one_error_line(refused, ""));
    CHECK(bytes_of(path) == before);
  }
  void wrong(const std::vector<std::string>& arguments) const {
    const Ran refused = ran(arguments);
    INFO(arguments[0] << " " << refused.out << refused.err);
    CHECK(refused.status == 2);
  }
};

}  // namespace

TEST_CASE("pairs and days are set, listed and taken away") {
  const Job p;
  p.does({"order", "--before", "2,1"});
  CHECK(p.json({"order"}).at("pairs").at(0).at("first") == 2);
  p.cannot({"order", "--before", "1,2"});
  p.cannot({"order", "--before", "1,9"});
  p.does({"order", "--before", "2,1", "--remove"});
  CHECK(p.json({"order"}).at("pairs").empty());
  p.wrong({"order", "--before", "1,2", "--apart", "1,2"});
  p.wrong({"order", "--before", "1"});
  p.wrong({"order", "--remove"});

  p.does({"days", "--off", "2027-05-10..2027-05-12", "--why", "dust", "--note", "floor"});
  p.does({"days", "--move", "1", "--to", "2027-05-20"});
  p.does({"days", "--behind", "2"});
  const auto days = p.json({"days"});
  CHECK(days.at("off").at(0).at("to") == "2027-05-12");
  CHECK(days.at("moved").at(0).at("date") == "2027-05-20");
  CHECK(days.at("behind").at(0).at("id") == 2);
  CHECK(p.ran({"days", "--csv", "-"}).out.find("2027-05-10,2027-05-12,no work: dust,floor\r\n") != std::string::npos);
  p.does({"days", "--off", "2027-05-11", "--remove"});
  p.does({"days", "--move", "1", "--to", "none"});
  p.does({"days", "--behind", "2", "--remove"});
  CHECK(p.ran({"days"}).out == "Nothing is set by hand.\n");
  p.cannot({"days", "--off", "2027-05-12..2027-05-10"});
  p.cannot({"days", "--off", "2027-05-12", "--remove"});
  p.wrong({"days", "--off", "2027-02-30"});
  p.wrong({"days", "--move", "1"});
  p.wrong({"days", "--move", "1", "--to", "soon"});
}

TEST_CASE("a finding is accepted by its code, listed, and opened again") {
  const Job p;
  p.does({"set", "rate", "0.02"});
  const auto large = [&] {
    const auto reply = p.json({"review"});
    for (const auto& f : reply.at("findings"))
      if (f.at("rule") == "too-large") return f;
    FAIL("nothing is too large");
    return nlohmann::json();
  };
  const std::string code = large().at("finding");
  p.cannot({"accept", "123456", "--reason", "two painters"});
  p.cannot({"accept", code, "--reason", " "});
  p.cannot({"accept", code, "--open"});
  p.wrong({"accept", code});
  p.wrong({"accept", code, "--reason", "two painters", "--open"});
  p.wrong({"accept", "--reason", "two painters"});
  p.does({"accept", code, "--reason", "two painters"});
  CHECK(large().at("accepted") == "two painters");
  CHECK(p.ran({"review"}).out.find("1 accepted") != std::string::npos);
  p.does({"set", "rate", "0.03"});
  CHECK_FALSE(large().contains("accepted"));
  CHECK(p.json({"accept"}).at("accepted").at(0).at("holds") == false);
  CHECK(p.ran({"accept"}).out.find("holds no longer") != std::string::npos);
  p.does({"accept", code, "--open"});
  CHECK(p.json({"accept"}).at("accepted").empty());
  CHECK(p.ran({"accept"}).out.find("Nothing was accepted") != std::string::npos);
}

TEST_CASE("the arriccio is laid and signed for, weather and putty are told") {
  const Job p;
  p.cannot({"ground", "wall", "--signed", "2027-04-20"});
  p.does({"ground", "wall", "--laid", "2027-03-15"});
  CHECK(p.json({"ground"}).at("ground").at(0).at("ready") == false);
  p.does({"ground", "wall", "--signed", "2027-04-20", "--by", "mason", "--sound", "--no-salts", "--no-damp"});
  CHECK(p.json({"ground", "wall"}).at("ground").at(0).at("ready") == true);
  p.does({"ground", "wall", "--signed", "2027-04-25", "--sound"});  // looked at again: salts and damp are not cleared
  CHECK(p.json({"ground"}).at("ground").at(0).at("ready") == false);
  CHECK(p.ran({"ground"}).out.find("dust") != std::string::npos);
  p.cannot({"ground", "apse", "--laid", "2027-03-15"});
  p.does({"ground", "wall", "--remove"});
  p.wrong({"ground", "wall", "--remove", "--sound"});
  p.wrong({"ground", "--laid", "2027-03-15"});

  p.does({"weather", "--date", "2027-05-03", "--temperature", "-2", "--humidity", "80"});
  const auto cold = p.json({"weather"}).at("days").at(0);
  CHECK(cold.at("temperature_c") == -2);
  CHECK(cold.at("words").at(0).at("alert") == true);
  std::ofstream(p.folder.file("w.csv"))
      << "date,temperature,humidity,air,night\n2027-05-04,22,55,3,11\n2027-05-05,30,40,0,15\n";
  p.does({"weather", "--in", p.folder.file("w.csv")});
  CHECK(p.json({"weather"}).at("days").size() == 3);
  std::ofstream(p.folder.file("bad.csv")) << "2027-05-04,warm,55,3\n";
  p.cannot({"weather", "--in", p.folder.file("bad.csv")});
  p.cannot({"weather", "--in", p.folder.file("none.csv")});
  p.cannot({"weather", "--date", "2027-05-03", "--temperature", "99", "--humidity", "80"});
  p.wrong({"weather", "--date", "2027-05-03", "--temperature", "9"});
  p.does({"weather", "--remove", "2027-05-03..2027-05-31"});
  CHECK(p.json({"weather"}).at("days").empty());

  p.does({"putty", "tub 3", "--slaked", "2025-11-03", "--litres", "60"});
  CHECK(p.json({"putty"}).at("putty").at(0).at("months_at_start") == 18);
  CHECK(p.ran({"putty"}).out.find("goggles") != std::string::npos);
  p.cannot({"putty", "tub 4", "--litres", "60"});
  p.cannot({"putty", "tub 4", "--remove"});
  p.does({"putty", "tub 3", "--remove"});
  p.wrong({"putty", "tub 3"});
}

TEST_CASE("pigments and finishes") {
  const Job p;
  const Ran warned = p.ran({"palette", "1", "--pigments", "PR 102, PW 1"});
  CHECK(warned.status == 0);
  CHECK(warned.err.find("lead white (PW 1)") != std::string::npos);
  const auto one = p.json({"palette", "1"});
  CHECK(one.at("pigments").at(1).at("fastness") == "avoid");
  CHECK(p.json({"palette"}).at("giornate").at(0).at("pigments").size() == 2);
  p.does({"palette", "1", "--pigments", ""});
  CHECK(p.json({"palette"}).at("giornate").empty());
  p.cannot({"palette", "9", "--pigments", "PR 102"});
  p.cannot({"palette", "9"});
  p.wrong({"palette", "--pigments", "PR 102"});

  p.does({"secco", "1", "--what", "blue", "--binder", "casein", "--area", "0.2", "--hours", "3"});
  p.does({"secco", "--change", "1", "--date", "2027-06-01"});
  const auto finish = p.json({"secco"}).at("secco").at(0);
  CHECK(finish.at("earliest").get<std::string>() >= "2027-07-02");  // 60 days after 3 May, or later
  CHECK(finish.at("what") == "blue");
  CHECK(p.ran({"secco"}).out.find("before the plaster has set") != std::string::npos);
  p.cannot({"secco", "--change", "4", "--hours", "3"});
  p.cannot({"secco", "--remove", "4"});
  p.wrong({"secco", "1", "--what", "blue"});
  p.does({"secco", "--remove", "1"});
}

TEST_CASE("the diary: written, cut, found bad, done again, corrected, told") {
  const Job p;
  const auto written =
      p.ran({"diary",         "1",     "--date",     "2027-05-03", "--hours",   "5,5",   "--laying", "1",
             "--temperature", "18",    "--humidity", "60",         "--window",  "9",     "--mix",    "1:1 volume",
             "--note",        "angel", "--cut",      "-",          "--painted", "0.7,1", "--json"},
            "1.2 0.5\n1.2 1.5\n");
  INFO(written.err);
  REQUIRE(written.status == 0);
  CHECK(written.json().at("area_m2").get<double>() == Approx(0.7));
  CHECK(written.json().at("rests").at(0).at("id") == 3);
  p.cannot({"diary", "1", "--date", "2027-05-04"});
  p.cannot({"diary", "2", "--date", "2027-05-04", "--cut", "-"}, "2 0.5\n2 1\n");
  p.cannot({"diary", "2", "--date", "2027-05-04", "--photo", "nowhere.jpg"});
  p.does({"diary", "2", "--date", "2027-05-04", "--hours", "6"});
  const Ran redo = p.ran({"diary", "2", "--redo", "--date", "2027-05-06", "--why", "hollow"});
  CHECK(redo.status == 0);
  CHECK(redo.out.find("goggles") != std::string::npos);
  p.does({"diary", "2", "--date", "2027-05-07", "--hours", "4"});
  p.does({"diary", "2", "--corrects", "4", "--hours", "4.5"});
  const auto diary = p.json({"diary"}).at("diary");
  REQUIRE(diary.size() == 5);
  CHECK(diary.at(0).at("hours") == 5.5);
  CHECK(diary.at(1).at("stands") == false);
  CHECK(diary.at(2).at("failed_why") == "hollow");
  CHECK(diary.at(4).at("hours") == 4.5);
  CHECK(diary.at(4).at("date") == "2027-05-07");
  CHECK(diary.at(4).at("attempt") == 2);
  CHECK(p.json({"diary", "2"}).at("diary").size() == 4);
  const auto beside = p.json({"diary", "--plan"}).at("giornate");
  CHECK(beside.at(0).at("attempts").at(0).at("planned_area_m2").get<double>() == Approx(1));
  CHECK(beside.at(0).at("attempts").at(0).at("area_m2").get<double>() == Approx(0.7));
  CHECK(p.json({"diary", "--estimates"}).at("days") == 3);
  CHECK(p.ran({"check"}).status == 0);
  p.wrong({"diary", "2", "--hours", "4"});
  p.wrong({"diary", "--date", "2027-05-07"});
  p.wrong({"diary", "2", "--redo"});
  p.wrong({"diary", "2", "--date", "2027-05-07", "--redo", "--hours", "3"});
  p.wrong({"diary", "--estimates", "--plan"});
}

TEST_CASE("the record is written out whole, and tells which edge lies over which") {
  const Job p;
  p.does({"diary", "1", "--date", "2027-05-05", "--hours", "5"});
  p.does({"diary", "2", "--date", "2027-05-03", "--hours", "5", "--light", "lamp, \"north\""});
  const std::string out = p.folder.file("record");
  const auto files = p.json({"diary", "--record", out}).at("files");
  for (const auto& file : files) CHECK(std::filesystem::file_size(file.get<std::string>()) > 20);
  CHECK(bytes_of(out + "/overlaps.csv").find("wall,2,2,1,1,no,") != std::string::npos);
  CHECK(bytes_of(out + "/diary.csv").find("\"lamp, \"\"north\"\"\"") != std::string::npos);
  // The same record gives the same bytes.
  const std::string drawing = bytes_of(out + "/giornate.pdf");
  p.does({"diary", "--record", out});
  CHECK(bytes_of(out + "/giornate.pdf") == drawing);
  p.cannot({"diary", "--record", p.path + "/record"});
}
