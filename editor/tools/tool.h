// What the pointer and the keys do to the wall: one tool is in the hand at a time.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "editor/view/camera.h"
#include "editor/view/renderer.h"
#include "editor/view/state_colours.h"
#include "engine/base/result.h"

struct ImDrawList;

namespace pontata {

struct Workbench;
struct Pane;
class PictureView;

enum class ToolKind { look, outline, divide, nudge, join, zone, tape, lay, pair, trim };
inline constexpr std::size_t kTools = 10;

// Where the pointer is on the wall.
struct ToolPointer {
  const Pane* pane = nullptr;
  Vec2 px{0, 0};                    // of the window
  WallId wall;                      // whose painted side is seen there; none when it points beside all walls
  std::optional<ChartPoint> place;  // of the chosen wall; none when it points beside it
  std::optional<Vec2> pixel;        // of the chosen picture, where the pointer is over the picture itself
  int mods = 0;
};

class Tool {
 public:
  virtual ~Tool() = default;
  virtual const char* name() const = 0;
  virtual char key() const = 0;  // the letter that takes it up
  virtual std::string hint() const = 0;
  virtual bool drags_view() const { return false; }  // the left button turns the view

  virtual void move(Workbench&, const ToolPointer&) {}
  virtual void press(Workbench&, const ToolPointer&) {}
  // Whether a drag of the left button that begins here is the tool's own. Then drag() follows it, once it has left the
  // spot, and drop() ends it.
  virtual bool grab(Workbench&, const ToolPointer&) { return false; }
  virtual void drag(Workbench&, const ToolPointer&) {}
  virtual void drop(Workbench&, const ToolPointer&) {}
  // GLFW key; true when it was of use.
  virtual bool key_down(Workbench&, int, int) { return false; }
  virtual void put_down(Workbench&) {}  // another tool was taken up, or the project changed
  virtual void draw(Workbench&, ImDrawList&, const Pane&) {}
  virtual bool wants_picture() const { return false; }  // the chosen picture itself stands beside the wall
  virtual void draw_on_picture(Workbench&, ImDrawList&, const PictureView&) {}
  virtual void options(Workbench&) {}  // fields on the tool strip and below it
  virtual std::size_t points() const { return 0; }
  // Gives the line drawn so far to `taker` and puts it down; nothing where the tool draws none.
  virtual void hand_over(Workbench&, std::function<void(const std::vector<ChartPoint>&)> /*taker*/) {}
  // What the line to the pointer follows, in plain words; empty where there is none.
  virtual std::string follows(const Workbench&) const { return ""; }
};

std::unique_ptr<Tool> make_look_tool();
std::unique_ptr<Tool> make_outline_tool();
std::unique_ptr<Tool> make_divide_tool();
std::unique_ptr<Tool> make_nudge_tool();
std::unique_ptr<Tool> make_join_tool();
std::unique_ptr<Tool> make_zone_tool();
std::unique_ptr<Tool> make_tape_tool();
std::unique_ptr<Tool> make_lay_tool();
std::unique_ptr<Tool> make_pair_tool();
std::unique_ptr<Tool> make_trim_tool();

// Lines and dots over a pane: dark core with light casing.
void draw_stroke(ImDrawList& list, const Workbench& bench, const Pane& pane, const std::vector<ChartPoint>& line,
                 bool closed, Rgb core);
void draw_strokes(ImDrawList& list, const Workbench& bench, const Pane& pane,
                  const std::vector<std::vector<ChartPoint>>& lines, Rgb core);
void draw_dot(ImDrawList& list, const Workbench& bench, const Pane& pane, ChartPoint place, bool marked);

// A ring round the place of a fault.
void draw_fault(ImDrawList& list, const Workbench& bench, const Pane& pane, ChartPoint place);

// m on the wall that so many px (at 100 %) make up at the pointer; nullopt beside the wall.
std::optional<double> px_in_m(const Workbench& bench, const ToolPointer& at, double px);

// The keys of a line that is drawn click by click: Enter, Backspace and Esc. False for any other.
struct LineKeys {
  std::function<void()> finish, take_back, give_up;
};
bool line_key(int key, const LineKeys& does);

// px between a chart place as seen in a pane and a pixel of the window; nullopt when it is not in view.
std::optional<double> px_away(const Workbench& bench, const Pane& pane, ChartPoint place, Vec2 px);

// "u v" a line, metres or with units, comma or point as decimal mark; blank lines are skipped.
Result<std::vector<ChartPoint>> read_places(const std::string& text);
// "x y" a line, pixels of a picture from its upper left.
Result<std::vector<Vec2>> read_pixels(const std::string& text);

}  // namespace pontata
