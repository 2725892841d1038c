#include "engine/calendar/order.h"

namespace pontata {

std::string_view pair_name(PairKind kind) {
  switch (kind) {
    case PairKind::before:
      return "before";
    case PairKind::apart:
      return "apart";
    case PairKind::together:
      break;
  }
  return "together";
}

}  // namespace pontata
