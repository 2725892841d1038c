// Files of numbers, a few a line, comments after #: places on the wall as `u v` (chart metres) or `X Y Z` (building
// metres), control points and masks of pictures.
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

// The same for any file of numbers. Every line that is not what is wanted is a Problem that names it and says `remedy`.
struct NumberLines {
  std::size_t least = 2, most = 3;  // numbers in a line
  // Commas and semicolons may stand between the numbers, and one line of headings before them.
  bool table = false;
  std::size_t longest = std::size_t{1} << 22;  // lines of numbers
  std::string what, remedy;                    // "two or three finite numbers"; what to write
};
Result<std::vector<GivenPoint>> read_numbers(const std::string& path, const NumberLines& wanted);
std::string line_name(const std::string& path, int line);  // "points.csv line 7"

// As chart places; an X Y Z farther than 20 mm from the wall is a Problem that names its line. An X Y Z on the line
// along which a wall is cut open is taken on the side of the places beside it in the file.
Result<std::vector<ChartPoint>> read_chart_points(const std::string& path, const ChartedWall& wall);
Result<ChartPoint> chart_place(const GivenPoint& given, const ChartedWall& wall, const std::string& path);

}  // namespace pontata
