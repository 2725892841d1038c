// What the plan says of a giornata and of a zone; their shapes live in the network and in the chart.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/base/ids.h"
#include "engine/base/lattice.h"

namespace pontata {

enum class GiornataState { planned, ready, today, done, redo };

struct Giornata {
  GiornataId id;
  WallId wall;
  int number = 0;                     // follows the order until printed, then frozen
  std::string name;                   // the painter's words; may be empty
  std::optional<double> intonaco_mm;  // own thickness; without it the project's coats
  GiornataState state = GiornataState::planned;
  bool alive = true;  // false once removed: ids are never used again
};

enum class ZoneKind { keep_whole, detail };

// A closed area of one wall: no seam may enter a keep-whole zone; a detail zone has its own painting rate.
struct Zone {
  ZoneId id;
  ZoneKind kind = ZoneKind::keep_whole;
  std::string name;
  Ring ring;                            // counter-clockwise
  std::optional<double> rate_m2_per_h;  // detail zones
  std::vector<Ring> more;               // further parts, counter-clockwise, of a zone that crosses cuts of the chart

  std::vector<Ring> rings() const {
    std::vector<Ring> all{ring};
    all.insert(all.end(), more.begin(), more.end());
    return all;
  }
};

}  // namespace pontata
