// Tape: true distances between places, through the air and over the wall's surface.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include "editor/tools/tool.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "editor/window/workbench.h"

namespace pontata {
namespace {

class TapeTool final : public Tool {
 public:
  const char* name() const override { return "Tape"; }
  char key() const override { return 'T'; }
  std::string hint() const override {
    return "Click two places or more; Backspace takes one back, Esc puts the tape away.";
  }
  std::size_t points() const override { return points_.size(); }
  void move(Workbench&, const ToolPointer& at) override { live_ = at.place; }
  void press(Workbench&, const ToolPointer& at) override {
    if (at.place) points_.push_back(*at.place);
  }
  bool key_down(Workbench& bench, int key, int) override {
    if (points_.empty()) return false;
    if (key == GLFW_KEY_BACKSPACE) return points_.pop_back(), true;
    if (key == GLFW_KEY_ESCAPE) return put_down(bench), true;
    return false;
  }
  void put_down(Workbench&) override {
    points_.clear();
    live_.reset();
  }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override {
    const std::vector<ChartPoint> line = drawn();
    draw_stroke(list, bench, pane, line, false, rgb(0x3B6B35));
    for (const ChartPoint p : points_) draw_dot(list, bench, pane, p, false);
  }
  void options(Workbench& bench) override;

 private:
  std::vector<ChartPoint> drawn() const {
    std::vector<ChartPoint> line = points_;
    if (live_ && !points_.empty()) line.push_back(*live_);
    return line;
  }

  std::vector<ChartPoint> points_;
  std::optional<ChartPoint> live_;
};

void TapeTool::options(Workbench& bench) {
  const auto item = bench.session.wall_item();
  const std::vector<ChartPoint> line = drawn();
  if (!item || line.size() < 2) return quiet_text("Nothing measured yet.");
  double over = 0, through = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    over += item->wall->metric->measure(to_lattice(line[i]), to_lattice(line[i + 1])).length_m;
    const auto a = item->wall->position(line[i]), b = item->wall->position(line[i + 1]);
    if (a && b) through += glm::length(*b - *a);
  }
  const auto first = item->wall->position(line.front()), last = item->wall->position(line.back());
  ImGui::TextWrapped("Over the surface %s", shown(over, 4, "m").c_str());
  ImGui::TextWrapped("Through the air %s", shown(through, 4, "m").c_str());
  if (first && last) {
    ImGui::TextWrapped("First to last %s", shown(glm::length(*last - *first), 4, "m").c_str());
    ImGui::TextWrapped("Height between %s", shown(last->z - first->z, 4, "m").c_str());
  }
}

}  // namespace

std::unique_ptr<Tool> make_tape_tool() { return std::make_unique<TapeTool>(); }

}  // namespace pontata
