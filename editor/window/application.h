// One frame of the window: events in, panels and views out.
#pragma once

#include <memory>

#include "editor/view/gui_painter.h"
#include "editor/window/input_queue.h"
#include "editor/window/view_input.h"
#include "editor/window/workbench.h"

namespace pontata {

class Application {
 public:
  // Precondition: a current OpenGL context and a current ImGui context. `wake` makes the event loop turn once more.
  Application(std::function<void()> wake, double screen_scale);

  Workbench& bench() { return bench_; }
  InputQueue& queue() { return queue_; }
  void set_screen_scale(double scale);

  // Draws into framebuffer 0 of this size (px). Events wait in the queue; one press or release goes in per frame.
  void frame(int width, int height, double seconds);
  // Frames still wanted before the loop may sleep.
  bool restless() const { return settle_ > 0 || !queue_.empty(); }
  void unsettle() { settle_ = 3; }
  // Seconds after which the loop should turn without any event; 0 for never.
  double due() const { return due_; }
  int cursor() const { return cursor_; }  // ImGuiMouseCursor, or kWide / kTall over a divider
  static constexpr int kWide = 100, kTall = 101;

 private:
  void update_scale();
  void draw_regions(const Layout& layout);
  void place_views(const Layout& layout);
  void draw_picture();
  void draw_marks();
  void draw_wall_numbers(ImDrawList& list, const Pane& pane, const WallItem& item, bool quiet);
  void find_cursor(const Layout& layout);
  void record();

  Workbench bench_;
  InputQueue queue_;
  ViewInput input_;
  std::unique_ptr<GuiPainter> painter_;
  double screen_scale_ = 1;
  int settle_ = 3;
  bool was_busy_ = false;
  double due_ = 0;
  int cursor_ = 0;
};

}  // namespace pontata
