#include "engine/wall/scan_stl.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "engine/wall/scan_bytes.h"

namespace pontata {
namespace {

constexpr std::size_t kHead = 84, kRecord = 50;

std::size_t stated_triangles(std::string_view bytes) {
  std::size_t n = 0;
  for (std::size_t k = 4; k-- > 0;) n = n << 8 | static_cast<unsigned char>(bytes[80 + k]);
  return n;
}

bool fits_binary(std::string_view bytes) {
  return bytes.size() >= kHead && kHead + kRecord * stated_triangles(bytes) == bytes.size();
}

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_word(std::string_view word, std::string_view wanted) {
  return word.size() == wanted.size() &&
         std::equal(word.begin(), word.end(), wanted.begin(), [](char a, char b) { return lower(a) == b; });
}

bool is_text(std::string_view bytes) {
  std::string_view rest = bytes;
  if (!same_word(next_word(rest), "solid")) return false;
  const auto head = bytes.substr(0, 512);
  return std::none_of(head.begin(), head.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 32 && c != '\n' && c != '\r' && c != '\t';
  });
}

Result<std::string> plain_binary(std::string_view bytes, const std::string& path) {
  const std::size_t n = stated_triangles(bytes);
  if (kHead + kRecord * n > bytes.size())
    return Problem{fmt::format("the file is cut short: {} triangles take {} bytes and it holds {}", n,
                               kHead + kRecord * n, bytes.size()),
                   path, "Copy the file again, or export the scan again"};
  if (n == 0) return no_triangles(path);
  if (n > kMostScanTriangles) return too_many_triangles(path);
  std::string out(bytes.substr(0, kHead + kRecord * n));
  std::fill_n(out.begin(), 80, ' ');
  for (std::size_t t = 0; t < n; ++t) out[kHead + kRecord * t + 48] = out[kHead + kRecord * t + 49] = 0;
  return out;
}

class TextThinner {
 public:
  TextThinner(std::string_view text, const std::string& path) : text_(text), path_(path) {}

  Result<std::string> thinned() {
    out_.reserve(text_.size() + 64);
    out_ = "solid scan\n";
    for (auto word = next_word(text_); !word.empty(); word = next_word(text_)) {
      if (same_word(word, "solid") || same_word(word, "endsolid")) {
        next_line(text_);  // a name, which may hold anything
        continue;
      }
      if (!same_word(word, "facet")) return broken("\"facet\"");
      if (const auto done = add_facet(); !done) return done.problem();
    }
    if (triangles_ == 0) return no_triangles(path_);
    return std::move(out_ += "endsolid scan\n");
  }

 private:
  Outcome add_facet() {
    if (++triangles_ > kMostScanTriangles) return too_many_triangles(path_);
    std::array<std::string_view, 3> normal;
    if (!expect("normal")) return broken("\"normal\"");
    bool directed = true;
    for (auto& word : normal) directed = is_decimal(word = next_word(text_)) && directed;
    if (!directed) normal = {"0", "0", "0"};  // some writers put nan for a triangle without area
    out_ += "facet normal";
    write(normal);
    out_ += "outer loop\n";
    if (!expect("outer") || !expect("loop")) return broken("\"outer loop\"");
    for (int k = 0; k < 3; ++k) {
      if (!expect("vertex")) return broken("\"vertex\"");
      std::array<std::string_view, 3> place;
      for (auto& word : place)
        if (!is_decimal(word = next_word(text_)))
          return word.empty() ? broken("three numbers")
                              : not_a_number(path_, 3 * triangles_ - 2 + static_cast<std::size_t>(k));
      out_ += "vertex";
      write(place);
    }
    if (!expect("endloop") || !expect("endfacet")) return broken("the end of a facet");
    out_ += "endloop\nendfacet\n";
    return Done{};
  }

  bool expect(std::string_view wanted) { return same_word(next_word(text_), wanted); }
  void write(const std::array<std::string_view, 3>& words) {
    for (const auto word : words) out_.append(" ").append(word);
    out_ += '\n';
  }
  Problem broken(std::string_view wanted) const {
    return damaged_scan(
        path_, fmt::format("{} {} is missing in triangle {}", wanted, text_.empty() ? "at the end of the file" : "",
                           std::max<std::size_t>(1, triangles_)));
  }

  std::string_view text_;
  const std::string& path_;
  std::string out_;
  std::size_t triangles_ = 0;
};

}  // namespace

bool is_stl(std::string_view bytes) { return fits_binary(bytes) || is_text(bytes); }

Result<std::string> plain_stl(std::string_view bytes, const std::string& path) {
  if (!fits_binary(bytes) && is_text(bytes)) return TextThinner(bytes, path).thinned();
  if (bytes.size() < kHead) return damaged_scan(path, "it ends inside its header");
  return plain_binary(bytes, path);
}

}  // namespace pontata
