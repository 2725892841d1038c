// Places clicked one after another, and the one under the pointer.
#pragma once

#include <optional>
#include <vector>

#include "editor/tools/tool.h"

namespace pontata {

class ClickedPoints {
 public:
  const std::vector<ChartPoint>& all() const { return points_; }
  std::size_t count() const { return points_.size(); }
  bool empty() const { return points_.empty(); }
  void add(ChartPoint place) { points_.push_back(place); }
  void take_back() {
    if (!points_.empty()) points_.pop_back();
  }
  void clear() {
    points_.clear();
    live_.reset();
  }
  void follow(const ToolPointer& at) { live_ = at.place; }
  const std::optional<ChartPoint>& live() const { return live_; }
  std::vector<ChartPoint> with_live() const;  // the places, and the pointer's behind them

 private:
  std::vector<ChartPoint> points_;
  std::optional<ChartPoint> live_;
};

// The pointer is on the first of three places or more: a click there closes the line.
bool on_first(const Workbench& bench, const ToolPointer& at, const std::vector<ChartPoint>& points);

// A box of typed places, "u v" a line, and a button that hands them over.
class TypedPlaces {
 public:
  // The places once the button was pressed, each on the wall or brought to its border from at most 5 mm beside; what
  // cannot be read is complained of. `name`: of the box and the button for the trace.
  std::optional<std::vector<ChartPoint>> draw(Workbench& bench, const std::string& name, const char* button);
  void put(const std::vector<ChartPoint>& places);  // into the box

 private:
  std::string text_;
};

}  // namespace pontata
