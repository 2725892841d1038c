// Runs the real program and keeps what it said.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/document/folders.h"

namespace pontata {

struct Ran {
  int status = -1;
  std::string out, err;
  nlohmann::json json() const { return nlohmann::json::parse(out); }
};

struct RunOptions {
  std::string input;                               // standard input
  std::map<std::string, std::string> environment;  // added to ours
  bool as_nobody = false;                          // a user without privileges
};
Ran run(const std::vector<std::string>& arguments, const RunOptions& options = {});

// One line on stderr that begins "pontata: " and names `file`.
bool is_one_error_line(const Ran& ran, const std::string& file);

// A flat wall 4 by 3 m named "wall" in `project`.
void add_flat_wall(const std::string& project);
// A picture of `width` by `height` pixels: a dark disc on light ground.
void write_disc_picture(const std::string& path, int width, int height);
// A binary glTF with one square of `side` file units, two triangles, standing upright (Y up).
std::string glb_square(float side, bool with_nan = false);

}  // namespace pontata
