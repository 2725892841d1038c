// Tape: true distances between places, through the air and over the wall's surface. A leg between two clicks is the
// shortest way over the surface; the stretch to the pointer is only the chart's straight line, which costs nothing.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include "editor/tools/clicked_points.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "editor/window/workbench.h"
#include "engine/chart/geodesic.h"

namespace pontata {
namespace {

class TapeTool final : public Tool {
 public:
  const char* name() const override { return "Tape"; }
  char key() const override { return 'T'; }
  std::string hint() const override {
    return "Click two places or more; Backspace takes one back, Esc puts the tape away.";
  }
  std::size_t points() const override { return points_.count(); }
  void move(Workbench&, const ToolPointer& at) override { points_.follow(at); }
  void press(Workbench& bench, const ToolPointer& at) override {
    if (at.place) add(bench, *at.place);
  }
  bool key_down(Workbench& bench, int key, int) override {
    if (points_.empty()) return false;
    if (key == GLFW_KEY_BACKSPACE) return take_back(), true;
    if (key == GLFW_KEY_ESCAPE) return put_down(bench), true;
    return false;
  }
  void put_down(Workbench&) override {
    points_.clear();
    legs_.clear();
  }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override {
    for (const TapeLine& leg : legs_)
      for (const auto& piece : leg.chart) draw_stroke(list, bench, pane, piece, false, rgb(0x3B6B35));
    if (points_.live() && !points_.empty())
      draw_stroke(list, bench, pane, {points_.all().back(), *points_.live()}, false, rgb(0x8A8A80));
    for (const ChartPoint p : points_.all()) draw_dot(list, bench, pane, p, false);
  }
  void options(Workbench& bench) override;

 private:
  void add(Workbench& bench, ChartPoint place) {
    const auto item = bench.session.wall_item();
    if (!item) return;
    if (!points_.empty()) {
      auto leg = stretch_tape(*item->wall, points_.all().back(), item->wall->chart->clamp(place));
      if (!leg) return bench.session.complain(leg.problem());
      bench.session.say(shown(leg->over_m, 4, "m") + " over the surface, " + shown(leg->straight_m, 4, "m") +
                        " through the air");
      legs_.push_back(std::move(*leg));
    }
    points_.add(item->wall->chart->clamp(place));
  }
  void take_back() {
    points_.take_back();
    if (!legs_.empty()) legs_.pop_back();
  }
  void tell(Workbench& bench) const;
  void tell_pointer(const ChartedWall& wall) const;

  ClickedPoints points_;
  std::vector<TapeLine> legs_;  // one fewer than points
  TypedPlaces typed_;
};

void TapeTool::tell_pointer(const ChartedWall& wall) const {
  if (!points_.live() || points_.empty()) return;
  const ChartPoint last = points_.all().back(), live = *points_.live();
  const auto from = wall.position(last), to = wall.position(live);
  if (!from || !to) return;
  const double about = wall.metric->measure(to_lattice(last), to_lattice(live)).length_m;
  const std::string text = "To the pointer: at most " + shown(about, 3, "m") + " over the surface, " +
                           shown(glm::length(*to - *from), 3, "m") + " through the air. Click for the shortest way.";
  quiet_text(text.c_str());
}

void TapeTool::options(Workbench& bench) {
  tell(bench);
  if (const auto places = typed_.draw(bench, "tape", "Add places"))
    for (const ChartPoint p : *places) add(bench, p);
  if (points_.empty()) return;
  same_row("Put away");
  if (ImGui::Button("Put away")) put_down(bench);
  control(bench, "tape.clear");
}

void TapeTool::tell(Workbench& bench) const {
  const auto item = bench.session.wall_item();
  if (!item || (legs_.empty() && !(points_.live() && !points_.empty()))) return quiet_text("Nothing measured yet.");
  if (!legs_.empty()) {
    double over = 0, through = 0;
    for (const TapeLine& leg : legs_) over += leg.over_m, through += leg.straight_m;
    const Vec3 first = legs_.front().way.front(), last = legs_.back().way.back();
    ImGui::TextWrapped("Over the surface %s", shown(over, 4, "m").c_str());
    ImGui::TextWrapped("Through the air %s", shown(through, 4, "m").c_str());
    ImGui::TextWrapped("First to last %s", shown(glm::length(last - first), 4, "m").c_str());
    ImGui::TextWrapped("Height between %s", shown(last.z - first.z, 4, "m").c_str());
  }
  tell_pointer(*item->wall);
}

}  // namespace

std::unique_ptr<Tool> make_tape_tool() { return std::make_unique<TapeTool>(); }

}  // namespace pontata
