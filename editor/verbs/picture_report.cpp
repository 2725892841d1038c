#include "editor/verbs/picture_report.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "engine/base/units.h"

namespace pontata {

namespace {

Json numbers(const Vec2& v) { return Json::array({v.x, v.y}); }
Json numbers(const Vec3& v) { return Json::array({v.x, v.y, v.z}); }

std::string metres(double value) { return format_fixed(value, 3); }
std::string metres(const Vec3& v) { return metres(v.x) + "," + metres(v.y) + "," + metres(v.z); }

std::size_t place_in_order(const WallItem& item, const PlacedPicture& picture) {
  std::size_t place = 1;
  for (const auto& one : item.pictures) {
    if (one->id == picture.id) break;
    ++place;
  }
  return place;
}

Json camera_json(const Camera& c, PictureSize size) {
  return {{"eye", numbers(c.eye)},
          {"ahead", numbers(c.ahead)},
          {"down", numbers(c.down)},
          {"focal_px", c.focal_px},
          {"middle_px", numbers(c.middle_px)},
          {"angle_deg", 2 * std::atan(0.5 * size.width / c.focal_px) * 180 / std::numbers::pi},
          {"k1", c.k1},
          {"k2", c.k2}};
}

Json lay_json(const PictureFrame&, PictureSize) { return {{"kind", "unrolled"}}; }
Json lay_json(const PlaneLay& lay, PictureSize) {
  return {{"kind", "plane"},       {"corner", numbers(lay.corner)}, {"right", numbers(lay.right)},
          {"up", numbers(lay.up)}, {"width_m", lay.width},          {"height_m", lay.height}};
}
Json lay_json(const HomographyLay& lay, PictureSize) {
  Json rows = Json::array();
  for (int r = 0; r < 3; ++r)
    for (int c = 0; c < 3; ++c) rows.push_back(lay.pixel_from_chart[c][r]);
  return {{"kind", "homography"}, {"pixel_from_chart", std::move(rows)}};
}
Json lay_json(const CameraLay& lay, PictureSize size) {
  Json json = {{"kind", "camera"}};
  json.update(camera_json(lay.camera, size));
  return json;
}

Json error_json(const PointError& error) { return {{"px", error.px}, {"mm", error.mm}}; }
Json error_json(const std::optional<PointError>& error) { return error ? error_json(*error) : Json(); }

std::optional<int> line_of(const PictureFit& fit, std::size_t k) {
  return k < fit.lines.size() ? std::optional(fit.lines[k]) : std::nullopt;
}

// Points are numbered from 1, as they were given.
Json point_json(const PictureFit& fit, std::size_t k) {
  Json json = {{"point", k + 1}};
  if (const auto line = line_of(fit, k)) json["line"] = *line;
  return json;
}

Json residual_json(const PictureFit& fit, const PlacedPicture& picture, std::size_t k) {
  Json json = point_json(fit, k);
  const ControlPoint& point = picture.points[k];
  json["pixel"] = numbers(point.pixel);
  json["at"] = {point.place.u, point.place.v};
  json["fitted"] = error_json(fit.report.fitted[k]);
  json["left_out"] = error_json(fit.report.left_out[k]);
  return json;
}

const char* kind_word(FitKind kind) {
  switch (kind) {
    case FitKind::similarity:
      return "similarity";
    case FitKind::homography:
      return "homography";
    case FitKind::camera:
      return "camera";
    case FitKind::automatic:
      break;
  }
  return "automatic";
}

Json fit_json(const PictureFit& fit, const PlacedPicture& picture) {
  const FitReport& report = fit.report;
  Json json = {{"kind", kind_word(report.kind)}, {"thin_plate", report.thin_plate}, {"distorted", report.distorted}};
  json["likely_error"] = error_json(report.likely);
  json["worst"] = report.worst ? point_json(fit, *report.worst) : Json();
  if (report.worst) json["worst"].update(error_json(report.left_out[*report.worst]));
  json["suspect"] = report.suspect ? point_json(fit, *report.suspect) : Json();
  json["warnings"] = report.warnings;
  json["residuals"] = Json::array();
  for (std::size_t k = 0; k < picture.points.size(); ++k) json["residuals"].push_back(residual_json(fit, picture, k));
  json["cameras"] = Json::array();
  for (const Camera& camera : report.cameras) json["cameras"].push_back(camera_json(camera, picture.size));
  json["camera"] = report.cameras.empty() ? Json() : Json(report.camera + 1);
  return json;
}

std::string lay_text(const PictureFrame& lay, const PlacedPicture&) {
  return fmt::format("lower left corner at {},{}, {} × {} m of its chart", metres(lay.at.u), metres(lay.at.v),
                     metres(lay.width), metres(lay.height));
}
std::string lay_text(const PlaneLay& lay, const PlacedPicture&) {
  const bool plan = std::abs(glm::cross(lay.right, lay.up).z) > 0.5;
  return fmt::format("by {}, {} × {} m, lower left corner at {}", plan ? "plan" : "elevation", metres(lay.width),
                     metres(lay.height), metres(lay.corner));
}
std::string lay_text(const HomographyLay&, const PlacedPicture& picture) {
  return fmt::format("set by {} points on the flat wall", picture.points.size());
}
std::string lay_text(const CameraLay& lay, const PlacedPicture& picture) {
  if (picture.points.empty()) return "made to be seen from " + metres(lay.camera.eye);
  return fmt::format("set by {} points, taken from {}", picture.points.size(), metres(lay.camera.eye));
}

std::string shown_text(const PlacedPicture& picture) {
  std::string text;
  const auto part = [&](const std::string& words) { text += (text.empty() ? "  shows " : ", ") + words; };
  if (const auto& c = picture.crop)
    part(fmt::format("only {} × {} pixels from {},{}", format_number(c->right - c->left),
                     format_number(c->bottom - c->top), format_number(c->left), format_number(c->top)));
  if (!picture.mask.empty()) part(fmt::format("inside an outline of {} corners", picture.mask.size()));
  if (picture.fade > 0) part(fmt::format("faded by {} %", format_number(100 * picture.fade)));
  return text.empty() ? text : text + "\n";
}

std::string fit_text(const PictureFit& fit) {
  std::string text;
  for (const auto& sentence : in_words(fit.report)) text += "  " + sentence + "\n";
  const auto tell_line = [&](const std::optional<std::size_t>& k) {
    if (const auto line = k ? line_of(fit, *k) : std::nullopt)
      text += fmt::format("  point {} stands on line {} of the points' file\n", *k + 1, *line);
  };
  tell_line(fit.report.worst);
  if (fit.report.suspect != fit.report.worst) tell_line(fit.report.suspect);
  return text;
}

}  // namespace

Json picture_json(const WallItem& item, const PlacedPicture& picture, const std::optional<PictureFit>& fit) {
  Json json = {{"wall", item.name}, {"name", picture.name}, {"pixels", {picture.size.width, picture.size.height}}};
  const auto* frame = std::get_if<PictureFrame>(&picture.lay);
  json["at"] = frame ? Json{frame->at.u, frame->at.v} : Json();
  json["width"] = frame ? Json(frame->width) : Json();
  json["height"] = frame ? Json(frame->height) : Json();
  json["turn_deg"] = frame ? Json(frame->turn_deg) : Json();
  json["id"] = picture.id.value;
  json["file"] = picture.path;
  json["order"] = place_in_order(item, picture);
  json["lay"] = std::visit([&](const auto& lay) { return lay_json(lay, picture.size); }, picture.lay);
  const auto& crop = picture.crop;
  json["crop"] = crop ? Json{crop->left, crop->top, crop->right - crop->left, crop->bottom - crop->top} : Json();
  json["mask"] = Json::array();
  for (const Vec2& corner : picture.mask) json["mask"].push_back(numbers(corner));
  json["fade_pct"] = 100 * picture.fade;
  json["fit"] = fit ? fit_json(*fit, picture) : Json();
  return json;
}

std::string picture_text(const WallItem& item, const PlacedPicture& picture, const std::optional<PictureFit>& fit) {
  std::string text =
      fmt::format("{}: {} × {} pixels on {}, {}\n", picture.name, picture.size.width, picture.size.height, item.name,
                  std::visit([&](const auto& lay) { return lay_text(lay, picture); }, picture.lay));
  text += shown_text(picture);
  if (fit) text += fit_text(*fit);
  return text;
}

Json stretch_json(const StretchReport& stretch) {
  const auto at = [](const StretchAt& there) {
    return Json{{"at", {there.place.u, there.place.v}}, {"times", there.times}};
  };
  return {{"own_mm_per_px", stretch.own_mm_per_px},
          {"least", at(stretch.least)},
          {"greatest", at(stretch.greatest)},
          {"within_tenth", stretch.within_tenth},
          {"area_m2", stretch.area_m2}};
}

Json squared_json(const SquaredPicture& squared) {
  return {{"pixels", {squared.width, squared.height}},
          {"step_m", squared.squares.step_m},
          {"least", squared.squares.least},
          {"greatest", squared.squares.greatest}};
}

std::string stretch_text(const StretchReport& stretch) {
  return fmt::format(
      "  one pixel covers {} mm; stretched {} to {} times, most at {},{}; less than 1.1 times on {} % of its {} m²\n",
      format_fixed(stretch.own_mm_per_px, 3), format_fixed(stretch.least.times, 3),
      format_fixed(stretch.greatest.times, 3), metres(stretch.greatest.place.u), metres(stretch.greatest.place.v),
      format_fixed(100 * stretch.within_tenth, 1), metres(stretch.area_m2));
}

Json pictures_json(const WallItem& item) {
  Json list = Json::array();
  for (const auto& picture : item.pictures) {
    list.push_back(picture_json(item, *picture, std::nullopt));
    list.back()["readable"] = picture->pixels != nullptr;
    list.back().erase("fit");
  }
  return {{"wall", item.name}, {"pictures", std::move(list)}};
}

std::string pictures_text(const WallItem& item) {
  std::string text;
  for (std::size_t k = 0; k < item.pictures.size(); ++k)
    text += fmt::format("{} {}", k + 1, picture_text(item, *item.pictures[k], std::nullopt));
  return text.empty() ? item.name + ": no pictures\n" : text;
}

}  // namespace pontata
