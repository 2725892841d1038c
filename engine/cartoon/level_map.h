// The levelling coat as a coloured depth map: the wall laid flat, light where the arriccio is thin and dark where it is
// deep, with lines of equal depth, the giornate and a legend in mm.
#pragma once

#include <string>
#include <vector>

#include "engine/plaster/levelling.h"

namespace pontata {

struct LevelMapGiornata {
  int number = 0;
  std::string part{};
  double litres = 0;
  std::vector<Ring> rings;
  ChartPoint inside;  // where its number goes
};

struct LevelMap {
  std::string project, wall_name;
  const ChartedWall* wall = nullptr;
  const LevelCoat* coat = nullptr;
  LevelSettings settings;
  std::vector<LevelMapGiornata> giornate;
  bool old_plaster = true;  // known to be there, or not yet asked: its caution is printed
};

inline constexpr int kLeastMapSide = 300, kMostMapSide = 12'000;  // px

// Writes a PNG of width x height px, both within the limits above and neither more than four times the other.
// Everything is drawn in proportion, so that any size of one shape shows the same sheet. Refuses a path that cannot be
// written. Same input, same bytes.
Outcome write_level_map(const LevelMap& map, const std::string& png_path, int width, int height);

}  // namespace pontata
