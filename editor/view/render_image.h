// A picture of walls with their giornate, made without any display.
#pragma once

#include <optional>
#include <string>

#include "engine/document/flow.h"

namespace pontata {

struct RenderOptions {
  std::string wall;                      // name; empty: all walls
  std::string view = "3d";               // "3d" or "flat"
  int width = 1600, height = 1200;       // pixels, 16 to 8192 each
  bool contours = false;                 // the pictures' contours are shown
  std::optional<EyePoint> seams_from{};  // how much the seams show from there, with a legend
};

// Draws off screen and writes a PNG: the walls as they stand together, all in view; flat, their charts side by side at
// one scale, with their names where there are several. Refuses a document without walls and an unknown wall. Same
// input, same pixels on the same OpenGL. The file appears only when it is whole.
Outcome render_image(const Document& doc, Flow& flow, const RenderOptions& options, const std::string& out_png);

}  // namespace pontata
