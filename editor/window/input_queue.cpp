#include "editor/window/input_queue.h"

#include <imgui.h>

// Header only: its key numbers.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include <algorithm>
#include <array>
#include <utility>

namespace pontata {
namespace {

void hand_over(ImGuiIO& io, const InputEvent& e) {
  io.MousePos = ImVec2(static_cast<float>(e.at.x), static_cast<float>(e.at.y));
  switch (e.kind) {
    case InputEvent::Kind::move:
      break;
    case InputEvent::Kind::button:
      if (e.code >= 0 && e.code < 5) io.MouseDown[e.code] = e.down;
      break;
    case InputEvent::Kind::wheel:
      io.MouseWheel += static_cast<float>(e.wheel);
      break;
    case InputEvent::Kind::key:
      if (e.code >= 0 && e.code < IM_ARRAYSIZE(io.KeysDown)) io.KeysDown[e.code] = e.down;
      break;
    case InputEvent::Kind::text:
      io.AddInputCharacter(e.character);
      break;
  }
}

}  // namespace

std::vector<InputEvent> InputQueue::deliver(ImGuiIO& io) {
  std::vector<InputEvent> out;
  while (!events_.empty()) {
    const InputEvent e = events_.front();
    events_.pop_front();
    io.KeyShift = (e.mods & kShift) != 0;
    io.KeyCtrl = (e.mods & kControl) != 0;
    io.KeyAlt = (e.mods & kAlt) != 0;
    // A key that repeats while held must look released for a moment; ImGui repeats by itself, so it is left down.
    hand_over(io, e);
    out.push_back(e);
    if (e.kind == InputEvent::Kind::button || e.kind == InputEvent::Kind::key) break;
  }
  return out;
}

void map_keys(ImGuiIO& io) {
  constexpr std::array<std::pair<ImGuiKey_, int>, 22> kKeys{{{ImGuiKey_Tab, GLFW_KEY_TAB},
                                                             {ImGuiKey_LeftArrow, GLFW_KEY_LEFT},
                                                             {ImGuiKey_RightArrow, GLFW_KEY_RIGHT},
                                                             {ImGuiKey_UpArrow, GLFW_KEY_UP},
                                                             {ImGuiKey_DownArrow, GLFW_KEY_DOWN},
                                                             {ImGuiKey_PageUp, GLFW_KEY_PAGE_UP},
                                                             {ImGuiKey_PageDown, GLFW_KEY_PAGE_DOWN},
                                                             {ImGuiKey_Home, GLFW_KEY_HOME},
                                                             {ImGuiKey_End, GLFW_KEY_END},
                                                             {ImGuiKey_Insert, GLFW_KEY_INSERT},
                                                             {ImGuiKey_Delete, GLFW_KEY_DELETE},
                                                             {ImGuiKey_Backspace, GLFW_KEY_BACKSPACE},
                                                             {ImGuiKey_Space, GLFW_KEY_SPACE},
                                                             {ImGuiKey_Enter, GLFW_KEY_ENTER},
                                                             {ImGuiKey_Escape, GLFW_KEY_ESCAPE},
                                                             {ImGuiKey_KeyPadEnter, GLFW_KEY_KP_ENTER},
                                                             {ImGuiKey_A, GLFW_KEY_A},
                                                             {ImGuiKey_C, GLFW_KEY_C},
                                                             {ImGuiKey_V, GLFW_KEY_V},
                                                             {ImGuiKey_X, GLFW_KEY_X},
                                                             {ImGuiKey_Y, GLFW_KEY_Y},
                                                             {ImGuiKey_Z, GLFW_KEY_Z}}};
  for (const auto& [ours, theirs] : kKeys) io.KeyMap[ours] = theirs;
}

}  // namespace pontata
