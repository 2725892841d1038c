#include <imgui.h>

#include <cmath>
#include <numbers>

#include "editor/stages/design_forms.h"
#include "editor/stages/wall_forms.h"
#include "editor/tools/pair_form.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

std::string typed_text(const Vec3& v) {
  return format_fixed(v.x, 3) + " " + format_fixed(v.y, 3) + " " + format_fixed(v.z, 3);
}

double degrees(double radians) { return radians * 180 / std::numbers::pi; }

}  // namespace

// ---- which way it lies

void LayForms::draw(Workbench& bench, const WallItem& item, const PlacedRef& picture) {
  heading("How it lies");
  if (picture != followed_) {
    const bool other = !followed_ || followed_->id != picture->id || !(followed_->lay == picture->lay);
    followed_ = picture;
    const bool seen = std::holds_alternative<CameraLay>(picture->lay);
    if (other) way_ = !picture->points.empty() ? Way::points : seen ? Way::eye : Way::size;
  }
  const auto way = [&](const char* word, const char* key, Way w) {
    if (ImGui::RadioButton(word, way_ == w)) way_ = w;
    control(bench, std::string("design.way.") + key);
  };
  way("by size and place", "size", Way::size);
  way("by points on picture and wall", "points", Way::points);
  way("seen from one place", "eye", Way::eye);
  ImGui::Spacing();
  if (way_ == Way::size) size_.draw(bench, item, picture);
  if (way_ == Way::points) points(bench, picture);
  if (way_ == Way::eye) eye_.draw(bench, picture);
}

void LayForms::points(Workbench& bench, const PlacedRef& picture) {
  if (ImGui::Button("Mark points (P)")) take_tool(bench, ToolKind::pair);
  control(bench, "design.pair-tool");
  picture_tip(
      "Shows the picture itself beside the wall; click the same place on both, five times or more for a "
      "photograph.");
  if (picture->points.empty()) return quiet_text("Not set by points yet.");
  if (told_of_ != bench.session.document()) {
    told_of_ = bench.session.document();
    told_ = fit_report(*told_of_, picture->id);
  }
  quiet_text(("It lies by " + std::to_string(picture->points.size()) + " points.").c_str());
  if (told_) tell_fit(*told_);
}

// ---- seen from one place

void EyeForm::follow(const PlacedPicture& picture) {
  const auto* seen = std::get_if<CameraLay>(&picture.lay);
  if (!seen || !picture.points.empty()) return;
  const Camera& c = seen->camera;
  eye_ = typed_text(c.eye);
  look_ = typed_text(c.eye + c.ahead);
  up_ = typed_text(-c.down);
  angle_ = format_fixed(degrees(2 * std::atan(0.5 * picture.size.width / c.focal_px)), 3);
}

void EyeForm::take_view(const Workbench& bench, const PlacedPicture& picture) {
  const Pane& pane = bench.views->pane(ViewKind::space);
  const OrbitCamera& camera = pane.frame.space;
  const double shorter = std::min(pane.frame.width, pane.frame.height);
  const double half = std::tan(camera.angle / 2) / shorter;  // tangent a px from the middle
  const double across =
      std::min(1.0 * pane.frame.width, 1.0 * pane.frame.height * picture.size.width / std::max(1, picture.size.height));
  const Vec3 middle = bench.views->pivot(pane, pane.corner + Vec2(pane.frame.width, pane.frame.height) * 0.5);
  const double away = std::max(0.1, glm::dot(middle - camera.eye, camera.forward()));
  eye_ = typed_text(camera.eye);
  look_ = typed_text(camera.eye + away * camera.forward());
  up_ = typed_text(camera.up());
  angle_ = format_fixed(degrees(2 * std::atan(half * across)), 3);
}

Result<FromEye> EyeForm::typed() const {
  const auto eye = typed_place(eye_), look = typed_place(look_), up = typed_place(up_);
  const auto angle = parse_angle_deg(angle_);
  for (const auto* one : {&eye, &look, &up})
    if (!*one) return one->problem();
  if (!angle) return angle.problem();
  return FromEye{*eye, *look, *up, *angle};
}

void EyeForm::draw(Workbench& bench, const PlacedRef& picture) {
  if (picture != followed_) {
    followed_ = picture;
    follow(*picture);
  }
  quiet_text("The picture is thrown onto the wall from an eye, so that it looks right from there.");
  const auto field = [&](const char* name, std::string& text, const char* key, const char* says) {
    field_name(name);
    text_field((std::string("##") + key).c_str(), text);
    control(bench, std::string("design.eye.") + key);
    picture_tip(says);
  };
  field("Eye at X Y Z", eye_, "at", "In the building, such as 0 2.5 160cm. 1.6 m is the height of a standing eye.");
  field("Looks at X Y Z", look_, "look", "The place in the middle of the picture, in the building, m or with units.");
  field("Up", up_, "up", "Which way the picture's top points; 0 0 1 is upward. Looking straight up, give another.");
  field("Angle, degrees", angle_, "angle", "Across the picture's width, as the eye sees it; below 170.");
  if (ImGui::Button("Take the present view")) take_view(bench, *picture);
  control(bench, "design.eye.take");
  picture_tip("The eye of the 3D view, with the picture as large as it shows whole there.");
  if (action_button("Lay it from there")) {
    const auto from = typed();
    if (!from) return bench.session.complain(from.problem());
    const DocumentRef document = bench.session.document();
    edit_picture(bench, "Laying the picture", [document, id = picture->id, eye = *from](Progress& progress) {
      return lay_again(*document, id, eye, &progress);
    });
  }
  control(bench, "design.eye.lay");
}

}  // namespace pontata
