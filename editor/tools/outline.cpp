// Outline: draws a giornata. Between clicks the stroke follows contours and seams (Hug); Shift held lets go.
#include <imgui.h>

#include "editor/tools/clicked_points.h"
#include "editor/tools/guided_stroke.h"
#include "editor/tools/hug_fields.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/document/seam_edits.h"

namespace pontata {
namespace {

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
  void close(Workbench& bench, bool straight);
  // Who has what lies on giornate drawn earlier.
  enum class Overlap { earlier, drawn, into_chosen };
  Result<BiteEdited> closed(Workbench& bench, const HuggedLine& last);
  void close_with(Workbench& bench, const HuggedLine& last, bool straight);
  void tell(Workbench& bench, const BiteEdited& done) const;
  void overlap_choice(Workbench& bench);

  GuidedStroke stroke_;
  HugFields hug_;
  Overlap overlap_ = Overlap::earlier;
  TypedPlaces typed_;
  std::string name_;
};

void OutlineTool::move(Workbench& bench, const ToolPointer& at) {
  if (!stroke_.ready(bench) || points() == 0 || !at.place) return stroke_.hide_live();
  const bool closes = on_first(bench, at, stroke_.points());
  stroke_.aim(bench, closes ? stroke_.points().front() : *at.place, (at.mods & kShift) != 0);
}

void OutlineTool::press(Workbench& bench, const ToolPointer& at) {
  if (!stroke_.ready(bench) || !at.place) return;
  const bool straight = (at.mods & kShift) != 0;
  if (on_first(bench, at, stroke_.points())) return close(bench, straight);
  stroke_.add(bench, *at.place, straight);
}

Result<BiteEdited> OutlineTool::closed(Workbench& bench, const HuggedLine& last) {
  HuggedLine line = stroke_.whole(last);
  while (line.line.size() > 1 && line.line.back() == line.line.front()) line.line.pop_back();
  const Document& document = *bench.session.document();
  const WallId wall = stroke_.item()->id;
  if (overlap_ == Overlap::into_chosen) {
    if (!bench.session.chosen())
      return Problem{"no giornata is chosen to add this to", "", "Choose one in a list, then close the outline."};
    return commit_over(document, wall, line, {bench.session.chosen(), ""});
  }
  if (overlap_ == Overlap::drawn) return commit_over(document, wall, line, {std::nullopt, name_});
  auto made = commit_outline(document, wall, line, name_);
  if (!made) return made.problem();
  return BiteEdited{std::move(*made), {}, {}};
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
  const BiteEdited done = *made;
  stroke_.clear();
  name_.clear();
  if (!commit(bench, Edited{done.document, done.did})) return;
  bench.session.choose(done.id);
  tell(bench, done);
}

// Its area, and who lost how much to it.
void OutlineTool::tell(Workbench& bench, const BiteEdited& done) const {
  const Document& document = *bench.session.document();
  const auto label = [&](GiornataId id) {
    const Giornata* g = document.giornata(id);
    return g ? label_of(*g) : std::string();
  };
  std::string says = "Giornata " + label(done.id) + ": " + shown(done.area_m2, 3, "m²");
  for (std::size_t i = 0; i < done.taken.size(); ++i)
    says += (i == 0 ? "; taken from giornata " : ", from ") + label(done.taken[i].from) + " " +
            shown(done.taken[i].area_m2, 3, "m²");
  for (std::size_t i = 0; i < done.parts.size(); ++i)
    says += (i == 0 ? "; cut off and now a giornata of its own: " : ", ") + label(done.parts[i]);
  if (!done.dropped.empty())
    says += "; " + std::to_string(done.dropped.size()) + " smaller piece(s) cut off by earlier giornate were left out";
  bench.session.say(says);
}

bool OutlineTool::key_down(Workbench& bench, int key, int mods) {
  return points() > 0 && line_key(key, {[&] { close(bench, (mods & kShift) != 0); }, [this] { stroke_.take_back(); },
                                        [this] { stroke_.clear(); }});
}

void OutlineTool::overlap_choice(Workbench& bench) {
  ImGui::TextWrapped("Ground that other giornate have");
  const auto choice = [&](const char* words, Overlap overlap, const char* name, const char* says) {
    if (ImGui::RadioButton(words, overlap_ == overlap)) overlap_ = overlap;
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", says);
    control(bench, name);
  };
  choice("stays theirs", Overlap::earlier, "outline.earlier", "The new giornata gets what is still free");
  choice("goes to the new one", Overlap::drawn, "outline.takes",
         "They lose it; a piece that is cut off becomes a giornata of its own");
  const Giornata* chosen = bench.session.document()->giornata(bench.session.chosen());
  const std::string added = chosen ? "all is added to " + label_of(*chosen) : "all is added to the chosen";
  choice((added + "###into").c_str(), Overlap::into_chosen, "outline.into",
         "No new giornata: the chosen one grows by the outline, and what lies there goes to it");
  if (overlap_ == Overlap::into_chosen && !chosen) warn_text("Choose a giornata in a list first.");
}

void OutlineTool::options(Workbench& bench) {
  hug_.draw(bench, "outline");
  overlap_choice(bench);
  if (overlap_ != Overlap::into_chosen) {
    field_name("Its name", 0.35f);
    text_field("##outline-name", name_);
    control(bench, "outline.name");
  }
  if (const auto places = typed_.draw(bench, "outline", "Add places"); places && stroke_.ready(bench))
    for (const ChartPoint p : *places) stroke_.add(bench, p, !bench.hug_on);
  ImGui::SameLine();
  if (ImGui::Button("Close it") && stroke_.ready(bench)) close(bench, false);
  control(bench, "outline.close");
}

}  // namespace

std::unique_ptr<Tool> make_outline_tool() { return std::make_unique<OutlineTool>(); }

}  // namespace pontata
