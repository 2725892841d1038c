// What a project says of the levelling coat of one scanned wall.
#pragma once

#include "engine/cartoon/level_map.h"
#include "engine/document/document.h"

namespace pontata {

struct LevelRow {
  GiornataId id;  // none: the rest, or all
  int number = 0;
  std::string part{};
  std::string name;
  LevelShare share;
  double mortar_L = 0, mortar_kg = 0;  // to be mixed: in place and the project's waste
};

struct LevelReport {
  std::shared_ptr<const LevelCoat> coat;
  LevelShares shares;
  std::vector<LevelRow> giornate;  // by number
  LevelRow rest, all;
  Mix mix;              // the arriccio's
  Materials materials;  // for all of it
  std::vector<std::string> notes;
};

// The coat alone: long work that depends on the wall and the levelling settings only. Problems as of level_wall.
Result<std::shared_ptr<const LevelCoat>> level_coat(const WallItem& item, const Settings& settings,
                                                    Progress* progress = nullptr);
// What it comes to with the giornate as they are now. O(triangles + seams).
LevelReport level_report(const Document& doc, const WallItem& item, std::shared_ptr<const LevelCoat> coat);
// The depth map of it; keeps pointers into item and report.
LevelMap level_map(const std::string& project_path, const Document& doc, const WallItem& item,
                   const LevelReport& report);

// Size in px of a map with this many px on its longer side that suits the wall's proportions.
std::pair<int, int> level_map_size(const ChartedWall& wall, int longer = 2000);

}  // namespace pontata
