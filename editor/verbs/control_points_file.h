// Files that belong to a picture: its control points, and its mask.
#pragma once

#include <string>
#include <vector>

#include "editor/verbs/points_file.h"
#include "engine/picture/control_points.h"

namespace pontata {

struct ControlPointFile {
  std::vector<ControlPoint> points;
  std::vector<int> lines;  // of each point, counted from 1
};

// Lines of `x_px,y_px,u,v` or `x_px,y_px,X,Y,Z`, both forms mixed as one likes: commas, semicolons, tabs or blanks
// between the numbers, decimal points, one line of headings, comments after #. At most 10,000 points. X Y Z is brought
// to the nearest place of the wall, at most 20 mm away; u v beside the wall to its border, at most 5 mm away. Anything
// else is a Problem that names the line.
Result<ControlPointFile> read_control_points(const std::string& path, const ChartedWall& wall);

// Corners of a closed outline in pixels, `x_px,y_px` a line, in the same manner.
Result<std::vector<Vec2>> read_mask(const std::string& path);

}  // namespace pontata
