// Real replies of the verbs obey assets/replies.schema.json.
#include <catch2/catch.hpp>
#include <set>

#include "tests/fixtures/json_schema.h"
#include "tests/fixtures/places.h"
#include "tests/verbs/program.h"

using namespace pontata;

namespace {

class Replies {
 public:
  Replies() { add_flat_wall(path); }

  // The reply of a verb on the wall, checked by its part of the schema.
  nlohmann::json of(const std::string& part, std::vector<std::string> arguments, const std::string& points = "") {
    arguments.insert(arguments.begin() + 1, path);
    arguments.push_back("--json");
    const Ran ran = run(arguments, {points, {}, false});
    INFO(part << ": " << ran.err);
    REQUIRE(ran.status == 0);
    CHECK(check_.faults(ran.json(), "/$defs/" + part) == std::vector<std::string>{});
    seen.insert(part);
    return ran.json();
  }
  nlohmann::json schema() const { return schema_; }

  TemporaryFolder folder;
  std::string path = folder.file("p.pontata");
  std::set<std::string> seen;

 private:
  nlohmann::json schema_ = nlohmann::json::parse(bytes_of(fixtures::source_folder() + "/assets/replies.schema.json"));
  fixtures::SchemaCheck check_{schema_};
};

const std::string kLeft = "0.5 0.5\n1.5 0.5\n1.5 1.5\n0.5 1.5\n", kRight = "1.5 0.5\n2.5 0.5\n2.5 1.5\n1.5 1.5\n";

}  // namespace

TEST_CASE("replies of the verbs obey their schema, and every part of it is met") {
  Replies r;
  r.of("outline", {"outline", "wall", "--points", "-", "--name", "Angel"}, kLeft);
  r.of("outline", {"outline", "wall", "--points", "-", "--hug"}, kRight);
  const auto over =
      r.of("outline", {"outline", "wall", "--points", "-", "--take"}, "0.75 0.2\n1 0.2\n1 1.8\n0.75 1.8\n");
  CHECK(over.at("taken").size() == 1);
  CHECK(over.at("parts").size() == 1);
  r.of("outline", {"outline", "wall", "--points", "-", "--into", "2"}, "2.4 0.75\n3 0.75\n3 1.25\n2.4 1.25\n");
  r.of("hug", {"hug", "wall", "--points", "-"}, "0.5 2\n1.5 1.5\n");
  r.of("nudge", {"nudge", "wall", "--from", "1.5,1", "--by", "-3cm,0", "--reach", "30cm"});
  r.of("redraw", {"redraw", "wall", "--points", "-"}, "1 0.7\n1.05 0.9\n1 1.1\n");
  r.of("node", {"node", "wall", "--at", "2.5,0.6", "--add"});
  r.of("node", {"node", "wall", "--at", "2.5,0.6", "--to", "2.55,0.6"});
  r.of("node", {"node", "wall", "--at", "2.55,0.6", "--remove"});
  r.of("divide", {"divide", "wall", "2", "--points", "-"}, "1.4 0.6\n2.6 0.6\n");
  r.of("join", {"join", "wall", "1", "3", "--also", "4"});
  r.of("zone", {"zone", "wall", "--kind", "detail", "--rate", "0.1", "--name", "face", "--points", "-"}, kLeft);
  r.of("zone", {"zone", "wall", "--change", "1", "--name", "head"});
  r.of("job", {"order", "--before", "1,2"});
  r.of("job", {"days", "--off", "2027-06-01..2027-06-03"});
  r.of("job", {"ground", "wall", "--laid", "2027-03-01"});
  r.of("job", {"weather", "--date", "2027-05-03", "--temperature", "18", "--humidity", "60"});
  r.of("job", {"putty", "tub", "--slaked", "2025-09-01"});
  r.of("job", {"palette", "1", "--pigments", "PR 102"});
  r.of("job", {"secco", "1", "--what", "sky", "--binder", "egg", "--area", "0.1", "--hours", "2"});
  r.of("diary", {"diary", "5", "--date", "2027-05-03", "--hours", "5"});
  r.of("diary --redo", {"diary", "5", "--redo", "--date", "2027-05-04"});
  for (const char* id : {"2", "5"}) r.of("remove", {"remove", id});
  r.of("set", {"set", "giornata.1.note", "from the left"});
  r.of("set", {"set", "giornata.1.state"});
  r.of("set, all", {"set"});
  r.of("seams --out", {"seams", "wall", "--out", r.folder.file("s.svg")});
  r.of("remove", {"remove", "1"});
  const auto again = r.of("seams --in", {"seams", "wall", "--in", r.folder.file("s.svg")});
  CHECK(again.at("giornate").size() == 1);
  CHECK(again.at("left_out").size() == 1);  // the zone, which is there
  r.of("remove", {"remove", "--zone", "1"});
  const auto id = again.at("giornate").at(0).at("id").get<int>();
  r.of("remove", {"remove", std::to_string(id)});
  CHECK(r.of("seams --in", {"seams", "wall", "--in", r.folder.file("s.svg")}).at("zones").size() == 1);
  write_bytes(r.folder.file("line.svg"),
              R"(<svg width="4m" height="3000mm" viewBox="0 0 4 3"><path d="M0 2H4"/></svg>)");
  CHECK(r.of("seams --in", {"seams", "wall", "--in", r.folder.file("line.svg")}).at("divided").size() > 0);
  r.of("set", {"set", "rate", "0.02"});
  const auto found = r.of("review", {"review"}).at("findings");
  REQUIRE(found.size() > 0);
  const auto code = found.at(0).at("finding").get<std::string>();
  r.of("job", {"accept", code, "--reason", "hidden by the altar"});
  CHECK(r.of("review", {"review"}).at("findings").at(0).at("accepted") == "hidden by the altar");
  CHECK(r.of("accept", {"accept"}).at("accepted").at(0).at("holds") == true);
  r.of("set", {"set", "rate", "0.03"});
  CHECK(r.of("review", {"review"}).at("outdated").size() == 1);
  CHECK(r.of("accept", {"accept"}).at("accepted").at(0).at("holds") == false);
  r.of("job", {"accept", code, "--open"});
  CHECK(r.of("review", {"review", "--sheet", r.folder.file("r.pdf")}).at("sheet") == r.folder.file("r.pdf"));
  r.of("set", {"set", "eye.door", "2,-4,1.6"});
  const auto seen =
      r.of("review --from", {"review", "--from", "door", "--worst", "2", "--sheet", r.folder.file("s.pdf")});
  CHECK(seen.at("from_floor").at("worst").size() > 0);
  r.of("set", {"set", "rate", "0.3"});
  const auto laid = r.of("propose", {"propose", "wall", "--alternatives", "2"});
  CHECK(laid.at("over_hours") == 0);
  CHECK(laid.at("ids").size() == laid.at("giornate"));
  CHECK(r.of("compare", {"compare"}).at("layouts").at(0).at("giornate") == laid.at("giornate"));
  for (const char* part :
       {"layout", "id", "number", "label", "area_m2", "share", "place", "line", "follows", "dropped", "zone_kind",
        "moved", "finding_code", "place3", "finding", "seen_stretch", "sheet", "outdated"})
    r.seen.insert(part);  // parts of others
  for (const auto& part : r.schema().at("$defs").items()) CHECK(r.seen.contains(part.key()));
}

TEST_CASE("the check of replies tells a wrong one") {
  Replies r;
  auto reply = r.of("outline", {"outline", "wall", "--points", "-"}, kLeft);
  reply["line"][0].push_back(1);
  reply["label"] = "a14";
  reply.erase("parts");
  CHECK(fixtures::SchemaCheck(r.schema()).faults(reply, "/$defs/outline").size() == 3);
}
