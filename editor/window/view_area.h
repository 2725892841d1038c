// The middle of the window: the wall in 3D and flat, side by side or one above the other, with one cursor for both.
#pragma once

#include <array>
#include <memory>
#include <optional>

#include "editor/view/gl_objects.h"
#include "editor/view/wall_marks.h"
#include "editor/view/wall_scene.h"
#include "editor/window/session.h"

struct ImDrawList;

namespace pontata {

// A place of the wall under the pointer.
struct Hover {
  ViewKind view = ViewKind::space;
  ChartPoint chart;
  Vec3 place{0, 0, 0};  // m, building; z is the height above its zero
};

// One of the two views as it stands on screen now.
struct Pane {
  ViewFrame frame;
  Vec2 corner{0, 0};  // px of the window
  bool holds(Vec2 px) const {
    return px.x >= corner.x && px.y >= corner.y && px.x < corner.x + frame.width && px.y < corner.y + frame.height;
  }
  ViewSize size() const { return {static_cast<double>(frame.width), static_cast<double>(frame.height)}; }
};

class ViewArea {
 public:
  explicit ViewArea(std::unique_ptr<Renderer> renderer);

  // Gives both views their place inside this rectangle; `split` is the first one's share.
  void place(Vec2 corner, Vec2 size, double split, double scale);
  // The divider between them, px: x, y, width, height.
  std::array<double, 4> divider() const { return divider_; }
  bool side_by_side() const { return side_by_side_; }

  // Takes up what changed in the project; a wall shown for the first time gets its first view.
  void follow(const Session& session);
  // Draws again what changed since the last call. Leaves some framebuffer bound.
  void redraw();
  // Puts the pictures into the window's background.
  void paint(ImDrawList& list) const;

  const Pane* pane_at(Vec2 px) const;
  const Pane& pane(ViewKind kind) const { return panes_[static_cast<std::size_t>(kind)]; }
  // Wall place under a pixel of a pane.
  std::optional<Hover> look(const Pane& pane, Vec2 px) const;
  // Chart place meant by a pixel: like look, but in the flat view a place off the wall is brought to its border.
  std::optional<ChartPoint> meant(const Pane& pane, Vec2 px) const;

  void orbit(Vec2 moved, const Vec3& pivot);
  void pan(ViewKind kind, Vec2 moved, const Vec3& pivot);
  void zoom(const Pane& pane, Vec2 px, double factor);
  void fit();                                      // both views to the whole wall
  void fly_to(ChartPoint place, double across_m);  // both views to a place, about this much of the wall in view
  Vec3 pivot(const Pane& pane, Vec2 px) const;     // what a drag from here turns about

 private:
  ViewFrame& frame(ViewKind kind) { return panes_[static_cast<std::size_t>(kind)].frame; }

  WallScene scene_;
  std::array<Pane, 2> panes_;  // by ViewKind
  std::array<DrawTarget, 2> targets_;
  std::array<std::optional<ViewFrame>, 2> drawn_;
  std::array<double, 4> divider_{};
  bool side_by_side_ = true;
  std::shared_ptr<const WallItem> item_;
  WallRef fitted_;  // whose first view was set
};

}  // namespace pontata
