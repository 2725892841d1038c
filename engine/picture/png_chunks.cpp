#include "engine/picture/png_chunks.h"

#include <zlib.h>

#include <algorithm>
#include <cctype>
#include <cstring>
#include <string_view>
#include <vector>

#include "engine/picture/colour_profile.h"
#include "engine/picture/exif.h"

namespace pontata {

namespace {

using Bytes = std::vector<std::uint8_t>;

std::uint32_t big32(const std::uint8_t* b) {
  return (std::uint32_t{b[0]} << 24) | (std::uint32_t{b[1]} << 16) | (std::uint32_t{b[2]} << 8) | b[3];
}

struct Chunk {
  std::int64_t body;  // where its data begin
  std::uint32_t length;
  char type[5];
  bool is(std::string_view name) const { return name == type; }
};

enum class Walked { chunk, end_of_file, nonsense };

Walked chunk_at(const PictureFile& file, std::int64_t at, Chunk& chunk) {
  std::array<std::uint8_t, 8> head{};
  if (!file.read_whole(at, head)) return Walked::end_of_file;
  chunk.body = at + 8;
  chunk.length = big32(head.data());
  std::memcpy(chunk.type, head.data() + 4, 4);
  chunk.type[4] = 0;
  if (chunk.length > 0x7fffffffu) return Walked::nonsense;
  if (!std::all_of(chunk.type, chunk.type + 4, [](unsigned char c) { return std::isalpha(c); }))
    return Walked::nonsense;
  return chunk.body + chunk.length + 4 > file.size() ? Walked::end_of_file : Walked::chunk;
}

Bytes body_of(const PictureFile& file, const Chunk& chunk, std::size_t most) {
  Bytes body(std::min<std::size_t>(chunk.length, most));
  body.resize(file.read(chunk.body, body));
  return body;
}

// A name, a zero, the method (0), and the profile deflated (11.3.3.3); empty when it is damaged.
std::string inflated_profile(const Bytes& body) {
  const auto zero = std::find(body.begin(), body.end(), 0);
  if (body.end() - zero < 3 || zero[1] != 0) return {};
  z_stream stream{};
  stream.next_in = const_cast<Bytef*>(&zero[2]);  // zlib only reads it
  stream.avail_in = static_cast<uInt>(body.end() - zero - 2);
  if (inflateInit(&stream) != Z_OK) return {};
  std::string profile;
  std::array<char, 1 << 16> piece;
  int state = Z_OK;
  while (state == Z_OK && profile.size() <= kLargestProfile) {
    stream.next_out = reinterpret_cast<Bytef*>(piece.data());
    stream.avail_out = static_cast<uInt>(piece.size());
    state = inflate(&stream, Z_NO_FLUSH);
    profile.append(piece.data(), piece.size() - stream.avail_out);
  }
  inflateEnd(&stream);
  return state == Z_STREAM_END ? profile : std::string();
}

Outcome take_header(const PictureFile& file, const Chunk& chunk, std::int64_t most, PngFacts& facts) {
  const Bytes b = body_of(file, chunk, 13);
  if (!chunk.is("IHDR") || chunk.length != 13 || b.size() != 13) return damaged(file.path());
  const std::int64_t width = big32(b.data()), height = big32(b.data() + 4);
  if (const auto sized = check_size(file.path(), width, height, most); !sized) return sized;
  facts.width = static_cast<int>(width), facts.height = static_cast<int>(height);
  facts.bits = b[8], facts.colour_type = b[9];
  facts.interlaced = b[12] == 1;
  return Done{};
}

void take_numbers(const Chunk& chunk, const Bytes& b, ColourNumbers& numbers) {
  if (chunk.is("gAMA") && b.size() == 4) numbers.gamma = big32(b.data()) / 1e5;
  if (chunk.is("cHRM") && b.size() == 32) {
    numbers.places.emplace();
    for (std::size_t k = 0; k < 8; ++k) (*numbers.places)[k] = big32(b.data() + 4 * k) / 1e5;
  }
}

Outcome take(const PictureFile& file, const Chunk& chunk, PngFacts& facts) {
  if (chunk.is("acTL")) {
    const Bytes b = body_of(file, chunk, 8);
    if (b.size() == 8) facts.frames = big32(b.data());
  } else if (chunk.is("iCCP")) {
    facts.profile = inflated_profile(body_of(file, chunk, kLargestProfile));
    if (facts.profile.empty()) return bad_profile(file.path());
  } else if (chunk.is("eXIf")) {
    facts.orientation = exif_orientation(body_of(file, chunk, 1 << 20));
  } else if (chunk.is("tRNS")) {
    facts.see_through_colour = true;
  } else if (chunk.is("sRGB")) {
    facts.is_srgb = true;
  } else if (chunk.is("gAMA") || chunk.is("cHRM")) {
    take_numbers(chunk, body_of(file, chunk, 64), facts.numbers);
  }
  return Done{};
}

}  // namespace

Result<PngFacts> png_facts(const PictureFile& file, std::int64_t most) {
  PngFacts facts;
  std::int64_t at = 8;
  for (bool first = true;; first = false) {
    Chunk chunk{};
    const auto walked = chunk_at(file, at, chunk);
    if (walked == Walked::nonsense) return damaged(file.path());
    if (walked == Walked::end_of_file) return cut_short(file.path());
    const auto taken = first ? take_header(file, chunk, most, facts) : take(file, chunk, facts);
    if (!taken) return taken.problem();
    if (chunk.is("IEND")) break;
    at = chunk.body + chunk.length + 4;
  }
  if (facts.frames > 1) {
    return Problem{"this is an animation of " + std::to_string(facts.frames) + " pictures", file.path(),
                   "Save the one that you want as a plain PNG."};
  }
  // Whoever writes sRGB says so; numbers beside it only approximate it (11.3.3.5). A profile overrides both.
  if (facts.is_srgb || !facts.profile.empty()) facts.numbers = {};
  return facts;
}

}  // namespace pontata
