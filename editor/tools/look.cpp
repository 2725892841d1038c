// Look: moves the eye and chooses giornate; never edits.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include "editor/tools/tool.h"
#include "editor/window/input_queue.h"
#include "editor/window/theme.h"
#include "editor/window/workbench.h"

namespace pontata {
namespace {

class LookTool final : public Tool {
 public:
  const char* name() const override { return "Look"; }
  char key() const override { return 'L'; }
  std::string hint() const override {
    return "Click a giornata, or another wall, to choose it; with Ctrl several, or a box. Drag to turn, right drag to "
           "shift, wheel to near.";
  }
  bool drags_view() const override { return true; }
  void press(Workbench& bench, const ToolPointer& at) override {
    choose_at(bench, at.place ? at.wall : WallId{}, at.place, (at.mods & (kShift | kControl)) != 0);
  }
  // With Ctrl a box round the numbers of giornate.
  bool grab(Workbench&, const ToolPointer& at) override {
    if (!at.pane || !(at.mods & kControl)) return false;
    box_ = Box{at.pane->frame.kind, at.px, at.px};
    return true;
  }
  void drag(Workbench&, const ToolPointer& at) override {
    if (box_) box_->to = at.px, box_->moved = true;
  }
  void drop(Workbench& bench, const ToolPointer&) override;
  bool key_down(Workbench&, int key, int) override {
    if (key != GLFW_KEY_ESCAPE || !box_) return false;
    box_.reset();
    return true;
  }
  void put_down(Workbench&) override { box_.reset(); }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override;

 private:
  struct Box {
    ViewKind view;
    Vec2 from, to;  // px of the window
    bool moved = false;
    Vec2 low() const { return glm::min(from, to); }
    Vec2 high() const { return glm::max(from, to); }
  };
  static void choose_at(Workbench& bench, WallId wall, std::optional<ChartPoint> place, bool more);

  std::optional<Box> box_;
};

void LookTool::choose_at(Workbench& bench, WallId wall, std::optional<ChartPoint> place, bool more) {
  const WallItem* item = bench.session.document()->wall(wall);
  const GiornataId id =
      item && place && fits_lattice(*place) ? item->network.owner_at(to_lattice(*place)) : GiornataId{};
  if (!more)
    bench.session.choose(id);
  else if (id)
    bench.session.choose_more(id);
}

void LookTool::drop(Workbench& bench, const ToolPointer&) {
  if (!box_) return;
  const Box box = *std::exchange(box_, std::nullopt);
  const Pane& pane = bench.views->pane(box.view);
  if (!box.moved) {
    const auto seen = bench.views->look(pane, box.from);
    return choose_at(bench, seen ? seen->wall : WallId{}, seen ? std::optional(seen->chart) : std::nullopt, true);
  }
  std::vector<GiornataId> ids = bench.session.all_chosen();
  const Vec2 low = box.low(), high = box.high();
  for (const auto& item : bench.session.document()->walls) {
    if (box.view == ViewKind::flat && item->id != bench.session.wall()) continue;
    const auto figures = bench.session.figures(item->id);
    for (const GiornataMeasure& m : figures->measure.giornate) {
      const auto at = on_screen(*item->wall, bench.views->surfaces(), pane.frame, m.inside);
      if (!at) continue;
      const Vec2 px = pane.corner + *at;
      if (px.x >= low.x && px.y >= low.y && px.x <= high.x && px.y <= high.y) ids.push_back(m.id);
    }
  }
  bench.session.choose_all(ids);
  bench.session.say(std::to_string(bench.session.all_chosen().size()) + " chosen");
}

void LookTool::draw(Workbench& bench, ImDrawList& list, const Pane& pane) {
  if (!box_ || !box_->moved || box_->view != pane.frame.kind) return;
  const Vec2 low = box_->low(), high = box_->high();
  const ImVec2 a(static_cast<float>(low.x), static_cast<float>(low.y));
  const ImVec2 b(static_cast<float>(high.x), static_cast<float>(high.y));
  const auto scale = static_cast<float>(bench.scale);
  list.AddRectFilled(a, b, to_im(kAction, 36));
  list.AddRect(a, b, to_im(kCasing, 220), 0, 0, 4 * scale);
  list.AddRect(a, b, to_im(kAction), 0, 0, 2 * scale);
}

}  // namespace

std::unique_ptr<Tool> make_look_tool() { return std::make_unique<LookTool>(); }

}  // namespace pontata
