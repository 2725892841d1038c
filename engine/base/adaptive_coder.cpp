#include "engine/base/adaptive_coder.h"

#include <algorithm>

namespace pontata {

namespace {

constexpr int kSlowest = 5;                // a new bit counts for at least 1/32
constexpr std::uint32_t kSurest = 64;      // of 65536: nothing is certain
constexpr std::uint32_t kLeast = 1 << 24;  // the range stays at least this wide

}  // namespace

void Chance::learn(bool bit) {
  const int shift = std::min<int>(kSlowest, std::bit_width(static_cast<unsigned>(seen_) + 1));
  std::uint32_t zero = zero_;
  if (bit)
    zero -= zero >> shift;
  else
    zero += (65536 - zero) >> shift;
  zero_ = static_cast<std::uint16_t>(std::clamp(zero, kSurest, 65536 - kSurest));
  if (seen_ < 255) ++seen_;
}

bool PackWriter::bit(Chance& chance, bool value) {
  put((range_ >> 16) * chance.of_zero(), value);
  chance.learn(value);
  return value;
}

bool PackWriter::even_bit(bool value) {
  put(range_ >> 1, value);
  return value;
}

void PackWriter::put(std::uint32_t bound, bool value) {
  if (value) {
    low_ += bound;
    range_ -= bound;
    carry();
  } else {
    range_ = bound;
  }
  while (range_ < kLeast) {
    bytes_.push_back(static_cast<std::uint8_t>(low_ >> 24));
    low_ = (low_ << 8) & 0xffffffffu;
    range_ <<= 8;
  }
}

void PackWriter::carry() {
  if (low_ >> 32 == 0) return;
  low_ &= 0xffffffffu;
  for (std::size_t i = bytes_.size(); i > 0 && ++bytes_[i - 1] == 0; --i) {
  }
}

const std::vector<std::uint8_t>& PackWriter::bytes() {
  if (!ended_) {
    // The range is at least 2^24 wide, so it holds a number whose lower three bytes are 0; the reader supplies those.
    low_ += kLeast - 1;
    carry();
    bytes_.push_back(static_cast<std::uint8_t>(low_ >> 24));
    while (!bytes_.empty() && bytes_.back() == 0) bytes_.pop_back();
    ended_ = true;
  }
  return bytes_;
}

PackReader::PackReader(const std::vector<std::uint8_t>& bytes) : bytes_(&bytes) {
  for (int i = 0; i < 4; ++i) code_ = (code_ << 8) | next_byte();
}

bool PackReader::bit(Chance& chance, bool) {
  const bool value = get((range_ >> 16) * chance.of_zero());
  chance.learn(value);
  return value;
}

bool PackReader::even_bit(bool) { return get(range_ >> 1); }

bool PackReader::get(std::uint32_t bound) {
  const bool value = code_ >= bound;
  if (value) {
    code_ -= bound;
    range_ -= bound;
  } else {
    range_ = bound;
  }
  while (range_ < kLeast) {
    code_ = (code_ << 8) | next_byte();
    range_ <<= 8;
  }
  return value;
}

}  // namespace pontata
