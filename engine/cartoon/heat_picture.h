// The heat line over a view of the walls, as one picture with its legend.
#pragma once

#include <span>
#include <string>

#include "engine/cartoon/eye_page.h"
#include "engine/cartoon/page.h"
#include "engine/picture/camera.h"
#include "engine/picture/image.h"
#include "engine/review/heat_line.h"

namespace pontata {

struct HeatedWall {
  WallRef wall;
  std::vector<HeatLine> heat;
};

// `view` as `camera` made it, with the heat lines of each wall where no wall hides them from the camera, and a legend
// along its lower edge that names the eye point they were judged from. Refuses when the font is missing.
Result<Image> with_heat_lines(const Image& view, const Camera& camera, std::span<const HeatedWall> walls,
                              const std::string& judged_from);

// Line and words of every grade from the left, and the caveat beneath; `lower_left`: mm. The height taken.
double draw_heat_legend(Pages& pages, Vec2 lower_left, double width, const std::string& judged_from);

// What a line of this grade is drawn with.
Stroke heat_stroke(std::size_t grade);
// Heat lines where they are seen, the plainest above the others.
void draw_heat(const EyeDrawer& draw, std::span<const HeatLine> heat);

}  // namespace pontata
