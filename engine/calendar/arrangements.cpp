#include "engine/calendar/arrangements.h"

namespace pontata {

std::string_view day_off_name(DayOffWhy why) {
  switch (why) {
    case DayOffWhy::rest:
      return "rest";
    case DayOffWhy::dust:
      return "dust";
    case DayOffWhy::scaffold:
      return "scaffold";
    case DayOffWhy::other:
      break;
  }
  return "other";
}

bool ready_to_paint(const GroundWork& work) {
  return work.signed_on.has_value() && work.sound && work.no_salts && work.no_damp;
}

}  // namespace pontata
