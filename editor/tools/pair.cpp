// Pair: marks the same place on the picture and on the wall, in either order; the picture is set by such pairs.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include "editor/tools/marks.h"
#include "editor/tools/pair_form.h"
#include "editor/view/wall_marks.h"
#include "editor/window/theme.h"
#include "editor/window/workbench.h"

namespace pontata {
namespace {

constexpr double kHoldPx = 10;  // of a mark

class PairTool final : public Tool {
 public:
  const char* name() const override { return "Pair"; }
  char key() const override { return 'P'; }
  std::string hint() const override {
    return "Click a place on the picture, then the same on the wall, or the other way round.";
  }
  bool wants_picture() const override { return true; }
  std::size_t points() const override { return changes_; }

  void press(Workbench& bench, const ToolPointer& at) override;
  bool grab(Workbench& bench, const ToolPointer& at) override;
  void drag(Workbench& bench, const ToolPointer& at) override;
  void drop(Workbench& bench, const ToolPointer&) override {
    held_.reset();
    bench.pairs.end_move();
    changes_ = bench.pairs.changes();
  }
  bool key_down(Workbench& bench, int key, int) override;
  void put_down(Workbench& bench) override {
    held_.reset();
    bench.pairs.end_move();
  }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override;
  void draw_on_picture(Workbench& bench, ImDrawList& list, const PictureView& view) override;
  void options(Workbench& bench) override { draw_pair_form(bench); }

 private:
  struct Held {
    std::size_t pair = 0;
    bool moved = false;
  };
  static bool step_back(Pairs& pairs);

  std::optional<Held> held_;
  std::size_t changes_ = 0;  // steps not set yet, as the last frame had them
};

MarkLook look_of(const Pairs& pairs, std::size_t pair) {
  if (pairs.chosen == pair) return MarkLook::chosen;
  return doubtful_pair(pairs) == pair ? MarkLook::doubtful : MarkLook::plain;
}

// Where a pair's mark is in the pane or picture under the pointer.
std::optional<Vec2> mark_px(const Workbench& bench, const ToolPointer& at, const Pairs::Pair& pair) {
  if (at.pixel) return pair.pixel ? std::optional(bench.picture->to_px(*pair.pixel)) : std::nullopt;
  const auto item = bench.session.wall_item();
  if (!item || !pair.place || !at.pane) return std::nullopt;
  const auto px = on_screen(*item->wall, bench.views->surfaces(), at.pane->frame, *pair.place);
  return px ? std::optional(at.pane->corner + *px) : std::nullopt;
}

bool PairTool::grab(Workbench& bench, const ToolPointer& at) {
  const auto& all = bench.pairs.all();
  std::optional<std::size_t> nearest;
  double least = kHoldPx * bench.scale;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (const auto px = mark_px(bench, at, all[i]); px && glm::length(*px - at.px) < least) {
      least = glm::length(*px - at.px);
      nearest = i;
    }
  if (!nearest) return false;
  bench.pairs.chosen = nearest;
  held_ = Held{*nearest, false};
  return true;
}

void PairTool::drag(Workbench& bench, const ToolPointer& at) {
  if (!held_) return;
  const bool here = at.pixel ? bench.picture->on_picture(*at.pixel) : at.place.has_value();
  if (!here) return;
  if (!std::exchange(held_->moved, true)) bench.pairs.begin_move();
  if (at.pixel)
    bench.pairs.move(held_->pair, *at.pixel);
  else
    bench.pairs.move(held_->pair, *at.place);
}

void PairTool::press(Workbench& bench, const ToolPointer& at) {
  if (!bench.pairs.ready()) return bench.session.say("Add a picture on the Design page first");
  if (at.pixel && bench.picture->on_picture(*at.pixel))
    bench.pairs.put(*at.pixel);
  else if (!at.pixel && at.place)
    bench.pairs.put(*at.place);
  changes_ = bench.pairs.changes();
}

// Esc: first lets go of a mark, then takes back a pair that is half marked; then the tool is put away.
bool PairTool::step_back(Pairs& pairs) {
  if (!pairs.all().empty() && !pairs.all().back().whole()) return pairs.remove(pairs.all().size() - 1), true;
  if (!pairs.chosen) return false;
  pairs.chosen.reset();
  return true;
}

bool PairTool::key_down(Workbench& bench, int key, int) {
  Pairs& pairs = bench.pairs;
  bool used = true;
  if (key == GLFW_KEY_BACKSPACE) {
    used = pairs.take_back();
  } else if (key == GLFW_KEY_DELETE) {
    if (pairs.chosen) pairs.remove(*pairs.chosen);
  } else if (key == GLFW_KEY_ESCAPE) {
    used = step_back(pairs);
  } else {
    used = false;
  }
  changes_ = pairs.changes();
  return used;
}

void PairTool::draw(Workbench& bench, ImDrawList& list, const Pane& pane) {
  changes_ = bench.pairs.changes();
  const auto item = bench.session.wall_item();
  if (!item) return;
  const auto& all = bench.pairs.all();
  for (std::size_t i = 0; i < all.size(); ++i)
    if (all[i].place)
      if (const auto px = on_screen(*item->wall, bench.views->surfaces(), pane.frame, *all[i].place))
        draw_mark(list, pane.corner + *px, i + 1, look_of(bench.pairs, i), bench.scale);
}

// The marks, and from each a line to where the setting would show its place of the wall.
void PairTool::draw_on_picture(Workbench& bench, ImDrawList& list, const PictureView& view) {
  const auto item = bench.session.wall_item();
  const auto& all = bench.pairs.all();
  const Result<Fitted>* fitted = bench.pairs.fitted();
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!all[i].pixel) continue;
    const Vec2 at = view.to_px(*all[i].pixel);
    const auto place = item && all[i].place ? item->wall->position(*all[i].place) : std::nullopt;
    if (fitted && *fitted && place)
      if (const auto pixel = pixel_at((*fitted)->lay, (*fitted)->plate, view.picture()->size, *all[i].place, *place)) {
        const Vec2 to = view.to_px(*pixel);
        list.AddLine(ImVec2(static_cast<float>(at.x), static_cast<float>(at.y)),
                     ImVec2(static_cast<float>(to.x), static_cast<float>(to.y)), to_im(kWarn),
                     static_cast<float>(2 * bench.scale));
      }
    draw_mark(list, at, i + 1, look_of(bench.pairs, i), bench.scale);
  }
}

}  // namespace

std::unique_ptr<Tool> make_pair_tool() { return std::make_unique<PairTool>(); }

}  // namespace pontata
