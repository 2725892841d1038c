// SHA-256, to notice that a picture or scan is no longer the file the project was made with.
//
// Based on: FIPS 180-4, "Secure Hash Standard", 2015, sections 4.1.2, 5.1.1, 5.3.3 and 6.2.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

#include "engine/base/result.h"

namespace pontata {

class Sha256 {
 public:
  void add(std::string_view bytes);
  // 64 lower-case hexadecimal digits. Ends the message: add nothing afterwards.
  std::string finish();

 private:
  void block(const unsigned char* bytes);
  std::array<std::uint32_t, 8> state_{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a,
                                      0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};
  std::array<unsigned char, 64> pending_{};
  std::size_t pending_size_ = 0;
  std::uint64_t length_ = 0;  // bytes
};

std::string sha256_of(std::string_view bytes);
// Of a whole file, read in parts. Refuses files that cannot be read.
Result<std::string> sha256_of_file(const std::string& path);

}  // namespace pontata
