#include "engine/document/sha256.h"

#include <sys/stat.h>

#include <algorithm>
#include <bit>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>
#include <vector>

namespace pontata {

namespace {

// FIPS 180-4, section 4.2.2.
constexpr std::array<std::uint32_t, 64> kRound{
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

std::uint32_t big_sigma0(std::uint32_t x) { return std::rotr(x, 2) ^ std::rotr(x, 13) ^ std::rotr(x, 22); }
std::uint32_t big_sigma1(std::uint32_t x) { return std::rotr(x, 6) ^ std::rotr(x, 11) ^ std::rotr(x, 25); }
std::uint32_t small_sigma0(std::uint32_t x) { return std::rotr(x, 7) ^ std::rotr(x, 18) ^ (x >> 3); }
std::uint32_t small_sigma1(std::uint32_t x) { return std::rotr(x, 17) ^ std::rotr(x, 19) ^ (x >> 10); }

}  // namespace

void Sha256::block(const unsigned char* bytes) {
  std::array<std::uint32_t, 64> w{};
  for (std::size_t t = 0; t < 16; ++t)
    w[t] = std::uint32_t{bytes[4 * t]} << 24 | std::uint32_t{bytes[4 * t + 1]} << 16 |
           std::uint32_t{bytes[4 * t + 2]} << 8 | std::uint32_t{bytes[4 * t + 3]};
  for (std::size_t t = 16; t < 64; ++t) w[t] = small_sigma1(w[t - 2]) + w[t - 7] + small_sigma0(w[t - 15]) + w[t - 16];
  auto [a, b, c, d, e, f, g, h] = state_;
  for (std::size_t t = 0; t < 64; ++t) {
    const std::uint32_t t1 = h + big_sigma1(e) + ((e & f) ^ (~e & g)) + kRound[t] + w[t];
    const std::uint32_t t2 = big_sigma0(a) + ((a & b) ^ (a & c) ^ (b & c));
    h = g, g = f, f = e, e = d + t1, d = c, c = b, b = a, a = t1 + t2;
  }
  const std::array<std::uint32_t, 8> add{a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < 8; ++i) state_[i] += add[i];
}

void Sha256::add(std::string_view bytes) {
  length_ += bytes.size();
  while (!bytes.empty()) {
    const std::size_t take = std::min(bytes.size(), pending_.size() - pending_size_);
    std::memcpy(pending_.data() + pending_size_, bytes.data(), take);
    pending_size_ += take;
    bytes.remove_prefix(take);
    if (pending_size_ < pending_.size()) return;
    block(pending_.data());
    pending_size_ = 0;
  }
}

std::string Sha256::finish() {
  const std::uint64_t bits = length_ * 8;
  std::string tail(1, static_cast<char>(0x80));
  while ((length_ + tail.size()) % 64 != 56) tail += '\0';
  for (int shift = 56; shift >= 0; shift -= 8) tail += static_cast<char>((bits >> shift) & 0xff);
  add(tail);
  std::string hex;
  for (const std::uint32_t word : state_)
    for (int shift = 28; shift >= 0; shift -= 4) hex += "0123456789abcdef"[(word >> shift) & 0xf];
  return hex;
}

std::string sha256_of(std::string_view bytes) {
  Sha256 hash;
  hash.add(bytes);
  return hash.finish();
}

Result<std::string> sha256_of_file(const std::string& path) {
  struct stat about {};
  if (::stat(path.c_str(), &about) == 0 && !S_ISREG(about.st_mode))
    return Problem{"is not an ordinary file", path, "Give the name of a file."};
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"), std::fclose);
  if (!file)
    return Problem{std::string("cannot be opened (") + std::strerror(errno) + ")", path,
                   "Check the name and that you may read it."};
  Sha256 hash;
  std::vector<char> part(std::size_t{1} << 18);
  while (const std::size_t got = std::fread(part.data(), 1, part.size(), file.get())) hash.add({part.data(), got});
  if (std::ferror(file.get()))
    return Problem{"cannot be read to its end", path, "Check that it is a file and that its disk is sound."};
  return hash.finish();
}

}  // namespace pontata
