#include "editor/window/window_settings.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

namespace pontata {
namespace {

std::filesystem::path settings_file() {
  const char* config = std::getenv("XDG_CONFIG_HOME");
  if (config && *config == '/') return std::filesystem::path(config) / "pontata" / "window.json";
  const char* home = std::getenv("HOME");
  return home && *home ? std::filesystem::path(home) / ".config" / "pontata" / "window.json" : std::filesystem::path();
}

double within(const nlohmann::json& j, const char* key, double usual, double least, double most) {
  const auto found = j.find(key);
  return found != j.end() && found->is_number() ? std::clamp(found->get<double>(), least, most) : usual;
}

}  // namespace

WindowSettings read_window_settings() {
  WindowSettings s;
  std::ifstream in(settings_file());
  const auto j = nlohmann::json::parse(in, nullptr, false);
  if (!j.is_object()) return s;
  s.scale = within(j, "scale", 0, 0, 3);
  s.width = static_cast<int>(within(j, "width", s.width, 640, 16000));
  s.height = static_cast<int>(within(j, "height", s.height, 480, 16000));
  s.left = within(j, "left", s.left, 120, 800);
  s.right = within(j, "right", s.right, 120, 800);
  s.page = within(j, "page", s.page, 200, 1200);
  s.wide_page = within(j, "wide_page", s.wide_page, 200, 1200);
  s.bottom = within(j, "bottom", s.bottom, 60, 600);
  s.split = within(j, "split", s.split, 0.1, 0.9);
  s.picture = within(j, "picture", s.picture, 0.1, 0.9);
  if (const auto f = j.find("folder"); f != j.end() && f->is_string()) s.folder = f->get<std::string>();
  return s;
}

void write_window_settings(const WindowSettings& s) {
  const auto path = settings_file();
  if (path.empty()) return;
  std::error_code ignored;
  std::filesystem::create_directories(path.parent_path(), ignored);
  std::ofstream out(path);
  out << nlohmann::json{{"scale", s.scale}, {"width", s.width},     {"height", s.height},       {"left", s.left},
                        {"right", s.right}, {"page", s.page},       {"wide_page", s.wide_page}, {"bottom", s.bottom},
                        {"split", s.split}, {"picture", s.picture}, {"folder", s.folder}}
             .dump(1)
      << "\n";
}

}  // namespace pontata
