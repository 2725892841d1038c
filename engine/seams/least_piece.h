// The least area of a giornata, as the network's integers see it.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <string>

#include "engine/seams/network.h"
#include "engine/seams/outline_edit.h"

namespace pontata {

// A part in a million less than kLeastPiece passes: corners are rounded to the lattice, which may take half of that
// off an outline of exactly 1 by 1 cm.
inline constexpr double kLeastSlack = 1e-6;
inline constexpr auto kLeastUnits = static_cast<std::int64_t>(kLeastPiece * (1 - kLeastSlack) / kAreaUnit);

// An area below kLeastUnits in cm^2, with as many digits as show that it is below 1: "0.50", "0.9998".
inline std::string small_cm2(std::int64_t area) {
  const double cm2 = std::max(0.0, static_cast<double>(area) * kAreaUnit * 1e4);
  std::string text;
  for (int digits = 2; digits <= 8; ++digits)
    if (text = fmt::format("{:.{}f}", cm2, digits); text[0] == '0') break;
  return text;
}

}  // namespace pontata
