#include "engine/wall/scan_obj.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <vector>

#include "engine/wall/scan_bytes.h"

namespace pontata {
namespace {

struct Corner {
  std::int64_t point = 0, direction = 0;  // from 1; no direction: 0
};

// "7", "7/2", "7//3", "7/2/3"; negative numbers count back from the last one given so far.
bool read_corner(std::string_view word, std::int64_t points, std::int64_t directions, Corner& out) {
  std::array<std::int64_t, 3> numbers{0, 0, 0};
  std::size_t k = 0;
  for (; k < 3; ++k) {
    const std::size_t slash = word.find('/');
    const std::string_view part = word.substr(0, slash);
    if (!part.empty()) {
      const auto read = std::from_chars(part.data(), part.data() + part.size(), numbers[k]);
      if (read.ec != std::errc{} || read.ptr != part.data() + part.size()) return false;
    }
    if (slash == std::string_view::npos) break;
    word.remove_prefix(slash + 1);
  }
  if (k == 3) return false;
  out.point = numbers[0] < 0 ? points + 1 + numbers[0] : numbers[0];
  out.direction = numbers[2] < 0 ? directions + 1 + numbers[2] : numbers[2];
  if (out.direction < 1 || out.direction > directions) out.direction = 0;
  return true;
}

class ObjThinner {
 public:
  ObjThinner(std::string_view text, const std::string& path) : text_(text), path_(path) { out_.reserve(text.size()); }

  Result<std::string> thinned() {
    while (!text_.empty()) {
      std::string_view line = logical_line();
      const std::string_view kind = next_word(line);
      Outcome done = Done{};
      if (kind == "v") done = add_point(line);
      if (kind == "vn") add_direction(line);
      if (kind == "f") done = add_face(line);
      if (!done) return done.problem();
    }
    if (triangles_ == 0) return no_triangles(path_);
    if (farthest_ > points_) return beyond(farthest_);
    return std::move(out_);
  }

 private:
  // A line that ends in a backslash goes on in the next.
  std::string_view logical_line() {
    std::string_view line = next_line(text_);
    if (line.empty() || line.back() != '\\') return line;
    joined_.clear();
    while (!line.empty() && line.back() == '\\') {
      joined_.append(line.substr(0, line.size() - 1)).push_back(' ');
      line = next_line(text_);
    }
    joined_.append(line);
    return joined_;
  }

  Outcome add_point(std::string_view line) {
    ++points_;
    out_ += 'v';
    for (int k = 0; k < 3; ++k) {
      const auto word = next_word(line);
      if (!is_decimal(word)) return not_a_number(path_, static_cast<std::size_t>(points_));
      out_.append(" ").append(word);
    }
    out_ += '\n';
    return Done{};
  }

  // Directions only help to find the painter's side, so unusable ones count as none.
  void add_direction(std::string_view line) {
    ++directions_;
    std::array<std::string_view, 3> words;
    bool good = true;
    for (auto& word : words) good = is_decimal(word = next_word(line)) && good;
    if (!good) words = {"0", "0", "0"};
    out_ += "vn";
    for (const auto word : words) out_.append(" ").append(word);
    out_ += '\n';
  }

  Outcome add_face(std::string_view line) {
    face_.clear();
    bool directed = true;
    for (auto word = next_word(line); !word.empty() && word[0] != '#'; word = next_word(line)) {
      Corner corner;
      if (!read_corner(word, points_, directions_, corner))
        return damaged_scan(path_, fmt::format("face {} is not written as numbers", faces_ + 1));
      if (corner.point < 1) return beyond(corner.point);
      farthest_ = std::max(farthest_, corner.point);
      directed = directed && corner.direction > 0;
      face_.push_back(corner);
    }
    ++faces_;
    if (face_.size() < 3) return Done{};
    if (face_.size() > kMostFaceCorners)
      return damaged_scan(path_, fmt::format("face {} has {} corners", faces_, face_.size()));
    triangles_ += face_.size() - 2;
    if (triangles_ > kMostScanTriangles) return too_many_triangles(path_);
    write_face(directed);
    return Done{};
  }

  void write_face(bool directed) {
    out_ += 'f';
    for (const Corner& c : face_)
      directed ? fmt::format_to(std::back_inserter(out_), " {}//{}", c.point, c.direction)
               : fmt::format_to(std::back_inserter(out_), " {}", c.point);
    out_ += '\n';
  }

  Problem beyond(std::int64_t corner) const {
    return damaged_scan(path_, fmt::format("a triangle names point {}, which does not exist", corner));
  }

  std::string_view text_;
  const std::string& path_;
  std::string out_, joined_;
  std::vector<Corner> face_;
  std::int64_t points_ = 0, directions_ = 0, farthest_ = 0;
  std::size_t faces_ = 0, triangles_ = 0;
};

}  // namespace

Result<std::string> plain_obj(std::string_view text, const std::string& path) {
  return ObjThinner(text, path).thinned();
}

}  // namespace pontata
