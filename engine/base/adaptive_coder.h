// Numbers to few bytes and back: an adaptive binary range coder.
//
// Based on: Martin, "Range encoding: an algorithm for removing redundancy from a digitised message", 1979. Each bit is
// coded with the chance it had so far in its context (the estimate of Krichevsky and Trofimov for the first few, then a
// slowly forgetting mean). Integers only: the same numbers give the same bytes on every machine.
//
// PackWriter and PackReader have the same functions, so that one description of a record serves both ways: the writer
// writes what it is given and gives it back, the reader gives back what was written.
#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <string>
#include <vector>

namespace pontata {

// How likely the next bit of one context is 0.
class Chance {
 public:
  std::uint32_t of_zero() const { return zero_; }  // of 65536
  void learn(bool bit);

 private:
  std::uint16_t zero_ = 1u << 15;
  std::uint8_t seen_ = 0;
};

// The context of one kind of number: small ones, and sizes seen before, take few bits.
struct NumberChances {
  Chance zero, negative;
  std::array<Chance, 64> length;  // a binary tree over the number of bits
  std::array<Chance, 64> second;  // the bit after the first, by the number of bits
};
struct TextChances {
  NumberChances length;
  std::array<Chance, 256> byte;  // a binary tree over the bytes
};

class PackWriter {
 public:
  bool bit(Chance& chance, bool value);
  bool even_bit(bool value);                 // either value as likely
  const std::vector<std::uint8_t>& bytes();  // ends the writing

 private:
  void put(std::uint32_t bound, bool value);
  void carry();
  std::vector<std::uint8_t> bytes_;
  std::uint64_t low_ = 0;
  std::uint32_t range_ = 0xffffffffu;
  bool ended_ = false;
};

// Reads what a PackWriter wrote, in the same contexts. Other bytes give other numbers, never a fault.
class PackReader {
 public:
  explicit PackReader(const std::vector<std::uint8_t>& bytes);
  bool bit(Chance& chance, bool = false);
  bool even_bit(bool = false);

 private:
  bool get(std::uint32_t bound);
  std::uint8_t next_byte() { return at_ < bytes_->size() ? (*bytes_)[at_++] : std::uint8_t{0}; }
  const std::vector<std::uint8_t>* bytes_;
  std::size_t at_ = 0;
  std::uint32_t code_ = 0, range_ = 0xffffffffu;
};

// A whole number of any size.
template <class Coder>
std::int64_t code_number(Coder& coder, NumberChances& chances, std::int64_t value = 0) {
  if (coder.bit(chances.zero, value == 0)) return 0;
  const bool negative = coder.bit(chances.negative, value < 0);
  const auto given = static_cast<std::uint64_t>(value);
  const std::uint64_t size = value < 0 ? 0 - given : given;
  const auto top = static_cast<unsigned>(std::bit_width(size | 1u)) - 1;  // 0 to 63
  unsigned node = 1;
  for (int i = 5; i >= 0; --i) node = 2 * node + coder.bit(chances.length[node], (top >> i) & 1u);
  const unsigned length = node - 64;
  std::uint64_t made = 1;
  for (unsigned i = length; i-- > 0;) {
    const bool bit = (size >> i) & 1u;
    made = 2 * made + (i + 1 == length ? coder.bit(chances.second[length], bit) : coder.even_bit(bit));
  }
  return static_cast<std::int64_t>(negative ? 0 - made : made);
}

// A whole number told by how far it lies from a guess.
template <class Coder>
std::int64_t code_near(Coder& coder, NumberChances& chances, std::int64_t guess, std::int64_t value = 0) {
  const auto away = static_cast<std::uint64_t>(value) - static_cast<std::uint64_t>(guess);
  const auto coded = static_cast<std::uint64_t>(code_number(coder, chances, static_cast<std::int64_t>(away)));
  return static_cast<std::int64_t>(static_cast<std::uint64_t>(guess) + coded);
}

// A number to the bit, told by where its bits differ from a guess.
template <class Coder>
double code_real(Coder& coder, NumberChances& chances, double guess, double value = 0) {
  const auto bits = std::bit_cast<std::uint64_t>(guess);
  const auto other = static_cast<std::int64_t>(std::bit_cast<std::uint64_t>(value) ^ bits);
  return std::bit_cast<double>(static_cast<std::uint64_t>(code_number(coder, chances, other)) ^ bits);
}

template <class Coder>
std::string code_text(Coder& coder, TextChances& chances, std::string text = "") {
  text.resize(static_cast<std::size_t>(code_number(coder, chances.length, static_cast<std::int64_t>(text.size()))));
  for (char& c : text) {
    const auto byte = static_cast<unsigned char>(c);
    unsigned node = 1;
    for (int i = 7; i >= 0; --i) node = 2 * node + coder.bit(chances.byte[node], (byte >> i) & 1u);
    c = static_cast<char>(static_cast<unsigned char>(node - 256));
  }
  return text;
}

}  // namespace pontata
