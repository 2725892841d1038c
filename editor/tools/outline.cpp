// Outline: draws a giornata. Between clicks the stroke follows contours and seams (Hug); Shift held lets go.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include "editor/tools/guided_stroke.h"
#include "editor/tools/hug_fields.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

constexpr double kClosePx = 11;  // a click this near the first point closes

class OutlineTool final : public Tool {
 public:
  const char* name() const override { return "Outline"; }
  char key() const override { return 'O'; }
  std::string hint() const override {
    return points() == 0 ? "Click along a figure; the stroke follows its contour. Hold Shift to draw straight."
                         : "Enter or the first point closes, Backspace takes back a point, Esc gives up.";
  }
  std::size_t points() const override { return stroke_.points().size(); }
  void move(Workbench& bench, const ToolPointer& at) override;
  void press(Workbench& bench, const ToolPointer& at) override;
  bool key_down(Workbench& bench, int key, int mods) override;
  void put_down(Workbench&) override { stroke_.clear(); }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override { stroke_.draw(bench, list, pane); }
  void options(Workbench& bench) override;
  std::string follows(const Workbench& bench) const override { return stroke_.follows(bench); }

 private:
  bool on_first(const Workbench& bench, const ToolPointer& at) const;
  void close(Workbench& bench, bool straight);
  Result<OutlineEdited> closed(Workbench& bench, const HuggedLine& last);
  void close_with(Workbench& bench, const HuggedLine& last, bool straight);
  void add_typed(Workbench& bench);

  GuidedStroke stroke_;
  HugFields hug_;
  std::string typed_, name_;
};

bool OutlineTool::on_first(const Workbench& bench, const ToolPointer& at) const {
  if (points() < 3 || !at.pane) return false;
  const auto away = px_away(bench, *at.pane, stroke_.points().front(), at.px);
  return away && *away < kClosePx * bench.scale;
}

void OutlineTool::move(Workbench& bench, const ToolPointer& at) {
  if (!stroke_.ready(bench) || points() == 0 || !at.place) return stroke_.hide_live();
  stroke_.aim(bench, on_first(bench, at) ? stroke_.points().front() : *at.place, (at.mods & kShift) != 0);
}

void OutlineTool::press(Workbench& bench, const ToolPointer& at) {
  if (!stroke_.ready(bench) || !at.place) return;
  const bool straight = (at.mods & kShift) != 0;
  if (on_first(bench, at)) return close(bench, straight);
  stroke_.add(bench, *at.place, straight);
}

Result<OutlineEdited> OutlineTool::closed(Workbench& bench, const HuggedLine& last) {
  HuggedLine line = stroke_.whole(last);
  while (line.line.size() > 1 && line.line.back() == line.line.front()) line.line.pop_back();
  return commit_outline(*bench.session.document(), stroke_.item()->id, line, name_);
}

void OutlineTool::close(Workbench& bench, bool straight) {
  if (points() < 3) return bench.session.say("An outline needs three points or more");
  stroke_.finish(bench, stroke_.points().front(), straight,
                 [this, &bench, straight](const HuggedLine& last) { close_with(bench, last, straight); });
}

void OutlineTool::close_with(Workbench& bench, const HuggedLine& last, bool straight) {
  auto made = closed(bench, last);
  if (!made && !straight)  // the hugging end may have run into the rest: try the straight one
    if (auto second = closed(bench, stroke_.straight_to(stroke_.points().front()))) made = std::move(second);
  if (!made) return bench.session.complain(made.problem());
  const OutlineEdited done = *made;
  stroke_.clear();
  name_.clear();
  if (!commit(bench, Edited{done.document, done.did})) return;
  bench.session.choose(done.id);
  std::string says =
      "Giornata " + label_of(*bench.session.document()->giornata(done.id)) + ": " + shown(done.area_m2, 3, "m²");
  if (!done.dropped.empty())
    says += "; " + std::to_string(done.dropped.size()) + " smaller piece(s) cut off by earlier giornate were left out";
  bench.session.say(says);
}

bool OutlineTool::key_down(Workbench& bench, int key, int mods) {
  if (points() == 0) return false;
  switch (key) {
    case GLFW_KEY_ENTER:
    case GLFW_KEY_KP_ENTER:
      return close(bench, (mods & kShift) != 0), true;
    case GLFW_KEY_BACKSPACE:
      return stroke_.take_back(), true;
    case GLFW_KEY_ESCAPE:
      return stroke_.clear(), true;
    default:
      return false;
  }
}

void OutlineTool::add_typed(Workbench& bench) {
  const auto places = read_places(typed_);
  if (!places) return bench.session.complain(places.problem());
  if (!stroke_.ready(bench)) return;
  const Chart& chart = *stroke_.item()->wall->chart;
  for (const ChartPoint p : *places) {
    const ChartPoint at = chart.locate(p) ? p : chart.clamp(p);
    if (glm::length(to_vec(at) - to_vec(p)) > 0.005)
      return bench.session.complain({"this place is not on the wall", shown(p.u, 3, "") + " " + shown(p.v, 3, "m"),
                                     "Places count right and up from the lower left of the flat view."});
    stroke_.add(bench, at, !bench.hug_on);
  }
  typed_.clear();
}

void OutlineTool::options(Workbench& bench) {
  hug_.draw(bench, "outline");
  field_name("Name", 0.25f);
  text_field("##outline-name", name_);
  control(bench, "outline.name");
  quiet_text("Or type places, right and up in m, one a line:");
  text_box("##places", typed_, -1, ImGui::GetTextLineHeight() * 4.5f);
  control(bench, "outline.places");
  if (ImGui::Button("Add places") && !typed_.empty()) add_typed(bench);
  control(bench, "outline.add");
  ImGui::SameLine();
  if (ImGui::Button("Close it") && stroke_.ready(bench)) close(bench, false);
  control(bench, "outline.close");
}

}  // namespace

std::unique_ptr<Tool> make_outline_tool() { return std::make_unique<OutlineTool>(); }

}  // namespace pontata
