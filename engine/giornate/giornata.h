// What the plan says of a giornata and of a zone; their shapes live in the network and in the chart.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "engine/base/ids.h"
#include "engine/base/lattice.h"

namespace pontata {

enum class GiornataState { planned, ready, today, done, redo };

struct Giornata {
  GiornataId id;
  WallId wall;
  int number = 0;                     // follows the order until a cartoon was printed, then frozen
  std::string part;                   // "a", "b", ... of a giornata split after that; else empty
  std::string name;                   // the painter's words; may be empty
  std::string note;                   // the painter's remarks; may be empty
  bool printed = false;               // a cartoon of it was printed
  bool changed = false;               // its outline was changed after that
  std::optional<double> intonaco_mm;  // own thickness; without it the project's coats
  GiornataState state = GiornataState::planned;
  bool alive = true;  // false once removed: ids are never used again
};

// What is written on the wall and on paper: "14", "14a". Of a giornata, or of what else bears its number and part.
template <class Numbered>
std::string label_of(const Numbered& g) {
  return std::to_string(g.number) + g.part;
}

// The order of labels: 9, 14, 14a, 14b, 15.
inline bool label_less(const std::string& a, const std::string& b) {
  const auto key = [](const std::string& label) {
    const std::size_t digits = std::min(label.find_first_not_of("0123456789"), label.size());
    return std::tuple(digits, label.substr(0, digits), label.size(), label);
  };
  return key(a) < key(b);
}

// What is painted there: each subject has its own rate. `none`: whatever no zone tells of, the background.
enum class Subject { none, faces, drapery, architecture, background };
inline constexpr std::size_t kSubjects = 5;

enum class ZoneKind { keep_whole, detail };

// A closed area of one wall: no seam may enter a keep-whole zone; a detail zone has its own painting rate.
struct Zone {
  ZoneId id;
  ZoneKind kind = ZoneKind::keep_whole;
  std::string name;
  Ring ring;                            // counter-clockwise
  std::optional<double> rate_m2_per_h;  // detail zones
  std::vector<Ring> more;               // further parts, counter-clockwise, of a zone that crosses cuts of the chart
  Subject subject = Subject::none;      // detail zones without a rate of their own go by their subject's

  std::vector<Ring> rings() const {
    std::vector<Ring> all{ring};
    all.insert(all.end(), more.begin(), more.end());
    return all;
  }
};

}  // namespace pontata
