// Divide: a new seam through the chosen giornata, from rim to rim.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <map>

#include "editor/tools/clicked_points.h"
#include "editor/tools/guided_stroke.h"
#include "editor/tools/hug_fields.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

class DivideTool final : public Tool {
 public:
  const char* name() const override { return "Divide"; }
  char key() const override { return 'D'; }
  std::string hint() const override {
    return points() == 0 ? "Click on the rim of a giornata, then across it to the rim on the other side."
                         : "Enter divides, Backspace takes back a point, Esc gives up.";
  }
  std::size_t points() const override { return stroke_.points().size(); }
  void move(Workbench& bench, const ToolPointer& at) override {
    if (!stroke_.ready(bench) || points() == 0 || !at.place) return stroke_.hide_live();
    stroke_.aim(bench, *at.place, (at.mods & kShift) != 0);
  }
  void press(Workbench& bench, const ToolPointer& at) override {
    if (stroke_.ready(bench) && at.place) stroke_.add(bench, *at.place, (at.mods & kShift) != 0);
  }
  bool key_down(Workbench& bench, int key, int) override {
    if (points() == 0) return false;
    if (key == GLFW_KEY_ENTER || key == GLFW_KEY_KP_ENTER) return finish(bench), true;
    if (key == GLFW_KEY_BACKSPACE) return stroke_.take_back(), true;
    if (key == GLFW_KEY_ESCAPE) return stroke_.clear(), true;
    return false;
  }
  void put_down(Workbench&) override { stroke_.clear(); }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override { stroke_.draw(bench, list, pane); }
  std::string follows(const Workbench& bench) const override { return stroke_.follows(bench); }
  void options(Workbench& bench) override {
    hug_.draw(bench, "divide");
    if (const auto places = typed_.draw(bench, "divide", "Add places"); places && stroke_.ready(bench))
      for (const ChartPoint p : *places) stroke_.add(bench, p, !bench.hug_on);
    ImGui::SameLine();
    if (ImGui::Button("Divide") && points() > 0) finish(bench);
    control(bench, "divide.go");
  }

 private:
  void finish(Workbench& bench);
  void divide_along(Workbench& bench, const HuggedLine& line);
  GiornataId crossed(const HuggedLine& line) const;

  GuidedStroke stroke_;
  HugFields hug_;
  TypedPlaces typed_;
};

// The giornata that most of the line runs through.
GiornataId DivideTool::crossed(const HuggedLine& line) const {
  std::map<GiornataId, double> inside;
  for (std::size_t i = 0; i + 1 < line.line.size(); ++i) {
    if (is_cut_step(*stroke_.item()->wall, line.line[i], line.line[i + 1])) continue;
    const Vec2 a = to_vec(line.line[i]), b = to_vec(line.line[i + 1]);
    const GiornataId id = stroke_.item()->network.owner_at(to_lattice(to_chart((a + b) / 2.0)));
    if (id) inside[id] += glm::length(b - a);
  }
  GiornataId most;
  for (const auto& [id, length] : inside)
    if (!most || length > inside[most]) most = id;
  return most;
}

void DivideTool::finish(Workbench& bench) {
  if (points() < 2) return bench.session.say("A new seam needs two points or more");
  stroke_.finish(bench, std::nullopt, false,
                 [this, &bench](const HuggedLine&) { divide_along(bench, stroke_.whole()); });
}

void DivideTool::divide_along(Workbench& bench, const HuggedLine& line) {
  const GiornataId id = crossed(line);
  if (!id)
    return bench.session.complain({"the line crosses no giornata", "", "Draw it from rim to rim of one giornata."});
  const auto made = divide(*bench.session.document(), id, line.line, false);
  if (!made) return bench.session.complain(made.problem());
  const DivideEdited done = *made;
  stroke_.clear();
  if (commit(bench, Edited{done.document, done.did})) bench.session.choose(done.new_id);
}

}  // namespace

std::unique_ptr<Tool> make_divide_tool() { return std::make_unique<DivideTool>(); }

}  // namespace pontata
