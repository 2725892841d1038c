#include "editor/window/view_input.h"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <cmath>

#include "editor/stages/stage.h"
#include "editor/window/choosing.h"
#include "editor/window/commands.h"

namespace pontata {
namespace {

constexpr double kClickPx = 4;  // a press that moves less is a click

ToolPointer pointer_at(const Workbench& bench, Vec2 px, int mods) {
  ToolPointer at;
  at.px = px;
  at.mods = mods;
  if (bench.picture->holds(px)) {
    at.pixel = bench.picture->to_pixel(px);
    return at;
  }
  at.pane = bench.views->pane_at(px);
  if (!at.pane) return at;
  at.place = bench.views->meant(*at.pane, px);
  if (const auto seen = bench.views->look(*at.pane, px)) at.wall = seen->wall;
  return at;
}

// The Look tool chooses only what it points at: another wall, which becomes the chosen one, or a place of this one. A
// place beside all walls chooses nothing.
ToolPointer look_at(Workbench& bench, Vec2 px, int mods) {
  ToolPointer at = pointer_at(bench, px, mods);
  at.place.reset();
  const auto seen = at.pane ? bench.views->look(*at.pane, px) : std::nullopt;
  if (!seen) return at;
  // With Shift or Ctrl what is chosen there joins what was chosen before.
  if (seen->wall != bench.session.wall() && !(mods & (kShift | kControl))) {
    bench.session.choose_wall(seen->wall);
    bench.session.say("Wall " + bench.session.wall_item()->name);
  }
  at.place = seen->chart;
  return at;
}

// The name of the other wall that is seen at the pointer, where a tool that works on the chosen one can do nothing.
void say_other_wall(Workbench& bench, const ToolPointer& at) {
  const WallItem* other =
      at.wall && at.wall != bench.session.wall() ? bench.session.document()->wall(at.wall) : nullptr;
  if (other) bench.session.say("This is the wall " + other->name + ". Click it with Look (L) to work on it.");
}

bool control_key(Workbench& bench, int key, bool shift) {
  switch (key) {
    case GLFW_KEY_O:
      return ask_open(bench), true;
    case GLFW_KEY_N:
      return new_project(bench), true;
    case GLFW_KEY_S:
      return shift ? ask_save_as(bench) : save(bench), true;
    case GLFW_KEY_Z:
      return shift ? redo(bench) : undo(bench), true;
    case GLFW_KEY_Y:
      return redo(bench), true;
    case GLFW_KEY_A:
      return choose_all_here(bench), true;
    case GLFW_KEY_Q:
      return quit(bench), true;
    default:
      return false;
  }
}

}  // namespace

void show_whole(Workbench& bench) {
  const bool all = bench.views->fit();
  if (bench.session.document()->walls.size() > 1)
    bench.session.say(all ? "All walls. F again: the chosen wall." : "The chosen wall. F again: all walls.");
}

bool shortcut(Workbench& bench, int key, int mods, bool typing) {
  const bool drawing = bench.tool().points() > 0;
  if (mods & kControl) {
    // Not beneath a dialog: the project it speaks of must not change under it.
    if (ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel)) return false;
    if (key == GLFW_KEY_Z && drawing && !typing) return bench.tool().key_down(bench, GLFW_KEY_BACKSPACE, 0);
    // A field being typed in undoes its own text, and chooses all of it.
    const bool of_text = key == GLFW_KEY_Z || key == GLFW_KEY_Y || key == GLFW_KEY_A;
    return typing && of_text ? false : control_key(bench, key, (mods & kShift) != 0);
  }
  if (typing || (mods & kAlt)) return false;
  if (key == GLFW_KEY_DELETE && drawing) return bench.tool().key_down(bench, GLFW_KEY_BACKSPACE, 0);
  if (bench.tool().key_down(bench, key, mods)) return true;
  for (std::size_t i = 0; i < kTools; ++i)
    if (key == bench.tools[i]->key()) return take_tool(bench, static_cast<ToolKind>(i)), true;
  switch (key) {
    case GLFW_KEY_F:
      return show_whole(bench), true;
    case GLFW_KEY_H:
      return bench.hug_on = !bench.hug_on, true;
    case GLFW_KEY_DELETE:
      return remove_chosen(bench), true;
    case GLFW_KEY_ESCAPE:
      if (bench.tool_kind != ToolKind::look)
        take_tool(bench, ToolKind::look);
      else
        bench.session.choose({});
      return true;
    default:
      return false;
  }
}

std::optional<Divider> ViewInput::divider_at(const Workbench& bench, const Layout& layout, Vec2 px) const {
  if (drag_ && drag_->divider) return drag_->divider;
  for (std::size_t i = 0; i < kDividers; ++i)
    if (layout.dividers[i].holds(px.x, px.y)) return static_cast<Divider>(i);
  const auto [x, y, w, h] = bench.views->divider();
  return Region{x, y, w, h}.holds(px.x, px.y) ? std::optional(Divider::views) : std::nullopt;
}

void ViewInput::handle(Workbench& bench, const Layout& layout, const InputEvent& e, bool panel_has_mouse,
                       bool panel_has_keys) {
  bench.pointer = e.at;
  const bool shift_changed = (bench.mods & kShift) != (e.mods & kShift);
  bench.mods = e.mods;
  const bool over_panel = panel_has_mouse && !drag_;
  switch (e.kind) {
    case InputEvent::Kind::move:
      return move(bench, layout, e, over_panel);
    case InputEvent::Kind::button:
      if (!e.down) return release(bench, e);
      if (!over_panel) press(bench, layout, e);
      return;
    case InputEvent::Kind::wheel:
      if (!over_panel && bench.picture->holds(e.at)) {
        bench.picture->zoom(std::pow(1.18, e.wheel), e.at);
        move(bench, layout, e, false);
      } else if (const Pane* pane = over_panel ? nullptr : bench.views->pane_at(e.at)) {
        bench.views->zoom(*pane, e.at, std::pow(1.18, e.wheel));
        move(bench, layout, e, false);
      }
      return;
    case InputEvent::Kind::key:
      if (e.down) shortcut(bench, e.code, e.mods, panel_has_keys);
      if (shift_changed || e.down) move(bench, layout, e, over_panel);
      return;
    case InputEvent::Kind::text:
      return;
  }
}

void ViewInput::press(Workbench& bench, const Layout& layout, const InputEvent& e) {
  if (drag_) return;
  Drag d;
  d.button = e.code;
  d.start = d.last = e.at;
  d.divider = divider_at(bench, layout, e.at);
  const Pane* pane = bench.views->pane_at(e.at);
  d.of_picture = bench.picture->holds(e.at);
  if (!d.divider && !pane && !d.of_picture) return;
  if (pane) {
    d.view = pane->frame.kind;
    d.pivot = bench.views->pivot(*pane, e.at);
  }
  if (e.code == 0 && !d.divider) {
    const ToolPointer at = pointer_at(bench, e.at, e.mods);
    d.of_tool = bench.tool().grab(bench, at);
    if (!d.of_tool && (d.of_picture || !bench.tool().drags_view())) {
      bench.tool().press(bench, at);
      return say_other_wall(bench, at);
    }
  }
  drag_ = d;
}

void ViewInput::release(Workbench& bench, const InputEvent& e) {
  if (!drag_ || drag_->button != e.code) return;
  const Drag d = *drag_;
  drag_.reset();
  if (d.of_tool) return bench.tool().drop(bench, pointer_at(bench, e.at, e.mods));
  if (!d.moved && !d.divider && d.button == 0) bench.tool().press(bench, look_at(bench, e.at, e.mods));
}

void ViewInput::move(Workbench& bench, const Layout& layout, const InputEvent& e, bool over_panel) {
  if (drag_) drag(bench, layout, e.at);
  const Pane* pane = over_panel ? nullptr : bench.views->pane_at(e.at);
  bench.hover_pixel.reset();
  if (!over_panel && bench.picture->holds(e.at)) bench.hover_pixel = bench.picture->to_pixel(e.at);
  bench.hover = pane ? bench.views->look(*pane, e.at) : std::nullopt;
  if (!drag_) bench.tool().move(bench, over_panel ? ToolPointer{} : pointer_at(bench, e.at, e.mods));
}

void ViewInput::drag_shares(Workbench& bench, const Layout& layout, Divider divider, Vec2 by) const {
  const auto moved = [&](double share, bool beside, double width, double height) {
    return std::clamp(share + (beside ? by.x / width : by.y / height), 0.1, 0.9);
  };
  const Region& views = layout.views;
  WindowSettings& s = bench.settings;
  if (divider == Divider::views)
    s.split = moved(s.split, bench.views->side_by_side(), views.width, views.height);
  else if (divider == Divider::picture)
    s.picture = moved(s.picture, layout.picture_beside, views.width + layout.picture.width,
                      views.height + layout.picture.height);
  else if (divider == Divider::page && page_is_wide(bench))
    drag_wide_page(s, by.x, bench.scale);
  else
    drag_divider(s, divider, by.x, by.y, bench.scale);
}

void ViewInput::drag(Workbench& bench, const Layout& layout, Vec2 px) {
  Drag& d = *drag_;
  if (!d.moved && glm::length(px - d.start) < kClickPx * bench.scale) return;
  d.moved = true;
  const Vec2 by = px - d.last;
  d.last = px;
  if (d.of_tool) {
    bench.tool().drag(bench, pointer_at(bench, px, bench.mods));
  } else if (d.divider) {
    drag_shares(bench, layout, *d.divider, by);
  } else if (d.of_picture) {
    bench.picture->pan(by);
  } else if (d.view == ViewKind::flat || d.button != 0 || (bench.mods & kShift)) {
    bench.views->pan(d.view, by, d.pivot);
  } else {
    bench.views->orbit(by, d.pivot);
  }
}

}  // namespace pontata
