// What the people on the site agree on besides the settings: days without work, the arriccio's curing and its signing
// off, giornate moved by hand.
#pragma once

#include <optional>
#include <string>

#include "engine/base/dates.h"
#include "engine/base/ids.h"

namespace pontata {

enum class DayOffWhy { rest, dust, scaffold, other };  // dust: other trades raise it, nothing wet may be on the wall
std::string_view day_off_name(DayOffWhy why);          // "rest", "dust", "scaffold", "other"

struct DaysOff {
  Date from, to;  // both without work
  DayOffWhy why = DayOffWhy::rest;
  std::string remark;
  bool operator==(const DaysOff&) const = default;
};

// Arriccio laid on a wall, or on that part of it which is worked from one deck.
struct GroundWork {
  WallId wall;
  int pontata = 0;  // 1 is the highest deck; 0: the whole wall
  Date laid;
  std::optional<Date> signed_on;  // found sound, without salts, without damp, by whom
  std::string signed_by;
  bool sound = false, no_salts = false, no_damp = false;
  std::string remark;
  bool operator==(const GroundWork&) const = default;
};
// Signed, and all three found good.
bool ready_to_paint(const GroundWork& work);

}  // namespace pontata
