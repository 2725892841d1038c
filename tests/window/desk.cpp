#include "tests/window/desk.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <thread>

#include "tests/fixtures/places.h"

namespace fs = std::filesystem;

namespace pontata {
namespace {

void nap(int ms) { std::this_thread::sleep_for(std::chrono::milliseconds(ms)); }

// Xvfb chooses a free display itself and writes its number to the pipe.
std::string read_line(int fd) {
  std::string line;
  char c = 0;
  while (::read(fd, &c, 1) == 1 && c != '\n') line += c;
  return line;
}

void stop(pid_t& pid, int signal) {
  if (pid <= 0) return;
  ::kill(pid, signal);
  ::waitpid(pid, nullptr, 0);
  pid = -1;
}

}  // namespace

Desk::Desk() {
  std::string pattern = (fs::temp_directory_path() / "pontata-desk-XXXXXX").string();
  REQUIRE(::mkdtemp(pattern.data()));
  folder_ = pattern;
  std::array<int, 2> pipe{};
  REQUIRE(::pipe(pipe.data()) == 0);
  server_ = ::fork();
  REQUIRE(server_ >= 0);
  if (server_ == 0) {
    ::close(pipe[0]);
    const int quiet = ::open("/dev/null", O_WRONLY);
    ::dup2(quiet, 1);
    ::dup2(quiet, 2);
    const std::string fd = std::to_string(pipe[1]);
    ::execlp("Xvfb", "Xvfb", "-displayfd", fd.c_str(), "-screen", "0", "1440x900x24", "-nolisten", "tcp", nullptr);
    ::_exit(127);
  }
  ::close(pipe[1]);
  display_ = ":" + read_line(pipe[0]);
  ::close(pipe[0]);
  REQUIRE(display_.size() > 1);
}

Desk::~Desk() {
  stop(window_, SIGKILL);
  stop(server_, SIGTERM);
  std::error_code ignored;
  fs::remove_all(folder_, ignored);
}

std::string Desk::shell(const std::string& command) const {
  const std::string whole = "DISPLAY=" + display_ + " " + command;
  std::FILE* out = ::popen(whole.c_str(), "r");
  REQUIRE(out);
  std::string text;
  std::array<char, 4096> buffer{};
  while (const auto n = std::fread(buffer.data(), 1, buffer.size(), out)) text.append(buffer.data(), n);
  const int status = ::pclose(out);
  INFO(command);
  REQUIRE(WEXITSTATUS(status) == 0);
  return text;
}

std::string Desk::verb(const std::string& arguments) const { return shell(fixtures::program_path() + " " + arguments); }

void Desk::flat_wall(const std::string& project, const std::vector<std::string>& giornate) const {
  verb("wall " + project + " nave --shape flat --width 6m --height 3m 2>&1");
  for (const std::string& corners : giornate)
    verb("outline " + project + " nave --points - 2>&1 <<'END'\n" + corners + "\nEND\n");
}

void Desk::set_scale(double scale, int width, int height) const {
  fs::create_directories(file("config") + "/pontata");
  std::ofstream(file("config") + "/pontata/window.json")
      << Json{{"scale", scale}, {"width", width}, {"height", height}}.dump();
}

void Desk::open(const std::string& project) {
  REQUIRE(window_ == -1);
  trace_ = file("trace-" + std::to_string(++runs_));
  window_ = ::fork();
  REQUIRE(window_ >= 0);
  if (window_ == 0) {
    ::setenv("DISPLAY", display_.c_str(), 1);
    ::setenv("PONTATA_TRACE", trace_.c_str(), 1);
    ::setenv("XDG_STATE_HOME", file("state").c_str(), 1);
    ::setenv("XDG_CONFIG_HOME", file("config").c_str(), 1);
    ::setenv("LIBGL_ALWAYS_SOFTWARE", "1", 1);
    ::execl(fixtures::program_path().c_str(), "pontata", "edit", project.c_str(), nullptr);
    ::_exit(127);
  }
  wait("the project is open", [](const Json& s) { return s["work"] == "" && s["status"] != ""; });
}

int Desk::wait_exit() {
  int status = -1;
  for (int tenths = 0; tenths < 600; ++tenths) {
    if (::waitpid(window_, &status, WNOHANG) == window_) {
      window_ = -1;
      return WIFEXITED(status) ? WEXITSTATUS(status) : -2;
    }
    nap(100);
  }
  FAIL("the window did not close");
  return -1;
}

void Desk::kill_hard() { stop(window_, SIGKILL); }

Json Desk::state() const {
  std::ifstream in(trace_);
  std::string line, last;
  while (std::getline(in, line))
    if (!in.eof()) last = line;  // a line without its end is still being written
  return last.empty() ? Json() : Json::parse(last);
}

Json Desk::wait(const std::string& what, const std::function<bool(const Json&)>& holds) const {
  Json s;
  for (int twentieths = 0; twentieths < 1200; ++twentieths) {
    s = state();
    if (s.is_object() && holds(s)) return s;
    nap(50);
  }
  FAIL("waited in vain for: " << what << "\nlast state: " << s.dump());
  return s;
}

void Desk::mouse_to(double x, double y) const {
  shell("xdotool mousemove " + std::to_string(std::lround(x)) + " " + std::to_string(std::lround(y)));
}
void Desk::click() const { shell("xdotool click 1"); }
void Desk::key_down(const std::string& name) const { shell("xdotool keydown " + name); }
void Desk::key_up(const std::string& name) const { shell("xdotool keyup " + name); }
void Desk::wheel(int notches) const {
  shell("xdotool click --repeat " + std::to_string(std::abs(notches)) + " --delay 20 " + (notches > 0 ? "4" : "5"));
}
void Desk::keys(const std::string& names) const { shell("xdotool key --delay 30 " + names); }
void Desk::type(const std::string& text) const { shell("xdotool type --delay 30 '" + text + "'"); }

void Desk::hold() const {
  shell("xdotool mousedown 1");
  nap(60);
  shell("xdotool mousemove_relative 3 3");
  shell("xdotool mousemove_relative 3 3");
  nap(60);
}
void Desk::let_go() const {
  nap(120);
  shell("xdotool mouseup 1");
}
void Desk::drag_to(double x, double y) const {
  hold();
  mouse_to(x, y);
  let_go();
}

void Desk::point_at_control(const std::string& name) const {
  Json r;
  for (int turns = 0; turns < 40; ++turns) {
    const Json s = wait("the control " + name, [&](const Json& j) { return j["controls"].contains(name); });
    r = s["controls"][name];
    const double x = r[0].get<double>() + r[2].get<double>() / 2, y = r[1].get<double>() + r[3].get<double>() / 2;
    int away = 0;  // the panel has to be scrolled down, or up
    for (const char* panel : {"page", "chosen"}) {
      if (!s["controls"].contains(panel) || name.rfind("stage.", 0) == 0 || name.rfind("tool.", 0) == 0) continue;
      const Json p = s["controls"][panel];
      const double left = p[0], top = p[1], width = p[2], height = p[3];
      if (x < left || x > left + width) continue;
      away = y > top + height - 14 ? -1 : y < top + 14 ? 1 : 0;
      if (away != 0) mouse_to(left + width - 5, top + height / 2);
    }
    if (away == 0) {
      mouse_to(x, y);
      nap(80);
      const Json now = state()["controls"];
      if (now.contains(name) && now[name] == r) return;
      continue;  // it moved meanwhile
    }
    wheel(away);
    wait("the panel scrolled to " + name,
         [&](const Json& j) { return j["controls"].contains(name) && j["controls"][name] != r; });
  }
  FAIL("the control cannot be brought into view: " << name << " " << r.dump());
}

void Desk::press_control(const std::string& name) const {
  point_at_control(name);
  click();
}

void Desk::fill(const std::string& control, const std::string& text) const {
  press_control(control);
  keys("ctrl+a");
  type(text);
}

void Desk::stage(const std::string& name) const {
  if (state()["stage"] == name) return;
  press_control("stage." + name);
  wait("the page " + name, [&](const Json& s) { return s["stage"] == name; });
}

void Desk::take_tool(const std::string& key, const std::string& name) const {
  keys(key);
  wait("the tool " + name, [&](const Json& s) { return s["tool"] == name; });
}

void Desk::choose_file(const std::string& path) const {
  wait("the files", [](const Json& s) { return s["dialog"] == "files" && s["controls"].contains("files.name"); });
  keys("ctrl+a");
  type(path);
  keys("Return");
}

void Desk::type_places(const std::string& tool, const std::vector<std::string>& places) const {
  press_control(tool + ".places");
  for (const std::string& place : places) {
    type(place);
    keys("Return");
  }
  press_control(tool + ".add");
}

void Desk::point_at_pixel(double x, double y) const {
  const auto [px, py] = picture_px(x, y);
  const double scale = state()["picture_view"]["px_per_pixel"];
  mouse_to(px, py);
  wait("the pointer at pixel " + std::to_string(x) + " " + std::to_string(y), [&](const Json& j) {
    const Json now = j["picture_view"];
    return now.is_object() && now["hover"].is_array() &&
           std::hypot(now["hover"][0].get<double>() - x, now["hover"][1].get<double>() - y) < 1.5 / scale;
  });
}

void Desk::near_pixel(double x, double y, double px_per_pixel) const {
  point_at_pixel(x, y);
  const double before = state()["picture_view"]["px_per_pixel"];
  const int notches = static_cast<int>(std::lround(std::log(px_per_pixel / before) / std::log(1.18)));
  if (notches != 0) wheel(notches);
  const Json s = wait("the picture nearer", [&](const Json& j) {
    return std::abs(std::log(j["picture_view"]["px_per_pixel"].get<double>() / before) / std::log(1.18) - notches) <
           0.5;
  });
  const Json at = s["picture_view"]["at"];
  shell("xdotool mousedown 3");
  mouse_to(at[0].get<double>() + at[2].get<double>() / 2, at[1].get<double>() + at[3].get<double>() / 2);
  shell("xdotool mouseup 3");
  wait("the pixel in the middle", [&](const Json& j) {  // where the pointer is then, too
    const Json now = j["picture_view"], hover = now["hover"];
    const double mx = now["x"], my = now["y"];
    return std::hypot(mx - x, my - y) < 2 / before && hover.is_array() &&
           std::hypot(hover[0].get<double>() - mx, hover[1].get<double>() - my) < 1 / now["px_per_pixel"].get<double>();
  });
}

std::pair<double, double> Desk::flat_px(double u, double v) const {
  const Json s = state();
  const Json view = s["views"]["flat"], map = s["flat_map"];
  const double scale = map["px_per_m"];
  return {view[0].get<double>() + view[2].get<double>() / 2 + (u - map["u"].get<double>()) * scale,
          view[1].get<double>() + view[3].get<double>() / 2 - (v - map["v"].get<double>()) * scale};
}

std::pair<double, double> Desk::picture_px(double x, double y) const {
  const Json view = state()["picture_view"];
  const Json at = view["at"];
  const double scale = view["px_per_pixel"];
  return {at[0].get<double>() + at[2].get<double>() / 2 + (x - view["x"].get<double>()) * scale,
          at[1].get<double>() + at[3].get<double>() / 2 + (y - view["y"].get<double>()) * scale};
}

void Desk::point_at(double u, double v) const {
  const auto [x, y] = flat_px(u, v);
  const double scale = state()["flat_map"]["px_per_m"];
  mouse_to(x, y);
  wait("the pointer at " + std::to_string(u) + " " + std::to_string(v), [&](const Json& j) {
    return j["hover"].is_object() &&
           std::hypot(j["hover"]["u"].get<double>() - u, j["hover"]["v"].get<double>() - v) < 1.5 / scale;
  });
}

void Desk::near(double u, double v, double across) const {
  point_at(u, v);
  const double shown = state()["views"]["flat"][3].get<double>() / state()["flat_map"]["px_per_m"].get<double>();
  const int notches = static_cast<int>(std::lround(std::log(shown / across) / std::log(1.18)));
  const double before = state()["flat_map"]["px_per_m"];
  if (notches != 0) wheel(notches);
  wait("the flat view nearer", [&](const Json& j) {
    return std::abs(std::log(j["flat_map"]["px_per_m"].get<double>() / before) / std::log(1.18) - notches) < 0.5;
  });
  // The right button shifts the view: the place goes to the middle.
  const Json view = state()["views"]["flat"];
  shell("xdotool mousedown 3");
  mouse_to(view[0].get<double>() + view[2].get<double>() / 2, view[1].get<double>() + view[3].get<double>() / 2);
  shell("xdotool mouseup 3");
  wait("the place in the middle", [&](const Json& j) {  // where the pointer is then, too
    const Json map = j["flat_map"], hover = j["hover"];
    const double mu = map["u"], mv = map["v"];
    return std::hypot(mu - u, mv - v) < 0.02 && hover.is_object() &&
           std::hypot(hover["u"].get<double>() - mu, hover["v"].get<double>() - mv) <
               1.5 / map["px_per_m"].get<double>();
  });
}

std::string Desk::save(const std::string& project) const {
  keys("ctrl+s");
  wait("saved", [](const Json& s) { return s["status"].get<std::string>().rfind("Saved", 0) == 0; });
  std::ifstream in(project, std::ios::binary);
  std::stringstream all;
  all << in.rdbuf();
  return all.str();
}

void Desk::undo_to(const std::string& project, const std::string& saved) const {
  keys("ctrl+z");
  wait("as it was saved", [](const Json& s) { return s["saved"] == true; });
  CHECK(save(project) == saved);
}

void Desk::screenshot(const std::string& name) const {
  nap(400);  // what the trace tells is on its way to the screen
  const std::string shots = fixtures::build_folder() + "/screenshots";
  fs::create_directories(shots);
  shell("import -window root " + shots + "/" + name + ".png");
}

}  // namespace pontata
