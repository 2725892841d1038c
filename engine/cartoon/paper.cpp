#include <array>

#include "engine/cartoon/cartoon.h"

namespace pontata {
namespace {

constexpr double kLongestRoll = 5000;  // mm, below the 14,400 units (5,080 mm) that a PDF page may have

const std::array<Paper, 7>& papers() {
  static const std::array<Paper, 7> all{{{"A4", 210, 297, false},  // ISO 216
                                         {"A3", 297, 420, false},
                                         {"A2", 420, 594, false},
                                         {"A1", 594, 841, false},
                                         {"A0", 841, 1189, false},
                                         {"roll610", 610, kLongestRoll, true},  // trade sizes
                                         {"roll914", 914, kLongestRoll, true}}};
  return all;
}

}  // namespace

Result<Paper> paper_named(std::string_view name) {
  std::string known;
  for (const Paper& p : papers()) {
    if (p.name == name) return p;
    known += (known.empty() ? "" : ", ") + p.name;
  }
  return Problem{"\"" + std::string(name) + "\" is not a paper known here", "", "Choose one of " + known + "."};
}

}  // namespace pontata
