// The rule of direction: a file of engine/ includes its own folder and folders to its left, and never a window.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <string>
#include <vector>

#include "tests/fixtures/places.h"

namespace fs = std::filesystem;

namespace {

// Folders that stand side by side share a rank and may not include each other, except where a later one of the list
// takes what an earlier one reports (plaster -> calendar -> review -> cartoon).
const std::vector<std::string> kOrder{"base",    "wall",     "chart",   "picture", "seams",    "flatten", "giornate",
                                      "plaster", "calendar", "palette", "review",  "proposal", "cartoon", "document"};

int rank(const std::string& folder) {
  return static_cast<int>(std::find(kOrder.begin(), kOrder.end(), folder) - kOrder.begin());
}

struct Include {
  fs::path file;
  std::string target;
};

std::vector<Include> includes_under(const fs::path& root) {
  static const std::regex line_form(R"(^\s*#\s*include\s*[<"]([^>"]+)[>"])");
  std::vector<Include> found;
  for (const auto& entry : fs::recursive_directory_iterator(root)) {
    const auto ext = entry.path().extension();
    if (ext != ".h" && ext != ".cpp") continue;
    std::ifstream in(entry.path());
    for (std::string line; std::getline(in, line);) {
      std::smatch m;
      if (std::regex_search(line, m, line_form)) found.push_back({entry.path(), m[1]});
    }
  }
  return found;
}

}  // namespace

TEST_CASE("engine files include only leftwards") {
  const fs::path root(pontata::fixtures::source_folder());
  int seen = 0;
  for (const auto& [file, target] : includes_under(root / "engine")) {
    if (target.rfind("engine/", 0) != 0) {
      INFO(file << " includes " << target);
      CHECK(target.rfind("editor/", 0) != 0);
      continue;
    }
    const auto from = fs::relative(file, root / "engine").begin()->string();
    const auto to = target.substr(7, target.find('/', 7) - 7);
    INFO(file << " includes " << target);
    REQUIRE(rank(from) < static_cast<int>(kOrder.size()));
    REQUIRE(rank(to) < static_cast<int>(kOrder.size()));
    CHECK(rank(to) <= rank(from));
    ++seen;
  }
  CHECK(seen > 20);
}

TEST_CASE("the engine never sees the window") {
  for (const auto& [file, target] : includes_under(fs::path(pontata::fixtures::source_folder()) / "engine")) {
    INFO(file << " includes " << target);
    for (const char* window : {"GLFW", "GL/", "epoxy", "imgui", "EGL"}) CHECK(target.rfind(window, 0) != 0);
  }
}

TEST_CASE("the editor's drawing holds no geometry of its own: no sparse solver, no polygon library") {
  for (const auto& [file, target] : includes_under(fs::path(pontata::fixtures::source_folder()) / "editor")) {
    INFO(file << " includes " << target);
    for (const char* solver : {"Eigen", "polyclipping", "boost/polygon"}) CHECK(target.rfind(solver, 0) != 0);
  }
}
