// The middle of the window: the wall in 3D and flat, side by side or one above the other, with one cursor for both.
#pragma once

#include <array>
#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <optional>

#include "editor/view/gl_objects.h"
#include "editor/view/wall_marks.h"
#include "editor/view/wall_scene.h"
#include "editor/window/session.h"

struct ImDrawList;

namespace pontata {

// A place of a wall under the pointer: in the flat view of the chosen one, in 3D of the nearest whose painted side is
// seen.
struct Hover {
  ViewKind view = ViewKind::space;
  WallId wall;
  ChartPoint chart;
  Vec3 place{0, 0, 0};  // m, building; z is the height above its zero
};

// One of the two views as it stands on screen now.
struct Pane {
  ViewFrame frame;
  bool shown = true;
  Vec2 corner{0, 0};  // px of the window
  bool holds(Vec2 px) const {
    return shown && px.x >= corner.x && px.y >= corner.y && px.x < corner.x + frame.width &&
           px.y < corner.y + frame.height;
  }
  ViewSize size() const { return frame.size(); }
};

enum class ViewsShown { both, space, flat };

class ViewArea {
 public:
  // `wake` makes the event loop turn once more; it may be called from any thread.
  ViewArea(std::unique_ptr<Renderer> renderer, std::function<void()> wake);

  // Gives both views their place inside this rectangle; `split` is the first one's share.
  void place(Vec2 corner, Vec2 size, double split, double scale, ViewsShown shown = ViewsShown::both);
  // The divider between them, px: x, y, width, height; nothing wide where only one is shown.
  std::array<double, 4> divider() const { return divider_; }
  bool side_by_side() const { return side_by_side_; }

  // Over the walls; read by follow().
  bool show_contours = false;  // of the chosen wall's pictures
  bool show_squares = true;    // where the project has a step for them

  // What pages show over the walls: asked for anew in each frame, after forget_shown(). How much the seams of a wall
  // show from an eye point:
  void show_heat(WallId wall, std::shared_ptr<const std::vector<HeatLine>> lines);
  // Lines on one wall that are pointed out, the last ones asked for.
  void point_out(WallId wall, const std::vector<std::vector<ChartPoint>>& lines);
  void forget_shown();
  int pointing = 0;  // whose lines are shown: a page's part takes a number of its own when it is clicked

  // Takes up what changed in the project. The flat view goes to a wall chosen for the first time; the 3D view, which
  // shows all walls, only moves by itself when the room that the walls take up is another
  // than before.
  void follow(Session& session);
  // Draws again what changed since the last call. While the eye moves over a large wall less detail is drawn, as much
  // as keeps it fluent; the true surface follows when the eye has been at rest for a moment. Leaves some framebuffer
  // bound.
  void redraw();
  double due() const { return due_; }  // seconds until redraw wants to be called again; 0: only when something changes
  // Puts the pictures into the window's background.
  void paint(ImDrawList& list) const;

  const Pane* pane_at(Vec2 px) const;
  const Pane& pane(ViewKind kind) const { return panes_[static_cast<std::size_t>(kind)]; }
  // Wall place under a pixel of a pane.
  std::optional<Hover> look(const Pane& pane, Vec2 px) const;
  // Place of the chosen wall's chart meant by a pixel: none where another wall is seen; in the flat view a place off
  // the wall is brought to its border.
  std::optional<ChartPoint> meant(const Pane& pane, Vec2 px) const;
  const std::vector<WallRef>& surfaces() const { return surfaces_; }  // of all walls

  void orbit(Vec2 moved, const Vec3& pivot);
  void pan(ViewKind kind, Vec2 moved, const Vec3& pivot);
  void zoom(const Pane& pane, Vec2 px, double factor);
  // Both views to the whole chosen wall; where the 3D view shows just that already, to all walls (true then).
  bool fit();
  void fly_to(ChartPoint place, double across_m);  // both views to a place, about this much of the wall in view
  Vec3 pivot(const Pane& pane, Vec2 px) const;     // what a drag from here turns about

 private:
  ViewFrame& frame(ViewKind kind) { return panes_[static_cast<std::size_t>(kind)].frame; }

  WallScene scene_;
  std::array<Pane, 2> panes_;  // by ViewKind
  std::array<DrawTarget, 2> targets_;
  struct Drawn {
    ViewFrame frame;
    bool true_surface = true;
  };
  std::array<std::optional<Drawn>, 2> drawn_;  // what the targets hold
  void draw_moving(std::size_t view);
  void draw_at_rest(std::size_t view);
  void fit_flat();
  void fit_all();  // the 3D view to all walls
  DetailBudget budget_;
  std::chrono::steady_clock::time_point moved_{};  // when less than the true surface was last drawn
  double due_ = 0;
  std::array<double, 4> divider_{};
  bool side_by_side_ = true;
  std::shared_ptr<const WallItem> item_;
  Walls walls_;
  std::map<WallId, std::shared_ptr<const std::vector<HeatLine>>> heat_;
  WallId pointed_wall_;
  std::shared_ptr<const std::vector<std::vector<ChartPoint>>> pointed_, last_pointed_;
  std::vector<WallRef> surfaces_;
  struct Fitted {
    WallId wall;
    ChartBox box;
    bool same_as(const WallItem& item) const;
  };
  std::optional<Fitted> fitted_flat_;  // what the views were fitted to
  std::optional<Ball> fitted_space_;
};

}  // namespace pontata
