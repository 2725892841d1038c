// Mouse and keys between the window system and ImGui, in the order they happened.
//
// ImGui 1.86 looks at the state of keys once a frame, so a press and its release in one frame would be lost. Events are
// queued, and at most one press or release goes into a frame; what follows it waits for the next.
#pragma once

#include <deque>
#include <vector>

#include "engine/base/vec.h"

struct ImGuiIO;

namespace pontata {

// Modifier bits as GLFW gives them.
inline constexpr int kShift = 1, kControl = 2, kAlt = 4;

struct InputEvent {
  enum class Kind { move, button, wheel, key, text };
  Kind kind = Kind::move;
  Vec2 at{0, 0};      // px of the framebuffer, from the upper left
  int code = 0;       // button 0 left, 1 right, 2 middle; or GLFW key
  bool down = false;  // press (or a key's repeat) or release
  int mods = 0;
  double wheel = 0;        // notches, away from the user positive
  unsigned character = 0;  // text
};

class InputQueue {
 public:
  void push(const InputEvent& event) {
    events_.push_back(event);
    pointer_ = event.at;
  }
  Vec2 pointer() const { return pointer_; }  // place of the last event pushed
  bool empty() const { return events_.empty(); }
  // Moves what belongs to one frame into `io` and returns it in order.
  std::vector<InputEvent> deliver(ImGuiIO& io);

 private:
  std::deque<InputEvent> events_;
  Vec2 pointer_{0, 0};
};

// GLFW key numbers in ImGui's table of the keys it needs.
void map_keys(ImGuiIO& io);

}  // namespace pontata
