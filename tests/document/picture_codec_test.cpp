#include "engine/document/picture_codec.h"

#include "engine/document/json_text.h"
#include "engine/document/picture_parts.h"
#include "engine/document/project_file.h"
#include "tests/document/folders.h"
#include "tests/document/hostile_values.h"
#include "tests/document/small_project.h"

using namespace pontata;
using Json = nlohmann::ordered_json;

namespace {

PlacedPicture record(std::uint32_t id, Lay lay) {
  PlacedPicture picture;
  picture.id = PictureId{id};
  picture.name = "picture " + std::to_string(id);
  picture.path = "/nowhere/" + std::to_string(id) + ".png";
  picture.sha256 = std::string(64, 'a');
  picture.size = {400, 300};
  picture.lay = std::move(lay);
  return picture;
}

// One picture of every lay, with everything a picture may have.
std::vector<PlacedPicture> every_record() {
  Camera camera = *eye_camera({2.1, -4, 1.7}, {2, 0, 1.5}, {0, 0, 1}, 50, {400, 300});
  camera.k1 = -0.0625;
  camera.k2 = 1.0 / 3;
  HomographyLay flat;
  flat.pixel_from_chart = Mat3(100, 2, 0.01, -3, -90, 0.02, 5, 280, 1);
  std::vector<PlacedPicture> out{record(1, PictureFrame{{0.1, 0.2}, 2, 1.5, 20}), record(2, flat),
                                 record(3, CameraLay{camera}),
                                 record(4, PlaneLay{{0.5, -1, 0}, {0.6, 0.8, 0}, {0, 0, 1}, 2, 1.5})};
  out[0].crop = PixelBox{1.5, 2, 300, 200.25};
  out[0].mask = {{0, 0}, {400, 0}, {200.125, 300}};
  out[0].fade = 0.3;
  for (std::size_t k = 1; k < 3; ++k) {
    out[k].points = {{{1, 2}, {0.1, 2.9}}, {{390, 5.5}, {3.9, 2.8}}, {{10, 290}, {0.2, 0.1}}, {{350, 280}, {3.7, 0.3}}};
    out[k].fit.kind = k == 1 ? FitKind::homography : FitKind::camera;
  }
  out[2].fit.pose = 1;
  out[2].fit.focal_px = 512.5;
  out[1].fit.thin_plate = true;
  out[1].plate.scale_px = 100;
  out[1].plate.centres = {{10, 20}, {300, 50}, {200, 250}};
  out[1].plate.weights = {{1, -2}, {3, 0.1}, {-1, 2}};
  out[1].plate.constant = {2, 1};
  out[1].plate.per_x = {0.5, -0.25};
  return out;
}

std::shared_ptr<Document> project_with(const std::vector<PlacedPicture>& records) {
  const auto doc = small_project();
  auto item = std::make_shared<WallItem>(*doc->walls[0]);
  for (const auto& one : records) item->pictures.push_back(std::make_shared<const PlacedPicture>(one));
  auto next = std::make_shared<Document>(*doc);
  next->walls[0] = item;
  next->next_picture = 9;
  return next;
}

void check_same(const PlacedPicture& is, const PlacedPicture& was) {
  CHECK(is.id == was.id);
  CHECK(is.name == was.name);
  CHECK(is.path == was.path);
  CHECK(is.sha256 == was.sha256);
  CHECK(is.size == was.size);
  CHECK(is.lay == was.lay);
  CHECK(is.plate == was.plate);
  CHECK(is.crop == was.crop);
  CHECK(is.mask == was.mask);
  CHECK(is.fade == was.fade);
  CHECK(is.points == was.points);
  CHECK(is.fit == was.fit);
}

// As a program of format 1 wrote the flat wall 4 by 3 m with one picture.
std::string text_of_format_1(const std::string& hash, const PictureFrame& lay) {
  Json json = Json::parse(*project_text(*flat_wall(), "/"));
  json["version"] = 1;
  json.erase("next_picture");
  json.erase("numbers_frozen");
  for (const char* key : {"contours.scale", "contours.strength", "squaring.step"}) json["settings"].erase(key);
  json["walls"][0]["picture"] = {
      {"path", "sky.png"},          {"sha256", hash},     {"name", "Sky"},        {"pixels", {40, 30}},
      {"at", {lay.at.u, lay.at.v}}, {"width", lay.width}, {"height", lay.height}, {"turn_deg", lay.turn_deg}};
  return json_text(json);
}

}  // namespace

TEST_CASE("every field of a picture comes back from the project file, to the bit, and saves to the same bytes") {
  const auto records = every_record();
  const auto doc = project_with(records);
  const std::string text = *project_text(*doc, "/");
  const auto loaded = project_from_text(text, "p", "/");
  INFO((loaded ? "" : loaded.problem().message()));
  REQUIRE(loaded.ok());
  CHECK(loaded->notes.size() == records.size());  // none of the files is there; the records are kept
  REQUIRE(loaded->document->walls[0]->pictures.size() == records.size());
  for (std::size_t k = 0; k < records.size(); ++k) {
    INFO(k);
    check_same(*loaded->document->walls[0]->pictures[k], records[k]);
  }
  CHECK(loaded->document->next_picture == 9);
  CHECK(*project_text(*loaded->document, "/") == text);
}

TEST_CASE("no hostile value in a picture's record crashes the reader or slips past it in silence") {
  Json json = Json::parse(*project_text(*project_with(every_record()), "/"));
  std::size_t refused = 0, taken = 0;
  LoadOptions options;
  options.without_pictures = true;
  for (std::size_t k = 0; k < json["walls"][0]["pictures"].size(); ++k)
    with_each_value_replaced(json, Json::json_pointer("/walls/0/pictures/" + std::to_string(k)),
                             [&](const std::string& what) {
                               const auto loaded = project_from_text(json_text(json), "p", "/", options);
                               INFO(what);
                               if (!loaded) return static_cast<void>(++refused);
                               ++taken;
                               CHECK(project_from_text(*project_text(*loaded->document, "/"), "p", "/", options).ok());
                               for (const auto& picture : loaded->document->walls[0]->pictures)
                                 CHECK(check_lay(*picture).ok());
                             });
  CHECK(refused > 4 * taken);
}

TEST_CASE("records that contradict themselves are refused") {
  const Json json = Json::parse(*project_text(*project_with(every_record()), "/"));
  const auto refused = [&](const std::function<void(Json & pictures)>& spoil, const std::string& place) {
    Json spoilt = json;
    spoil(spoilt["walls"][0]["pictures"]);
    const auto loaded = project_from_text(json_text(spoilt), "p", "/");
    REQUIRE_FALSE(loaded.ok());
    INFO(loaded.problem().message());
    CHECK(loaded.problem().message().find(place) != std::string::npos);
  };
  refused([](Json& p) { p[1]["id"] = 1; }, "pictures[1].id");
  refused([](Json& p) { p[1]["id"] = 9; }, "pictures[1].id");
  refused([](Json& p) { p[1]["name"] = p[0]["name"]; }, "name");
  refused([](Json& p) { p[0]["name"] = "  "; }, "name");
  refused([](Json& p) { p[0]["crop"] = {10, 10, 5, 20}; }, "pictures[0].crop");
  refused([](Json& p) { p[0]["crop"] = {0, 0, 401, 20}; }, "pictures[0].crop");
  refused([](Json& p) { p[0]["mask"] = {{0, 0}, {9, 9}, {9, 0}, {0, 9}}; }, "pictures[0].mask");
  refused([](Json& p) { p[0]["lay"]["eye"] = {0, 0, 0}; }, "pictures[0].lay");
  refused([](Json& p) { p[0]["lay"]["kind"] = "sideways"; }, "pictures[0].lay.kind");
  refused([](Json& p) { p[1].erase("fit"); }, "points and fit");
  refused([](Json& p) { p[1]["thin_plate"]["weights"].erase(0); }, "thin_plate");
  refused([](Json& p) { p[1]["lay"]["pixel_from_chart"] = {1, 2, 3, 1, 2, 3, 1, 2, 3}; }, "pictures[1].lay");
  refused([](Json& p) { p[2]["lay"]["right"] = {1, 1, 0}; }, "pictures[2].lay");
  refused([](Json& p) { p[3]["lay"]["up"] = {0.6, 0.8, 0}; }, "pictures[3].lay");
}

TEST_CASE("a project of format 1 opens with its picture where it lay, and is saved as it is written now") {
  const TemporaryFolder folder;
  Image image{40, 30, {}};
  image.rgb.assign(static_cast<std::size_t>(3 * 40 * 30), 77);
  REQUIRE(write_png(image, folder.file("sky.png")).ok());
  const auto laid = done(drape_picture(*flat_wall(), WallId{1}, folder.file("sky.png"), {0.5, 0.25}, 2, 10, "Sky"));
  const PlacedPicture& now = *laid->walls[0]->pictures[0];
  const auto& lay = std::get<PictureFrame>(now.lay);
  const auto loaded = project_from_text(text_of_format_1(now.sha256, lay), "p", folder.path());
  INFO((loaded ? "" : loaded.problem().message()));
  REQUIRE(loaded.ok());
  CHECK(loaded->notes.empty());
  const WallItem& item = *loaded->document->walls[0];
  REQUIRE(item.pictures.size() == 1);
  check_same(*item.pictures[0], now);
  CHECK(item.pictures[0]->pixels != nullptr);
  CHECK(loaded->document->next_picture == 2);
  CHECK(*project_text(*loaded->document, folder.path()) == *project_text(*laid, folder.path()));
  // What belongs to one format is not taken in the other.
  Json mixed = Json::parse(text_of_format_1(now.sha256, lay));
  mixed["version"] = 2;
  mixed["next_picture"] = 2;
  CHECK_FALSE(project_from_text(json_text(mixed), "p", folder.path()).ok());
}

TEST_CASE("a file that several pictures show is read once when the project is opened") {
  const TemporaryFolder folder;
  Image image{40, 30, {}};
  image.rgb.assign(static_cast<std::size_t>(3 * 40 * 30), 77);
  REQUIRE(write_png(image, folder.file("sky.png")).ok());
  auto doc = flat_wall();
  for (const char* name : {"a", "b"})
    doc = done(drape_picture(*doc, WallId{1}, folder.file("sky.png"), {0.5, 0.25}, 2, 10, name));
  const auto loaded = project_from_text(*project_text(*doc, folder.path()), "p", folder.path());
  REQUIRE(loaded.ok());
  const auto& pictures = loaded->document->walls[0]->pictures;
  REQUIRE(pictures[0]->pixels != nullptr);
  CHECK(pictures[0]->pixels == pictures[1]->pixels);
}

TEST_CASE("a picture whose file was made finer stays where it lay, also by its crop and its points") {
  const TemporaryFolder folder;
  auto records = every_record();
  Image image{800, 600, {}};
  image.rgb.assign(static_cast<std::size_t>(3 * 800 * 600), 77);
  REQUIRE(write_png(image, folder.file("fine.png")).ok());
  for (auto& one : records) one.path = folder.file("fine.png");
  const auto loaded = project_from_text(*project_text(*project_with(records), "/"), "p", "/");
  REQUIRE(loaded.ok());
  CHECK(loaded->notes.size() == records.size());
  const auto& pictures = loaded->document->walls[0]->pictures;
  CHECK(pictures[0]->size == PictureSize(800, 600));
  CHECK(pictures[0]->crop == PixelBox{3, 4, 600, 400.5});
  CHECK(pictures[1]->points[1].pixel == Vec2(780, 11));
  CHECK(std::get<CameraLay>(pictures[2]->lay).camera.focal_px ==
        2 * std::get<CameraLay>(records[2].lay).camera.focal_px);
}
