// Zone: closed areas that no seam may enter (faces, hands), or that are painted at another rate.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include "editor/tools/tool.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/chart/cut_crossing.h"

namespace pontata {
namespace {

class ZoneTool final : public Tool {
 public:
  const char* name() const override { return "Zone"; }
  char key() const override { return 'Z'; }
  std::string hint() const override {
    return points_.empty() ? "Click round a face or a hand that no seam may enter, or round fine work."
                           : "Enter or the first point closes, Backspace takes back a point, Esc gives up.";
  }
  std::size_t points() const override { return points_.size(); }
  void move(Workbench&, const ToolPointer& at) override { live_ = at.place; }
  void press(Workbench& bench, const ToolPointer& at) override {
    if (!at.place || !at.pane) return;
    const auto away = points_.empty() ? std::nullopt : px_away(bench, *at.pane, points_.front(), at.px);
    if (points_.size() >= 3 && away && *away < 11 * bench.scale) return close(bench);
    points_.push_back(*at.place);
  }
  bool key_down(Workbench& bench, int key, int) override {
    if (points_.empty()) return false;
    if (key == GLFW_KEY_ENTER || key == GLFW_KEY_KP_ENTER) return close(bench), true;
    if (key == GLFW_KEY_BACKSPACE) return points_.pop_back(), true;
    if (key == GLFW_KEY_ESCAPE) return put_down(bench), true;
    return false;
  }
  void put_down(Workbench&) override {
    points_.clear();
    live_.reset();
  }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override {
    std::vector<ChartPoint> line = points_;
    if (live_ && !points_.empty()) line.push_back(*live_);
    draw_stroke(list, bench, pane, led(bench, line), points_.size() >= 2, rgb(0x8A1F1F));
    for (std::size_t i = 0; i < points_.size(); ++i) draw_dot(list, bench, pane, points_[i], i == 0);
  }
  void options(Workbench& bench) override;

 private:
  void close(Workbench& bench);
  // The line as it is drawn: where the shorter way crosses a cut, through the crossing.
  static std::vector<ChartPoint> led(const Workbench& bench, const std::vector<ChartPoint>& line) {
    const auto item = bench.session.wall_item();
    if (!item || !item->wall->chart->has_cuts() || line.empty()) return line;
    std::vector<LatticePoint> places;
    for (const ChartPoint p : line) places.push_back(to_lattice(p));
    std::vector<ChartPoint> out;
    const auto pieces = lead_across(*item->wall, places, {}, line.size() > 2).value();
    for (const CutPiece& piece : pieces)
      for (const LatticePoint p : piece.points) out.push_back(to_chart(p));
    return out;
  }

  std::vector<ChartPoint> points_;
  std::optional<ChartPoint> live_;
  bool detail_ = false;
  std::string name_, rate_;
};

void ZoneTool::close(Workbench& bench) {
  if (points_.size() < 3) return bench.session.say("A zone needs three points or more");
  std::optional<double> rate;
  if (detail_) {
    const auto typed = parse_number(rate_);
    if (!typed || *typed <= 0)
      return bench.session.complain({"a detail zone needs the painter's rate there", "",
                                     "Type how many m² are painted in an hour, such as 0.15."});
    rate = *typed;
  }
  const auto edit = add_zone(*bench.session.document(), bench.session.wall(),
                             detail_ ? ZoneKind::detail : ZoneKind::keep_whole, points_, name_, rate);
  if (!commit(bench, edit)) return;
  put_down(bench);
  name_.clear();
}

void ZoneTool::options(Workbench& bench) {
  if (ImGui::RadioButton("Keep whole", !detail_)) detail_ = false;
  control(bench, "zone.keep");
  ImGui::SameLine();
  if (ImGui::RadioButton("Detail", detail_)) detail_ = true;
  control(bench, "zone.detail");
  text_field("Name", name_, false, ImGui::GetContentRegionAvail().x * 0.7f);
  if (detail_) text_field("m² an hour", rate_, false, ImGui::GetContentRegionAvail().x * 0.4f);
  if (ImGui::Button("Close the zone")) close(bench);
}

}  // namespace

std::unique_ptr<Tool> make_zone_tool() { return std::make_unique<ZoneTool>(); }

}  // namespace pontata
