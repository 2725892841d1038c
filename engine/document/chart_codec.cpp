#include "engine/document/chart_codec.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <optional>

namespace pontata {

namespace {

constexpr std::string_view kAlphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const Problem kDamaged{"the places of the scan are damaged", "", ""};

void put(std::vector<std::uint8_t>& bytes, std::int64_t value) {
  auto rest = (static_cast<std::uint64_t>(value) << 1) ^ static_cast<std::uint64_t>(value >> 63);
  for (; rest >= 128; rest >>= 7) bytes.push_back(static_cast<std::uint8_t>(rest | 128));
  bytes.push_back(static_cast<std::uint8_t>(rest));
}

std::string base64(const std::vector<std::uint8_t>& bytes) {
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t left = std::min<std::size_t>(3, bytes.size() - i);
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 3; ++k) group = group << 8 | (k < left ? bytes[i + k] : 0u);
    for (std::size_t k = 0; k < 4; ++k) text += k <= left ? kAlphabet[group >> (18 - 6 * k) & 63] : '=';
  }
  return text;
}

std::optional<std::vector<std::uint8_t>> bytes_of_base64(std::string_view text) {
  std::array<int, 256> value;
  value.fill(-1);
  for (std::size_t i = 0; i < kAlphabet.size(); ++i)
    value[static_cast<std::uint8_t>(kAlphabet[i])] = static_cast<int>(i);
  if (text.size() % 4 != 0) return std::nullopt;
  std::size_t padding = 0;
  while (padding < 2 && padding < text.size() && text[text.size() - 1 - padding] == '=') ++padding;
  std::vector<std::uint8_t> bytes;
  bytes.reserve(text.size() / 4 * 3);
  for (std::size_t i = 0; i < text.size(); i += 4) {
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      const bool pad = i + k >= text.size() - padding;
      const int v = pad ? 0 : value[static_cast<std::uint8_t>(text[i + k])];
      if (v < 0) return std::nullopt;
      group = group << 6 | static_cast<std::uint32_t>(v);
    }
    for (int k = 0; k < 3; ++k) bytes.push_back(static_cast<std::uint8_t>(group >> (16 - 8 * k)));
  }
  bytes.resize(bytes.size() - padding);
  return bytes;
}

// Next integer of `bytes` from `at` on; nullopt when they break off or it needs more than 64 bits.
std::optional<std::int64_t> take(const std::vector<std::uint8_t>& bytes, std::size_t& at) {
  std::uint64_t rest = 0;
  for (int shift = 0; shift < 63; shift += 7) {
    if (at == bytes.size()) return std::nullopt;
    const std::uint8_t byte = bytes[at++];
    rest |= static_cast<std::uint64_t>(byte & 127) << shift;
    if (byte < 128) return static_cast<std::int64_t>(rest >> 1) ^ -static_cast<std::int64_t>(rest & 1);
  }
  return std::nullopt;
}

}  // namespace

std::string chart_text(const std::vector<LatticePoint>& places) {
  std::vector<std::uint8_t> bytes;
  bytes.reserve(8 * places.size());
  LatticePoint last{0, 0};
  for (const auto& p : places) {
    put(bytes, p.x - last.x);
    put(bytes, p.y - last.y);
    last = p;
  }
  return base64(bytes);
}

Result<std::vector<LatticePoint>> chart_from_text(std::string_view text) {
  const auto bytes = bytes_of_base64(text);
  if (!bytes) return kDamaged;
  std::vector<LatticePoint> places;
  LatticePoint p{0, 0};
  for (std::size_t at = 0; at < bytes->size();) {
    const auto dx = take(*bytes, at), dy = take(*bytes, at);
    if (!dx || !dy || std::llabs(*dx) >= 2 * kLatticeLimit || std::llabs(*dy) >= 2 * kLatticeLimit) return kDamaged;
    p = {p.x + *dx, p.y + *dy};
    if (std::llabs(p.x) >= kLatticeLimit || std::llabs(p.y) >= kLatticeLimit) return kDamaged;
    places.push_back(p);
  }
  return places;
}

}  // namespace pontata
