#include "engine/document/plain_text.h"

#include <array>
#include <cstdint>

namespace pontata {

namespace {

// Bytes after the lead byte; -1 when it cannot lead. RFC 3629, section 4.
int following(unsigned char lead) {
  if (lead < 0x80) return 0;
  if (lead >= 0xc2 && lead < 0xe0) return 1;
  if (lead >= 0xe0 && lead < 0xf0) return 2;
  return lead >= 0xf0 && lead < 0xf5 ? 3 : -1;
}

// Length of the character at the front; 0 when it is not well formed.
std::size_t plain_character(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text[0]);
  const int more = following(lead);
  if (lead < 0x20 || lead == 0x7f || more < 0 || text.size() <= static_cast<std::size_t>(more)) return 0;
  std::uint32_t code = more == 0 ? lead : lead & (0x3fu >> more);
  for (std::size_t k = 1; k <= static_cast<std::size_t>(more); ++k) {
    const auto next = static_cast<unsigned char>(text[k]);
    if ((next & 0xc0) != 0x80) return 0;
    code = code << 6 | (next & 0x3fu);
  }
  constexpr std::array<std::uint32_t, 4> kLeast{0, 0x80, 0x800, 0x10000};
  const bool control = code >= 0x80 && code < 0xa0;
  const bool surrogate = code >= 0xd800 && code < 0xe000;
  if (code < kLeast[static_cast<std::size_t>(more)] || code > 0x10ffff || control || surrogate) return 0;
  return static_cast<std::size_t>(more) + 1;
}

}  // namespace

bool is_plain_text(std::string_view text) {
  while (!text.empty()) {
    const std::size_t length = plain_character(text);
    if (length == 0) return false;
    text.remove_prefix(length);
  }
  return true;
}

}  // namespace pontata
