#include "editor/window/open_window.h"

#include <epoxy/gl.h>
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <exception>

#include "editor/window/application.h"
#include "editor/window/commands.h"

namespace pontata {
namespace {

int cannot_open(const std::string& why) {
  std::fprintf(
      stderr,
      "pontata: the window cannot open: %s. Every step also has a verb that needs no display; see pontata --help.\n",
      why.c_str());
  return 1;
}

Application& application(GLFWwindow* window) { return *static_cast<Application*>(glfwGetWindowUserPointer(window)); }

// Window coordinates to px of the framebuffer.
Vec2 in_px(GLFWwindow* window, double x, double y) {
  int w = 1, h = 1, fw = 1, fh = 1;
  glfwGetWindowSize(window, &w, &h);
  glfwGetFramebufferSize(window, &fw, &fh);
  return {x * fw / std::max(w, 1), y * fh / std::max(h, 1)};
}
// Where the pointer was when the event happened. The window system's own answer would be where it is by now.
Vec2 pointer(GLFWwindow* window) { return application(window).queue().pointer(); }

int mods_now(GLFWwindow* window) {
  const auto held = [&](int a, int b) {
    return glfwGetKey(window, a) == GLFW_PRESS || glfwGetKey(window, b) == GLFW_PRESS;
  };
  return (held(GLFW_KEY_LEFT_SHIFT, GLFW_KEY_RIGHT_SHIFT) ? kShift : 0) |
         (held(GLFW_KEY_LEFT_CONTROL, GLFW_KEY_RIGHT_CONTROL) ? kControl : 0) |
         (held(GLFW_KEY_LEFT_ALT, GLFW_KEY_RIGHT_ALT) ? kAlt : 0);
}

// Letters by what is printed on the key, so that shortcuts follow the keyboard's own layout.
int named_key(int key, int scancode) {
  const bool printable = key >= GLFW_KEY_SPACE && key <= GLFW_KEY_WORLD_2 && key != GLFW_KEY_SPACE;
  const char* name = printable ? glfwGetKeyName(key, scancode) : nullptr;
  if (!name || name[0] == 0 || name[1] != 0) return key;
  const char c = name[0];
  return c >= 'a' && c <= 'z' ? c - 'a' + GLFW_KEY_A : key;
}

void on_key(GLFWwindow* window, int key, int scancode, int action, int) {
  if (key < 0) return;
  InputEvent e;
  e.kind = InputEvent::Kind::key;
  e.code = named_key(key, scancode);
  e.down = action != GLFW_RELEASE;
  e.at = pointer(window);
  e.mods = mods_now(window);
  application(window).queue().push(e);
}
void on_button(GLFWwindow* window, int button, int action, int) {
  InputEvent e;
  e.kind = InputEvent::Kind::button;
  e.code = button;
  e.down = action == GLFW_PRESS;
  e.at = pointer(window);
  e.mods = mods_now(window);
  application(window).queue().push(e);
}
void on_move(GLFWwindow* window, double x, double y) {
  InputEvent e;
  e.at = in_px(window, x, y);
  e.mods = mods_now(window);
  application(window).queue().push(e);
}
void on_wheel(GLFWwindow* window, double, double dy) {
  InputEvent e;
  e.kind = InputEvent::Kind::wheel;
  e.wheel = dy;
  e.at = pointer(window);
  e.mods = mods_now(window);
  application(window).queue().push(e);
}
void on_text(GLFWwindow* window, unsigned character) {
  InputEvent e;
  e.kind = InputEvent::Kind::text;
  e.character = character;
  e.at = pointer(window);
  e.mods = mods_now(window);
  application(window).queue().push(e);
}
void on_drop(GLFWwindow* window, int count, const char** paths) {
  if (count > 0) take_file(application(window).bench(), paths[0]);
  application(window).unsettle();
}
void on_close(GLFWwindow* window) {
  glfwSetWindowShouldClose(window, GLFW_FALSE);
  quit(application(window).bench());
  application(window).unsettle();
}
void on_refresh(GLFWwindow* window) { application(window).unsettle(); }
void on_scale(GLFWwindow* window, float x, float) { application(window).set_screen_scale(static_cast<double>(x)); }

void listen(GLFWwindow* window) {
  glfwSetKeyCallback(window, on_key);
  glfwSetMouseButtonCallback(window, on_button);
  glfwSetCursorPosCallback(window, on_move);
  glfwSetScrollCallback(window, on_wheel);
  glfwSetCharCallback(window, on_text);
  glfwSetDropCallback(window, on_drop);
  glfwSetWindowCloseCallback(window, on_close);
  glfwSetWindowRefreshCallback(window, on_refresh);
  glfwSetWindowContentScaleCallback(window, on_scale);
  ImGuiIO& io = ImGui::GetIO();
  io.ClipboardUserData = window;
  io.GetClipboardTextFn = [](void* w) { return glfwGetClipboardString(static_cast<GLFWwindow*>(w)); };
  io.SetClipboardTextFn = [](void* w, const char* text) { glfwSetClipboardString(static_cast<GLFWwindow*>(w), text); };
}

class Cursors {
 public:
  Cursors()
      : text_(glfwCreateStandardCursor(GLFW_IBEAM_CURSOR)),
        hand_(glfwCreateStandardCursor(GLFW_HAND_CURSOR)),
        wide_(glfwCreateStandardCursor(GLFW_HRESIZE_CURSOR)),
        tall_(glfwCreateStandardCursor(GLFW_VRESIZE_CURSOR)) {}
  void show(GLFWwindow* window, int cursor) {
    if (cursor == shown_) return;
    shown_ = cursor;
    GLFWcursor* c = cursor == ImGuiMouseCursor_TextInput                                  ? text_
                    : cursor == ImGuiMouseCursor_Hand                                     ? hand_
                    : cursor == Application::kWide || cursor == ImGuiMouseCursor_ResizeEW ? wide_
                    : cursor == Application::kTall                                        ? tall_
                                                                                          : nullptr;
    glfwSetCursor(window, c);
  }

 private:
  GLFWcursor *text_, *hand_, *wide_, *tall_;
  int shown_ = 0;
};

void remember(GLFWwindow* window, Application& app) {
  glfwGetWindowSize(window, &app.bench().settings.width, &app.bench().settings.height);
  write_window_settings(app.bench().settings);
}

void run(GLFWwindow* window, Application& app) {
  Cursors cursors;
  std::string title;
  double last = glfwGetTime();
  while (!app.bench().quit) {
    if (app.restless())
      glfwPollEvents();
    else if (app.due() > 0)
      glfwWaitEventsTimeout(app.due());
    else
      glfwWaitEvents();
    int width = 0, height = 0;
    glfwGetFramebufferSize(window, &width, &height);
    if (width < 1 || height < 1) continue;
    const double now = glfwGetTime();
    app.frame(width, height, now - last);
    last = now;
    glfwSwapBuffers(window);
    cursors.show(window, app.cursor());
    const std::string wanted = app.bench().session.title() + " – Pontata";
    if (wanted != title) glfwSetWindowTitle(window, wanted.c_str());
    title = wanted;
  }
  remember(window, app);
}

struct Glfw {
  Glfw() : ready(glfwInit() == GLFW_TRUE) {}
  ~Glfw() {
    if (ready) glfwTerminate();
  }
  Glfw(const Glfw&) = delete;
  Glfw& operator=(const Glfw&) = delete;
  bool ready;
};
struct Gui {
  Gui() { ImGui::CreateContext(); }
  ~Gui() { ImGui::DestroyContext(); }
  Gui(const Gui&) = delete;
  Gui& operator=(const Gui&) = delete;
};

GLFWwindow* make_window(const WindowSettings& settings) {
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
  int width = settings.width, height = settings.height;
  if (GLFWmonitor* monitor = glfwGetPrimaryMonitor()) {
    int x = 0, y = 0, w = 0, h = 0;
    glfwGetMonitorWorkarea(monitor, &x, &y, &w, &h);
    if (w > 0 && h > 0) {
      width = std::min(width, w);
      height = std::min(height, h);
    }
  }
  return glfwCreateWindow(width, height, "Pontata", nullptr, nullptr);
}

}  // namespace

int open_window(const std::string& project) {
  std::string why;
  const Glfw glfw;
  if (!glfw.ready) return cannot_open("there is no display");
  GLFWwindow* window = make_window(read_window_settings());
  if (!window) return cannot_open("the display offers no OpenGL 3.3");
  glfwMakeContextCurrent(window);
  glfwSwapInterval(1);
  try {
    const Gui gui;
    float scale = 1, scale_y = 1;
    glfwGetWindowContentScale(window, &scale, &scale_y);
    Application app([] { glfwPostEmptyEvent(); }, static_cast<double>(scale));
    glfwSetWindowUserPointer(window, &app);
    listen(window);
    double x = 0, y = 0;
    glfwGetCursorPos(window, &x, &y);
    on_move(window, x, y);
    open_project(app.bench(), project, false);
    run(window, app);
  } catch (const std::exception& e) {
    return cannot_open(e.what());
  }
  return 0;
}

}  // namespace pontata
