// The bytes of a scan's file, and words about them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/result.h"

namespace pontata {

inline constexpr std::size_t kMostScanTriangles = 50'000'000;
inline constexpr std::size_t kMostFaceCorners = 1000;  // of one flat face of a file, before it is split

// Refuses what is no plain file, cannot be read to its end, or is larger than 4 GB.
Result<std::vector<unsigned char>> read_scan_bytes(const std::string& path);

inline std::string_view text_of(const std::vector<unsigned char>& bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

// Refusals that every format shares. `how` ends the sentence "the file is damaged: ...".
Problem damaged_scan(const std::string& path, std::string_view how);
Problem not_a_number(const std::string& path, std::size_t point);  // counted from 1
Problem too_many_triangles(const std::string& path);
Problem no_triangles(const std::string& path);

// The next word of `text` (blanks, tabs and returns part words), taken off its front; empty at the end.
std::string_view next_word(std::string_view& text);
// The next line without its end, taken off the front; `text` is empty after the last.
std::string_view next_line(std::string_view& text);
// A plain decimal number of at most 64 characters, as 1, -2.5, 3e-7; no nan, inf, hexadecimal or comma.
bool is_decimal(std::string_view word);

}  // namespace pontata
