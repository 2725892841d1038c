#include "engine/document/seen_walls.h"

namespace pontata {

std::vector<SeenWall> seen_walls(const Document& doc, Flow& flow, std::string_view only) {
  std::vector<SeenWall> walls;
  for (const auto& item : doc.walls)
    if (only.empty() || item->name == only) walls.push_back({item->wall, flow.draped(doc, item->id)});
  return walls;
}

}  // namespace pontata
