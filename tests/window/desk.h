// The real window under a display of its own, driven by mouse and keys and watched through its trace.
#pragma once

#include <sys/types.h>

#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

namespace pontata {

using Json = nlohmann::json;

// A virtual display and folders of its own for state and settings; all gone at the end.
class Desk {
 public:
  Desk();
  ~Desk();
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;

  std::string folder() const { return folder_; }
  std::string file(const std::string& name) const { return folder_ + "/" + name; }

  // A flat wall of 6 by 3 m, "nave", with giornate drawn round these corners, "u v" a line each.
  void flat_wall(const std::string& project, const std::vector<std::string>& giornate) const;
  // Of the window when it is opened next: 1 is 100 %.
  void set_scale(double scale, int width, int height) const;

  // A verb of the program; its stdout. Fails the test unless it exits 0.
  std::string verb(const std::string& arguments) const;

  void open(const std::string& project);  // starts the window and waits until it has drawn and is at rest
  int wait_exit();                        // status of the window once it has closed
  void kill_hard();                       // as a power cut

  Json state() const;  // the last line of the trace
  // Waits until the state satisfies this; fails the test after a minute, saying what was awaited.
  Json wait(const std::string& what, const std::function<bool(const Json&)>& holds) const;

  void mouse_to(double x, double y) const;
  void click() const;
  void hold() const;  // presses the left button and moves a little
  void let_go() const;
  void drag_to(double x, double y) const;        // with the left button, from where the pointer is
  void key_down(const std::string& name) const;  // held until key_up
  void key_up(const std::string& name) const;
  void wheel(int notches) const;              // away from the user positive
  void keys(const std::string& names) const;  // as xdotool names them, such as "ctrl+z Return"
  void type(const std::string& text) const;
  void press_control(const std::string& name) const;  // a button of the trace's list; its panel is scrolled to it
  void point_at_control(const std::string& name) const;
  void fill(const std::string& control, const std::string& text) const;  // types it over what stands in the field
  void stage(const std::string& name) const;
  void take_tool(const std::string& key, const std::string& name) const;
  void choose_file(const std::string& path) const;  // in the file browser that opens
  // Types places into the box of the tool's strip, one a line, and hands them over.
  void type_places(const std::string& tool, const std::vector<std::string>& places) const;
  std::pair<double, double> flat_px(double u, double v) const;     // of a chart place in the flat view
  std::pair<double, double> picture_px(double x, double y) const;  // of a pixel of the picture itself
  // Pointer to a chart place in the flat view; waits until the window says it is there.
  void point_at(double u, double v) const;
  // Pointer to a pixel of the chosen picture, seen beside the wall.
  void point_at_pixel(double x, double y) const;
  // Moves the picture so that the pixel is in the middle, about so many px of the screen a pixel.
  void near_pixel(double x, double y, double px_per_pixel) const;
  // Moves the flat view so that about `across` m round the place are in view.
  void near(double u, double v, double across) const;

  void screenshot(const std::string& name) const;

  // Ctrl and S; the bytes of the file then.
  std::string save(const std::string& project) const;
  // Ctrl and Z, which must give the project as it was saved: the same bytes.
  void undo_to(const std::string& project, const std::string& saved) const;

 private:
  std::string shell(const std::string& command) const;

  std::string folder_, trace_, display_;
  pid_t server_ = -1, window_ = -1;
  int runs_ = 0;
};

}  // namespace pontata
