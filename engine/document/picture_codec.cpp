#include "engine/document/picture_codec.h"

#include <array>
#include <filesystem>

#include "engine/document/picture_parts.h"

namespace pontata {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::array<const char*, 4> kFitWords{"automatic", "similarity", "homography", "camera"};

Json numbers(const Vec3& v) { return Json::array({v.x, v.y, v.z}); }
Json numbers(const Vec2& v) { return Json::array({v.x, v.y}); }
Json list(const std::vector<Vec2>& places) {
  Json json = Json::array();
  for (const Vec2& p : places) json.push_back(numbers(p));
  return json;
}

Json lay_json(const PictureFrame& lay) {
  return {{"kind", "unrolled"},
          {"at", {lay.at.u, lay.at.v}},
          {"width", lay.width},
          {"height", lay.height},
          {"turn_deg", lay.turn_deg}};
}
Json lay_json(const PlaneLay& lay) {
  return {{"kind", "plane"},    {"corner", numbers(lay.corner)}, {"right", numbers(lay.right)}, {"up", numbers(lay.up)},
          {"width", lay.width}, {"height", lay.height}};
}
Json lay_json(const HomographyLay& lay) {
  Json rows = Json::array();
  for (int r = 0; r < 3; ++r)
    for (int c = 0; c < 3; ++c) rows.push_back(lay.pixel_from_chart[c][r]);
  return {{"kind", "homography"}, {"pixel_from_chart", std::move(rows)}};
}
Json lay_json(const CameraLay& lay) {
  const Camera& c = lay.camera;
  return {{"kind", "camera"},
          {"eye", numbers(c.eye)},
          {"right", numbers(c.right)},
          {"down", numbers(c.down)},
          {"ahead", numbers(c.ahead)},
          {"focal_px", c.focal_px},
          {"middle_px", numbers(c.middle_px)},
          {"k1", c.k1},
          {"k2", c.k2}};
}

Json plate_json(const ThinPlate& plate) {
  return {{"scale_px", plate.scale_px},          {"centres", list(plate.centres)}, {"weights", list(plate.weights)},
          {"constant", numbers(plate.constant)}, {"per_x", numbers(plate.per_x)},  {"per_y", numbers(plate.per_y)}};
}

Json points_json(const std::vector<ControlPoint>& points) {
  Json json = Json::array();
  for (const auto& p : points) json.push_back({p.pixel.x, p.pixel.y, p.place.u, p.place.v});
  return json;
}

Vec2 read_pair(const JsonReader& json, double limit) {
  const auto items = json.items();
  if (items.size() != 2) json.fault("must be two numbers");
  return {items[0].number(-limit, limit), items[1].number(-limit, limit)};
}

std::vector<Vec2> read_pairs(const JsonReader& json, std::size_t most, double limit) {
  const auto items = json.items();
  if (items.size() > most) json.fault("is too long");
  std::vector<Vec2> pairs;
  for (const auto& item : items) pairs.push_back(read_pair(item, limit));
  return pairs;
}

PictureFrame read_frame(const JsonReader& json) {
  PictureFrame frame;
  frame.at = json.at("at").chart_place();
  frame.width = json.at("width").number(kLeastSide, kFarthestChart);
  frame.height = json.at("height").number(kLeastSide, kFarthestChart);
  frame.turn_deg = json.at("turn_deg").number(-kMostTurn, kMostTurn);
  return frame;
}

PlaneLay read_plane(const JsonReader& json) {
  json.only({"kind", "corner", "right", "up", "width", "height"});
  PlaneLay lay;
  lay.corner = json.at("corner").place3();
  lay.right = json.at("right").place3();
  lay.up = json.at("up").place3();
  lay.width = json.at("width").number(kLeastSide, kFarthestChart);
  lay.height = json.at("height").number(kLeastSide, kFarthestChart);
  return lay;
}

HomographyLay read_homography(const JsonReader& json) {
  json.only({"kind", "pixel_from_chart"});
  const auto rows = json.at("pixel_from_chart").items();
  if (rows.size() != 9) json.at("pixel_from_chart").fault("must be nine numbers");
  HomographyLay lay;
  for (std::size_t k = 0; k < 9; ++k)
    lay.pixel_from_chart[static_cast<int>(k % 3)][static_cast<int>(k / 3)] =
        rows[k].number(-kGreatestNumber, kGreatestNumber);
  return lay;
}

CameraLay read_camera(const JsonReader& json) {
  json.only({"kind", "eye", "right", "down", "ahead", "focal_px", "middle_px", "k1", "k2"});
  CameraLay lay;
  Camera& c = lay.camera;
  c.eye = json.at("eye").place3();
  c.right = json.at("right").place3();
  c.down = json.at("down").place3();
  c.ahead = json.at("ahead").place3();
  c.focal_px = json.at("focal_px").number(kLeastSide, kGreatestNumber);
  c.middle_px = read_pair(json.at("middle_px"), kGreatestNumber);
  c.k1 = json.at("k1").number(-kGreatestNumber, kGreatestNumber);
  c.k2 = json.at("k2").number(-kGreatestNumber, kGreatestNumber);
  return lay;
}

Lay read_lay(const JsonReader& json) {
  const std::string kind = json.at("kind").text();
  if (kind == "plane") return read_plane(json);
  if (kind == "homography") return read_homography(json);
  if (kind == "camera") return read_camera(json);
  if (kind != "unrolled") json.at("kind").fault("is no way of laying a picture that this version knows");
  json.only({"kind", "at", "width", "height", "turn_deg"});
  return read_frame(json);
}

ThinPlate read_plate(const JsonReader& json) {
  json.only({"scale_px", "centres", "weights", "constant", "per_x", "per_y"});
  ThinPlate plate;
  plate.scale_px = json.at("scale_px").number(kLeastSide, kGreatestNumber);
  plate.centres = read_pairs(json.at("centres"), kMostControlPoints, kGreatestNumber);
  plate.weights = read_pairs(json.at("weights"), kMostControlPoints, kGreatestNumber);
  if (plate.centres.empty() || plate.centres.size() != plate.weights.size())
    json.fault("must have as many weights as centres");
  plate.constant = read_pair(json.at("constant"), kGreatestNumber);
  plate.per_x = read_pair(json.at("per_x"), kGreatestNumber);
  plate.per_y = read_pair(json.at("per_y"), kGreatestNumber);
  return plate;
}

std::vector<ControlPoint> read_control_points(const JsonReader& json) {
  const auto items = json.items();
  if (items.empty() || items.size() > kMostControlPoints) json.fault("must be 1 to 10000 points");
  std::vector<ControlPoint> points;
  for (const auto& item : items) {
    const auto n = item.items();
    if (n.size() != 4) item.fault("must be four numbers");
    points.push_back({{n[0].number(-kFarthestPixel, kFarthestPixel), n[1].number(-kFarthestPixel, kFarthestPixel)},
                      {n[2].number(-kFarthestChart, kFarthestChart), n[3].number(-kFarthestChart, kFarthestChart)}});
  }
  return points;
}

FitOptions read_fit(const JsonReader& json) {
  json.only({"kind", "thin_plate", "pose", "focal_px"});
  FitOptions fit;
  const std::string kind = json.at("kind").text();
  std::size_t k = 0;
  while (k < kFitWords.size() && kind != kFitWords[k]) ++k;
  if (k == kFitWords.size()) json.at("kind").fault("is no kind of fit that this version knows");
  fit.kind = static_cast<FitKind>(k);
  fit.thin_plate = json.at("thin_plate").truth();
  fit.pose = static_cast<int>(json.at("pose").whole(0, kMostPoses - 1));
  if (const auto focal = json.find("focal_px")) fit.focal_px = focal->number(kLeastSide, kGreatestNumber);
  return fit;
}

PixelBox read_crop(const JsonReader& json) {
  const auto n = json.items();
  if (n.size() != 4) json.fault("must be four numbers");
  const auto pixel = [](const JsonReader& one) { return one.number(0, kFarthestPixel); };
  return {pixel(n[0]), pixel(n[1]), pixel(n[2]), pixel(n[3])};
}

PictureSize read_pixels(const JsonReader& json) {
  const auto pixels = json.items();
  if (pixels.size() != 2) json.fault("must be two whole numbers");
  return {static_cast<int>(pixels[0].whole(1, 1000000)), static_cast<int>(pixels[1].whole(1, 1000000))};
}

void must_be(const Outcome& good, const JsonReader& json) {
  if (!good) json.fault("is wrong: " + good.problem().message());
}

void read_shown_part(const JsonReader& json, PlacedPicture& picture) {
  if (const auto crop = json.find("crop")) {
    picture.crop = read_crop(*crop);
    must_be(check_crop(picture.size, *picture.crop), *crop);
  }
  if (const auto mask = json.find("mask")) {
    picture.mask = read_pairs(*mask, kMostMaskPoints, kFarthestPixel);
    must_be(check_mask(picture.size, picture.mask), *mask);
  }
  if (const auto fade = json.find("fade")) picture.fade = fade->number(0, 1);
}

void read_file_record(const JsonReader& json, const std::string& folder, PlacedPicture& picture) {
  picture.name = json.at("name").text();
  picture.path = source_path(json, folder);
  picture.sha256 = hash_text(json);
  picture.size = read_pixels(json.at("pixels"));
}

}  // namespace

Json picture_json(const PlacedPicture& picture, const std::string& folder) {
  Json json = {{"id", picture.id.value},
               {"name", picture.name},
               {"path", std::filesystem::path(picture.path).lexically_relative(folder).string()},
               {"sha256", picture.sha256},
               {"pixels", {picture.size.width, picture.size.height}},
               {"lay", std::visit([](const auto& lay) { return lay_json(lay); }, picture.lay)}};
  if (!picture.plate.centres.empty()) json["thin_plate"] = plate_json(picture.plate);
  if (const auto& c = picture.crop) json["crop"] = {c->left, c->top, c->right, c->bottom};
  if (!picture.mask.empty()) json["mask"] = list(picture.mask);
  if (picture.fade != 0) json["fade"] = picture.fade;
  if (picture.points.empty()) return json;
  json["points"] = points_json(picture.points);
  json["fit"] = {{"kind", kFitWords[static_cast<std::size_t>(picture.fit.kind)]},
                 {"thin_plate", picture.fit.thin_plate},
                 {"pose", picture.fit.pose}};
  if (picture.fit.focal_px) json["fit"]["focal_px"] = *picture.fit.focal_px;
  return json;
}

PlacedPicture read_picture_record(const JsonReader& json, const std::string& folder) {
  json.only({"id", "name", "path", "sha256", "pixels", "lay", "thin_plate", "crop", "mask", "fade", "points", "fit"});
  PlacedPicture picture;
  picture.id = PictureId{json.at("id").id()};
  read_file_record(json, folder, picture);
  picture.lay = read_lay(json.at("lay"));
  if (const auto plate = json.find("thin_plate")) picture.plate = read_plate(*plate);
  must_be(check_lay(picture), json.at("lay"));
  read_shown_part(json, picture);
  const auto points = json.find("points"), fit = json.find("fit");
  if (points.has_value() != fit.has_value()) json.fault("must have points and fit together");
  if (points) picture.points = read_control_points(*points);
  if (fit) picture.fit = read_fit(*fit);
  return picture;
}

PlacedPicture read_only_picture_record(const JsonReader& json, const std::string& folder) {
  json.only({"path", "sha256", "name", "pixels", "at", "width", "height", "turn_deg"});
  PlacedPicture picture;
  read_file_record(json, folder, picture);
  if (picture.name.find_first_not_of(' ') == std::string::npos) picture.name = "picture";
  picture.lay = read_frame(json);
  return picture;
}

}  // namespace pontata
