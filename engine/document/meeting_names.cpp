#include "engine/document/meeting_names.h"

#include <stdexcept>

namespace pontata {

std::size_t wall_index(const Document& doc, WallId wall) {
  for (std::size_t i = 0; i < doc.walls.size(); ++i)
    if (doc.walls[i]->id == wall) return i;
  throw std::logic_error("no wall with this id");
}

std::vector<std::string> meeting_lines(const Document& doc, Flow& flow, GiornataId giornata) {
  const auto met = flow.meetings(doc);
  std::vector<std::string> lines;
  for (const WallMet& wall : met_by_wall((*met)[wall_index(doc, doc.giornata(giornata)->wall)], giornata)) {
    std::vector<std::string> numbers;
    for (const GiornataId id : wall.giornate)
      if (const Giornata* g = doc.giornata(id)) numbers.push_back(label_of(*g));
    lines.push_back(meeting_words(doc.walls[wall.wall]->name, wall.length_m, std::move(numbers)));
  }
  return lines;
}

}  // namespace pontata
