#include "engine/picture/jpeg_segments.h"

#include <algorithm>
#include <map>
#include <string_view>
#include <vector>

#include "engine/picture/colour_profile.h"
#include "engine/picture/exif.h"

namespace pontata {

namespace {

using namespace std::string_view_literals;
using Bytes = std::vector<std::uint8_t>;

constexpr std::int64_t kMostHeader = std::int64_t{256} << 20;  // bytes before the first scan

int big16(const std::uint8_t* b) { return (b[0] << 8) | b[1]; }

bool starts(const Bytes& body, std::string_view with) {
  return body.size() >= with.size() && std::equal(with.begin(), with.end(), body.begin(), [](char a, std::uint8_t b) {
           return static_cast<std::uint8_t>(a) == b;
         });
}

struct Walk {
  JpegFacts facts;
  bool framed = false;
  int pieces = 0;
  std::map<int, std::string> profile;  // pieces by their number, from 1
};

bool is_frame(int code) { return code >= 0xc0 && code <= 0xcf && code != 0xc4 && code != 0xc8 && code != 0xcc; }

Outcome take_frame(const std::string& path, int code, const Bytes& b, std::int64_t most, Walk& walk) {
  if (b.size() < 6) return damaged(path);
  JpegFacts& f = walk.facts;
  f.coding = code, f.bits = b[0], f.components = b[5];
  f.height = big16(&b[1]), f.width = big16(&b[3]);
  walk.framed = true;
  if (const auto sized = check_size(path, f.width, f.height, most); !sized) return sized;
  if (f.components == 4) {
    return Problem{"the picture is CMYK (printing inks), whose colours on a wall are not known", path,
                   "Save it as RGB with the profile sRGB."};
  }
  if (f.bits != 8 || (code > 0xc2 && code != 0xc9 && code != 0xca) || (f.components != 1 && f.components != 3)) {
    return Problem{"the JPEG is of a rare kind (" + std::to_string(f.bits) + " bits, " + std::to_string(f.components) +
                       " channels, coding " + std::to_string(code - 0xc0) + ") that cannot be read",
                   path, "Save it as a usual JPEG, or as PNG or TIFF."};
  }
  return Done{};
}

void take_segment(int code, const Bytes& body, Walk& walk) {
  constexpr auto kExif = "Exif\0\0"sv, kIcc = "ICC_PROFILE\0"sv;
  if (code == 0xe1 && walk.facts.orientation == 1 && starts(body, kExif)) {
    walk.facts.orientation = exif_orientation(std::span(body).subspan(kExif.size()));
  } else if (code == 0xe2 && starts(body, kIcc) && body.size() >= 14) {
    walk.pieces = body[13];
    walk.profile[body[12]] = std::string(body.begin() + 14, body.end());
  }
}

Outcome join_profile(const std::string& path, Walk& walk) {
  if (walk.profile.empty()) return Done{};
  const bool all = static_cast<int>(walk.profile.size()) == walk.pieces && walk.profile.begin()->first == 1 &&
                   walk.profile.rbegin()->first == walk.pieces;
  if (!all) return bad_profile(path);
  for (const auto& [number, piece] : walk.profile) walk.facts.profile += piece;
  return Done{};
}

// The next marker's code and where its length stands; bytes before it are skipped as T.81 allows for fill bytes.
Outcome next_marker(const PictureFile& file, std::int64_t& at, int& code) {
  std::array<std::uint8_t, 2> b{};
  for (;; ++at) {
    if (!file.read_whole(at, b)) return cut_short(file.path());
    if (at > kMostHeader) return damaged(file.path());
    if (b[0] == 0xff && b[1] != 0xff && b[1] != 0) break;
  }
  code = b[1];
  at += 2;
  return Done{};
}

}  // namespace

Result<JpegFacts> jpeg_facts(const PictureFile& file, std::int64_t most) {
  Walk walk;
  std::int64_t at = 2;
  for (;;) {
    int code = 0;
    if (const auto found = next_marker(file, at, code); !found) return found.problem();
    if (code == 0xd9) return damaged(file.path());
    if (code == 0x01 || (code >= 0xd0 && code <= 0xd8)) continue;
    std::array<std::uint8_t, 2> length{};
    if (!file.read_whole(at, length)) return cut_short(file.path());
    const int size = big16(length.data());
    if (size < 2) return damaged(file.path());
    if (code == 0xda) break;
    Bytes body(static_cast<std::size_t>(size - 2));
    if (!file.read_whole(at + 2, body)) return cut_short(file.path());
    if (is_frame(code)) {
      if (const auto taken = take_frame(file.path(), code, body, most, walk); !taken) return taken.problem();
    } else {
      take_segment(code, body, walk);
    }
    at += size;
  }
  if (!walk.framed) return damaged(file.path());
  if (const auto joined = join_profile(file.path(), walk); !joined) return joined.problem();
  return std::move(walk.facts);
}

}  // namespace pontata
