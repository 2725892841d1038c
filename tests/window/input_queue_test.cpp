#include "editor/window/input_queue.h"

#include <imgui.h>

#include <catch2/catch.hpp>

using namespace pontata;

namespace {

struct Gui {
  Gui() {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplaySize = ImVec2(200, 200);
    unsigned char* pixels = nullptr;
    int w = 0, h = 0;
    io.Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
    map_keys(io);
  }
  ~Gui() { ImGui::DestroyContext(); }
  // One frame with a button over the whole window; true when it was pressed.
  bool frame(InputQueue& queue) {
    queue.deliver(ImGui::GetIO());
    ImGui::GetIO().DeltaTime = 0.016f;
    ImGui::NewFrame();
    ImGui::SetNextWindowPos(ImVec2(0, 0));
    ImGui::SetNextWindowSize(ImVec2(200, 200));
    ImGui::Begin("all");
    const bool pressed = ImGui::Button("press", ImVec2(150, 150));
    ImGui::End();
    ImGui::Render();
    return pressed;
  }
};

InputEvent button(bool down) {
  InputEvent e;
  e.kind = InputEvent::Kind::button;
  e.at = {60, 80};
  e.down = down;
  return e;
}

}  // namespace

TEST_CASE("a press and its release that arrive together still press the button") {
  Gui gui;
  InputQueue queue;
  InputEvent move;
  move.at = {60, 80};
  queue.push(move);
  gui.frame(queue);
  gui.frame(queue);
  queue.push(button(true));
  queue.push(button(false));
  int pressed = 0;
  for (int i = 0; i < 4; ++i) pressed += gui.frame(queue);
  CHECK(pressed == 1);
  CHECK(queue.empty());
}

TEST_CASE("events keep their order, and one press or release goes into a frame") {
  Gui gui;
  InputQueue queue;
  InputEvent move;
  queue.push(move);
  queue.push(button(true));
  queue.push(move);
  queue.push(button(false));
  InputEvent text;
  text.kind = InputEvent::Kind::text;
  text.character = 'e';
  queue.push(text);
  CHECK(queue.deliver(ImGui::GetIO()).size() == 2);
  CHECK(ImGui::GetIO().MouseDown[0]);
  CHECK(queue.deliver(ImGui::GetIO()).size() == 2);
  CHECK_FALSE(ImGui::GetIO().MouseDown[0]);
  CHECK(queue.deliver(ImGui::GetIO()).size() == 1);
  CHECK(queue.deliver(ImGui::GetIO()).empty());
}
