// Mouse and keys that no panel wants: dividers, the views, the tool in hand, shortcuts.
#pragma once

#include <optional>

#include "editor/window/input_queue.h"
#include "editor/window/layout.h"
#include "editor/window/workbench.h"

namespace pontata {

class ViewInput {
 public:
  // `panel_has_mouse`, `panel_has_keys`: ImGui wants them.
  void handle(Workbench& bench, const Layout& layout, const InputEvent& event, bool panel_has_mouse,
              bool panel_has_keys);
  // The divider under the pointer or being dragged.
  std::optional<Divider> divider_at(const Workbench& bench, const Layout& layout, Vec2 px) const;

 private:
  struct Drag {
    int button = 0;
    Vec2 start{0, 0}, last{0, 0};
    bool moved = false;
    bool of_tool = false;     // the tool has taken hold of something
    bool of_picture = false;  // the picture itself is shifted
    std::optional<Divider> divider;
    ViewKind view = ViewKind::space;
    Vec3 pivot{0, 0, 0};
  };
  void press(Workbench& bench, const Layout& layout, const InputEvent& event);
  void release(Workbench& bench, const InputEvent& event);
  void move(Workbench& bench, const Layout& layout, const InputEvent& event, bool over_panel);
  void drag(Workbench& bench, const Layout& layout, Vec2 px);
  void drag_shares(Workbench& bench, const Layout& layout, Divider divider, Vec2 by) const;

  std::optional<Drag> drag_;
};

// Both views to the whole wall, or the 3D view to all walls; says which.
void show_whole(Workbench& bench);

// Ctrl shortcuts and the tools' letters. True when the key was of use.
bool shortcut(Workbench& bench, int key, int mods, bool typing);

}  // namespace pontata
