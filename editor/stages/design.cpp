// Design: the picture and where it lies on the wall.
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>

#include "editor/stages/stage.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

class DesignStage final : public StagePage {
 public:
  const char* name() const override { return "Design"; }
  State state(Workbench& bench) override {
    const auto& walls = bench.session.document()->walls;
    const auto with = std::count_if(walls.begin(), walls.end(), [](const auto& w) { return !w->pictures.empty(); });
    if (with == 0) return {StageMark::not_started, "No picture yet"};
    const bool all = with == static_cast<std::ptrdiff_t>(walls.size());
    return {all ? StageMark::checked : StageMark::begun,
            std::to_string(with) + " of " + std::to_string(walls.size()) + " walls have their picture"};
  }
  void draw(Workbench& bench) override;

 private:
  void follow(const WallItem& item);
  void place(Workbench& bench);

  std::string path_, width_, u_ = "0", v_ = "0", turn_ = "0";
  PlacedRef followed_;
  WallId wall_;
};

// Width on the wall, along the row through the picture's lower left corner; empty where that row leaves the wall.
PlacedRef top(const WallItem& item) { return item.pictures.empty() ? nullptr : item.pictures.back(); }

std::string width_on_wall(const WallItem& item) {
  const PictureFrame& frame = std::get<PictureFrame>(top(item)->lay);
  const double turn = frame.turn_deg * std::numbers::pi / 180;
  const ChartPoint end{frame.at.u + frame.width * std::cos(turn), frame.at.v + frame.width * std::sin(turn)};
  const auto& chart = *item.wall->chart;
  const ChartPoint a = chart.clamp(frame.at), b = chart.clamp(end);
  if (glm::length(to_vec(a) - to_vec(frame.at)) + glm::length(to_vec(b) - to_vec(end)) > 1e-6) return {};
  return format_fixed(item.wall->metric->measure(to_lattice(a), to_lattice(b)).length_m, 3);
}

// The fields show the picture that lies there.
void DesignStage::follow(const WallItem& item) {
  const auto picture = top(item);
  if (picture == followed_ && item.id == wall_) return;
  followed_ = picture;
  wall_ = item.id;
  path_ = picture ? picture->path : "";
  width_ = picture ? width_on_wall(item) : "";
  u_ = picture ? format_fixed(std::get<PictureFrame>(top(item)->lay).at.u, 3) : "0";
  v_ = picture ? format_fixed(std::get<PictureFrame>(top(item)->lay).at.v, 3) : "0";
  turn_ = picture ? format_number(std::get<PictureFrame>(top(item)->lay).turn_deg) : "0";
}

void DesignStage::draw(Workbench& bench) {
  const auto item = bench.session.wall_item();
  if (!item) return quiet_text("Add a wall first; the picture is laid on it.");
  follow(*item);
  if (top(*item)) {
    const auto& p = *top(*item);
    ImGui::TextWrapped("%s", std::filesystem::path(p.path).filename().string().c_str());
    if (!p.pixels) ImGui::TextWrapped("This file cannot be read: put it back, or choose another picture.");
    quiet_text((std::to_string(p.size.width) + " × " + std::to_string(p.size.height) + " pixels, " +
                shown(std::get<PictureFrame>(p.lay).width, 3, "") + " × " +
                shown(std::get<PictureFrame>(p.lay).height, 3, "m in the flat view"))
                   .c_str());
  } else {
    quiet_text("No picture on this wall yet. Choose a PNG or JPEG, or drop one on the window.");
  }
  if (ImGui::Button("Choose a picture…"))
    bench.browser.ask({FileBrowser::Want::open_file,
                       "Choose a picture",
                       {".png", ".jpg", ".jpeg"},
                       "",
                       [this](const std::string& path) { path_ = path; }},
                      bench.settings.folder);
  control(bench, "design.choose");
  if (path_.empty()) return;
  quiet_text(path_.c_str());
  field_name("Width on the wall");
  text_field("##width", width_);
  control(bench, "design.width");
  quiet_text("Along the surface, such as 4m; empty fills the wall.");
  field_name("Lower left, right");
  text_field("##u", u_);
  field_name("Lower left, up");
  text_field("##v", v_);
  field_name("Turned, degrees");
  text_field("##turn", turn_);
  if (action_button(top(*item) ? "Lay it again" : "Lay it on the wall")) place(bench);
  control(bench, "design.place");
}

void DesignStage::place(Workbench& bench) {
  const auto width = width_.empty() ? Result<double>(0.0) : parse_length(width_);
  const auto u = parse_length(u_), v = parse_length(v_), turn = parse_angle_deg(turn_);
  for (const auto* typed : {&width, &u, &v, &turn})
    if (!*typed) return bench.session.complain(typed->problem());
  drape(bench, path_, {*u, *v}, *width, *turn);
}

}  // namespace

std::unique_ptr<StagePage> make_design_stage() { return std::make_unique<DesignStage>(); }

}  // namespace pontata
