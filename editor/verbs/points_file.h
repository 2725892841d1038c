// Lines of `u v` (chart metres) or `X Y Z` (building metres), comments after #.
#pragma once

#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"

namespace pontata {

struct GivenPoint {
  std::vector<double> numbers;  // two or three, finite
  int line = 0;
};

// Reads a file, or standard input for "-". Decimal points in every locale. A line that is neither two nor three finite
// numbers is a Problem that names it.
Result<std::vector<GivenPoint>> read_points(const std::string& path);

// As chart places; an X Y Z farther than 20 mm from the wall is a Problem that names its line. An X Y Z on the line along
// which a wall is cut open is taken on the side of the places beside it in the file.
Result<std::vector<ChartPoint>> read_chart_points(const std::string& path, const ChartedWall& wall);
Result<ChartPoint> chart_place(const GivenPoint& given, const ChartedWall& wall, const std::string& path);

}  // namespace pontata
