// Colours of the states, and of the window; one place for all of them.
#pragma once

#include <cstdint>
#include <string_view>

#include "engine/giornate/giornata.h"

namespace pontata {

struct Rgb {
  std::uint8_t r = 0, g = 0, b = 0;
};
constexpr Rgb rgb(std::uint32_t hex) {
  return {static_cast<std::uint8_t>(hex >> 16), static_cast<std::uint8_t>(hex >> 8), static_cast<std::uint8_t>(hex)};
}

inline constexpr Rgb kGround = rgb(0xF4F1EA), kText = rgb(0x1F1B16), kAction = rgb(0x1F4E79);
inline constexpr Rgb kSeamCore = rgb(0x1F1B16), kCasing = rgb(0xFBF9F4), kWarn = rgb(0x9A3B1B);

struct StateLook {
  Rgb fill, label;
  std::string_view word;
};
constexpr StateLook state_look(GiornataState s) {
  switch (s) {
    case GiornataState::ready:
      return {rgb(0x9CC3D5), rgb(0x000000), "ready"};
    case GiornataState::today:
      return {rgb(0xC8741A), rgb(0x000000), "today"};
    case GiornataState::done:
      return {rgb(0x2C6483), rgb(0xFFFFFF), "done"};
    case GiornataState::redo:
      return {rgb(0x4E1535), rgb(0xFFFFFF), "to redo"};
    case GiornataState::planned:
      break;
  }
  return {rgb(0xEBDDB0), rgb(0x000000), "planned"};
}

}  // namespace pontata
