#include "engine/document/project_file.h"

#include "engine/document/cartoon_input.h"
#include "engine/document/glb_export.h"
#include "engine/document/json_text.h"
#include "tests/document/folders.h"
#include "tests/document/full_job.h"
#include "tests/document/hostile_values.h"

using namespace pontata;
using Json = nlohmann::ordered_json;

namespace {

Image chequers(int width, int height) {
  Image image;
  image.width = width;
  image.height = height;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) image.rgb.insert(image.rgb.end(), 3, (x / 8 + y / 8) % 2 ? 200 : 30);
  return image;
}

DocumentRef project_with_picture(const TemporaryFolder& folder) {
  const auto doc = small_project();
  REQUIRE(write_png(chequers(80, 60), folder.file("picture.png")).ok());
  return done(drape_picture(*doc, doc->walls[0]->id, folder.file("picture.png"), {0.5, 0.25}, 2, 10, "Sky"));
}

}  // namespace

TEST_CASE("saved, loaded and saved again the bytes are the same") {
  const TemporaryFolder folder;
  const auto doc = project_with_picture(folder);
  REQUIRE(save_project(*doc, folder.file("a.pontata")).ok());
  const auto loaded = open_project(folder.file("a.pontata"));
  INFO((loaded ? std::string() : loaded.problem().message()));
  REQUIRE(loaded.ok());
  CHECK(loaded->notes.empty());
  REQUIRE(save_project(*loaded->document, folder.file("b.pontata")).ok());
  CHECK(bytes_of(folder.file("a.pontata")) == bytes_of(folder.file("b.pontata")));
  CHECK(folder.entries() == 3);
}

TEST_CASE("what was loaded holds what was saved") {
  const TemporaryFolder folder;
  const auto doc = project_with_picture(folder);
  REQUIRE(save_project(*doc, folder.file("a.pontata")).ok());
  const auto loaded = *load_project(folder.file("a.pontata"));
  const WallItem &was = *doc->walls[0], &is = *loaded->walls[0];
  CHECK(is.name == was.name);
  CHECK(is.shape->width == 4);
  CHECK(is.placement.turn_deg == 30);
  CHECK(is.pictures.at(0)->lay == was.pictures.at(0)->lay);
  CHECK(std::get<PictureFrame>(is.pictures[0]->lay).turn_deg == 10);
  CHECK(is.pictures[0]->name == "Sky");
  CHECK(is.pictures[0]->pixels->tile(0, 0, 0)->rgba == was.pictures[0]->pixels->tile(0, 0, 0)->rgba);
  CHECK(is.zones.at(0).ring == was.zones.at(0).ring);
  CHECK(is.zones.at(0).rate_m2_per_h == 0.06);
  CHECK(is.network.wall_area() == was.network.wall_area());
  CHECK(loaded->giornata(GiornataId{1})->name == "Angel");
  CHECK(loaded->settings.calendar.rate_m2_per_h == 0.35);
}

TEST_CASE("paths are told from the project's folder") {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder.file("pictures"));
  const auto doc = small_project();
  REQUIRE(write_png(chequers(16, 12), folder.file("pictures/a.png")).ok());
  const auto draped = done(drape_picture(*doc, doc->walls[0]->id, folder.file("pictures/a.png"), {}, 0, 0, ""));
  CHECK(project_text(*draped, folder.path())->find("\"path\": \"pictures/a.png\"") != std::string::npos);
  CHECK(project_text(*draped, folder.file("projects"))->find("\"path\": \"../pictures/a.png\"") != std::string::npos);
}

TEST_CASE("no hostile value crashes the reader or slips past it in silence") {
  Json json = Json::parse(*project_text(*small_project(), "/"));
  std::size_t refused = 0, taken = 0;
  with_each_value_replaced(json, Json::json_pointer(), [&](const std::string& what) {
    const auto loaded = project_from_text(json_text(json), "p.pontata", "/");
    INFO(what);
    if (loaded) {
      // What was taken must be sound enough to be saved and read again.
      ++taken;
      CHECK(project_from_text(*project_text(*loaded->document, "/"), "p.pontata", "/").ok());
    } else {
      ++refused;
      CHECK(loaded.problem().message().find("p.pontata") == 0);
    }
  });
  CHECK(refused > 6 * taken);
}

TEST_CASE("what was written down on the job is saved and read, hostile values refused") {
  const TemporaryFolder folder;
  REQUIRE(write_png(chequers(16, 12), folder.file("evening.png")).ok());
  const auto doc = full_job(folder.file("evening.png"));
  const std::string text = *project_text(*doc, folder.path());
  CHECK(text.find("\"path\": \"evening.png\"") != std::string::npos);
  const auto loaded = project_from_text(text, "p", folder.path());
  INFO((loaded ? std::string() : loaded.problem().message()));
  REQUIRE(loaded.ok());
  CHECK(*project_text(*loaded->document, folder.path()) == text);
  const Job &was = doc->job(), &is = loaded->document->job();
  REQUIRE(is.diary.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) CHECK(*is.diary[i] == *was.diary[i]);
  CHECK(is.weather == was.weather);
  CHECK(is.pairs == was.pairs);
  CHECK(is.days_off == was.days_off);
  CHECK(is.ground == was.ground);
  CHECK(is.giornate == was.giornate);
  CHECK(is.secco == was.secco);
  CHECK(is.accepted == was.accepted);
  CHECK(is.accepted.size() == 1);
  CHECK(is.putty.at(0).slaked == was.putty.at(0).slaked);
  CHECK(is.next_secco == 2);
  Json json = Json::parse(text);
  std::size_t refused = 0, taken = 0;
  with_each_value_replaced(json, Json::json_pointer("/job"), [&](const std::string& what) {
    const auto read = project_from_text(json_text(json), "p.pontata", folder.path());
    INFO(what);
    ++(read ? taken : refused);
    if (read) CHECK(project_from_text(*project_text(*read->document, "/"), "p.pontata", "/").ok());
  });
  CHECK(refused > 3 * taken);
}

TEST_CASE("a job that does not agree with walls and giornate is refused") {
  const Json json = Json::parse(*project_text(*full_job(), "/"));
  const auto refused = [&](const char* where, const Json& value) {
    Json changed = json;
    changed.at(Json::json_pointer(where)) = value;
    return !project_from_text(json_text(changed), "p", "/").ok();
  };
  CHECK_FALSE(refused("/job/diary/0/hours", 7));
  CHECK(refused("/job/diary/0/giornata", 9));
  CHECK(refused("/job/diary/1/id", 1));
  CHECK(refused("/job/diary/2/corrects", 3));
  CHECK(refused("/job/diary/3/attempt", 0));
  CHECK(refused("/job/diary/0/date", "1800-01-01"));
  CHECK(refused("/job/pairs/0/second", 9));
  CHECK(refused("/job/pairs/0/second", 1));
  CHECK(refused("/job/weather/1/date", "2027-05-03"));
  CHECK(refused("/job/ground/0/wall", 2));
  CHECK(refused("/job/ground/1/pontata", 0));
  CHECK(refused("/job/giornate/0/id", 2));
  CHECK(refused("/job/secco/0/giornata", 8));
  CHECK(refused("/job/next_secco", 1));
  CHECK(refused("/job/days_off/0/to", "2027-05-01"));
  CHECK(refused("/job/accepted/0/wall", 2));
  CHECK(refused("/job/accepted/0/giornate", Json::array({9})));
  CHECK(refused("/job/accepted/0/reason", " "));
  CHECK(refused("/job/accepted/0/rule", ""));
  CHECK(refused("/job/accepted/0/cause", ""));
  Json twice = json;
  twice["job"]["accepted"].push_back(twice["job"]["accepted"][0]);
  CHECK_FALSE(project_from_text(json_text(twice), "p", "/").ok());
}

TEST_CASE("a file of format 3 is read with nothing written down on the job") {
  Json json = Json::parse(*project_text(*small_project(), "/"));
  json["version"] = 3;
  const auto loaded = project_from_text(json_text(json), "p", "/");
  REQUIRE(loaded.ok());
  CHECK_FALSE(loaded->document->written);
  json["job"] = Json::object();
  CHECK_FALSE(project_from_text(json_text(json), "p", "/").ok());
}

TEST_CASE("a file cut anywhere is refused") {
  const std::string text = *project_text(*small_project(), "/");
  for (std::size_t length = 0; length < text.size() - 2; length += 61)
    CHECK_FALSE(project_from_text(text.substr(0, length), "p", "/").ok());
}

TEST_CASE("records and patches that disagree are refused") {
  const Json json = Json::parse(*project_text(*small_project(), "/"));
  Json missing = json;
  missing["giornate"].erase(1);
  CHECK_FALSE(project_from_text(json_text(missing), "p", "/").ok());
  Json dead = json;
  dead["giornate"][0]["alive"] = false;
  CHECK_FALSE(project_from_text(json_text(dead), "p", "/").ok());
  Json twice = json;
  twice["giornate"][1]["number"] = 1;
  CHECK_FALSE(project_from_text(json_text(twice), "p", "/").ok());
  Json other_size = json;
  other_size["walls"][0]["shape"]["width"] = 4.1;
  CHECK_FALSE(project_from_text(json_text(other_size), "p", "/").ok());
}

TEST_CASE("records of printed giornate are read only where they make sense") {
  const Json json = Json::parse(*project_text(*small_project(), "/"));
  const auto loads = [](const Json& changed) { return project_from_text(json_text(changed), "p", "/").ok(); };
  Json frozen = json;
  frozen["numbers_frozen"] = true;
  Json same_number = frozen;
  same_number["giornate"][1]["number"] = 1;
  CHECK_FALSE(loads(same_number));
  same_number["giornate"][0]["part"] = "a", same_number["giornate"][1]["part"] = "b";
  CHECK(loads(same_number));
  same_number["giornate"][1]["part"] = "a";
  CHECK_FALSE(loads(same_number));
  for (const char* part : {"A", "abc", "\u00e9", "1", " ", "a\n"}) {
    Json wrong = frozen;
    wrong["giornate"][0]["part"] = part;
    CHECK_FALSE(loads(wrong));
  }
  for (const std::string& note : {std::string(1001, 'x'), std::string("a\tb"), std::string("\x7f")}) {
    Json wrong = json;
    wrong["giornate"][0]["note"] = note;
    CHECK_FALSE(loads(wrong));
  }
  Json printed = json;
  printed["giornate"][0]["printed"] = true;
  CHECK_FALSE(loads(printed));
  printed["numbers_frozen"] = true;
  CHECK(loads(printed));
  Json changed = frozen;
  changed["giornate"][0]["changed"] = true;
  CHECK_FALSE(loads(changed));
}

TEST_CASE("a file of format 2 is read, and saved again in this format") {
  const std::string text = *project_text(*small_project(), "/");
  Json json = Json::parse(text);
  json["version"] = 2;
  json.erase("numbers_frozen");
  for (auto& g : json["giornate"])
    for (const char* key : {"part", "note", "printed", "changed"}) g.erase(key);
  const auto loaded = project_from_text(json_text(json), "p", "/");
  REQUIRE(loaded.ok());
  // Whether a cartoon was printed of it is not told: its numbers stay.
  Json now = Json::parse(text);
  now["numbers_frozen"] = true;
  CHECK(Json::parse(*project_text(*loaded->document, "/")) == now);
  json["giornate"][0]["note"] = "";
  CHECK_FALSE(project_from_text(json_text(json), "p", "/").ok());
}

TEST_CASE("a missing picture is noted and its record kept; what needs it says so, the rest goes on") {
  const TemporaryFolder folder;
  REQUIRE(save_project(*project_with_picture(folder), folder.file("a.pontata")).ok());
  std::filesystem::rename(folder.file("picture.png"), folder.file("elsewhere.png"));
  const auto loaded = open_project(folder.file("a.pontata"));
  REQUIRE(loaded.ok());
  REQUIRE(loaded->notes.size() == 1);
  CHECK(loaded->notes[0].find("picture.png") != std::string::npos);
  const Document& doc = *loaded->document;
  const WallId wall = doc.walls[0]->id;
  CHECK(doc.walls[0]->pictures.size() == 1);
  CHECK_FALSE(doc.walls[0]->pictures.at(0)->pixels);
  CHECK(draw_outline(doc, wall, box(3, 2, 0.5, 0.5), false, "").ok());
  CHECK(remove_giornata(doc, GiornataId{1}).ok());
  for (const auto& problem : {draw_outline(doc, wall, box(3, 2, 0.5, 0.5), true, "").problem(),
                              hug_line(doc, wall, box(3, 2, 0.5, 0.5), true).problem()})
    CHECK(problem.message().find("picture.png") != std::string::npos);
  Flow flow;
  CHECK(flow.giornate(doc)->size() == 2);
  CHECK(flow.findings(doc, wall) != nullptr);
  CHECK_FALSE(cartoon_input(doc, flow, "a", {}).ok());
  CHECK_FALSE(glb_text(doc).ok());
  // Saved and opened again with the picture back, nothing is lost.
  REQUIRE(save_project(doc, folder.file("b.pontata")).ok());
  CHECK(*read_file(folder.file("a.pontata")) == *read_file(folder.file("b.pontata")));
  std::filesystem::rename(folder.file("elsewhere.png"), folder.file("picture.png"));
  CHECK(load_project(folder.file("b.pontata")).value()->walls[0]->pictures.at(0)->pixels != nullptr);
  CHECK(open_project(folder.file("a.pontata"), {.without_pictures = true})->notes.empty());
}

TEST_CASE("a picture painted over is noted, one of other proportions refused") {
  const TemporaryFolder folder;
  REQUIRE(save_project(*project_with_picture(folder), folder.file("a.pontata")).ok());
  REQUIRE(write_png(chequers(160, 120), folder.file("picture.png")).ok());
  const auto loaded = open_project(folder.file("a.pontata"));
  REQUIRE(loaded.ok());
  REQUIRE(loaded->notes.size() == 1);
  CHECK(loaded->notes[0].find("picture.png") != std::string::npos);
  REQUIRE(write_png(chequers(60, 80), folder.file("picture.png")).ok());
  CHECK_FALSE(open_project(folder.file("a.pontata")).ok());
}

TEST_CASE("a project whose picture is an endless device is opened without it, not read for ever") {
  const TemporaryFolder folder;
  Json json = Json::parse(*project_text(*project_with_picture(folder), folder.path()));
  json["walls"][0]["pictures"][0]["path"] = "/dev/zero";
  const auto loaded = project_from_text(json_text(json), "p", folder.path());
  REQUIRE(loaded.ok());
  CHECK(loaded->notes.size() == 1);
  CHECK_FALSE(loaded->document->walls[0]->pictures.at(0)->pixels);
}
