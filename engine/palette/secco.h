// What is finished dry: laid with a binder on plaster that has set.
#pragma once

#include <optional>
#include <string>

#include "engine/base/dates.h"
#include "engine/base/ids.h"

namespace pontata {

struct SeccoWork {
  std::uint32_t id = 0;  // counts from 1
  GiornataId giornata;
  std::string what;    // "blue of the mantle"
  std::string binder;  // "casein", "egg", "lime water"
  double area_m2 = 0;
  double hours = 0;
  std::optional<Date> date;  // as the painter wants it; else as early as may be
  bool operator==(const SeccoWork&) const = default;
};

// The plaster has set so many days after it was painted (60 by default; common practice, no source).
Date earliest_secco(Date painted, int days);

}  // namespace pontata
