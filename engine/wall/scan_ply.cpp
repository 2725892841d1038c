#include "engine/wall/scan_ply.h"

#include <fmt/format.h>

#include <array>
#include <bit>
#include <charconv>
#include <optional>
#include <vector>

#include "engine/wall/scan_bytes.h"

namespace pontata {
namespace {

struct Kind {
  std::string_view name, also;
  std::size_t bytes;
  bool whole, sign;
};
constexpr std::array<Kind, 8> kKinds{{{"char", "int8", 1, true, true},
                                      {"uchar", "uint8", 1, true, false},
                                      {"short", "int16", 2, true, true},
                                      {"ushort", "uint16", 2, true, false},
                                      {"int", "int32", 4, true, true},
                                      {"uint", "uint32", 4, true, false},
                                      {"float", "float32", 4, false, true},
                                      {"double", "float64", 8, false, true}}};

const Kind* kind_named(std::string_view name) {
  for (const Kind& kind : kKinds)
    if (name == kind.name || name == kind.also) return &kind;
  return nullptr;
}

struct Property {
  std::string_view name;
  const Kind* kind = nullptr;
  const Kind* count = nullptr;  // of a list
  bool corners = false;
  bool kept = false;  // goes on to the reader
};
struct Element {
  std::string_view name;
  std::size_t count = 0;
  std::vector<Property> properties;
};
enum class Body { text, little, big };

struct Header {
  Body body = Body::text;
  std::vector<Element> elements;
  const Element* find(std::string_view name) const {
    for (const Element& e : elements)
      if (e.name == name) return &e;
    return nullptr;
  }
};

bool is_place(std::string_view name) { return name == "x" || name == "y" || name == "z"; }
bool is_direction(std::string_view name) { return name == "nx" || name == "ny" || name == "nz"; }

Problem bad_header(const std::string& path, std::string_view line) {
  std::string shown(line.substr(0, 60));
  for (char& c : shown)
    if (static_cast<unsigned char>(c) < 32 || static_cast<unsigned char>(c) > 126) c = '?';
  return damaged_scan(path, fmt::format("its header says \"{}\", which makes no sense", shown));
}

bool read_property(std::string_view line, Property& out) {
  std::string_view word = next_word(line);
  if (word == "list") {
    out.count = kind_named(next_word(line));
    if (!out.count || !out.count->whole) return false;
    word = next_word(line);
  }
  out.kind = kind_named(word);
  out.name = next_word(line);
  return out.kind && !out.name.empty();
}

// One line of the header after the first; false where it makes no sense.
bool read_line(std::string_view line, Header& header, bool& has_format) {
  const std::string_view word = next_word(line);
  if (word.empty() || word == "comment" || word == "obj_info") return true;
  if (word == "format") {
    const std::string_view form = next_word(line);
    header.body = form == "ascii" ? Body::text : form == "binary_little_endian" ? Body::little : Body::big;
    return has_format = form == "ascii" || form == "binary_little_endian" || form == "binary_big_endian";
  }
  if (word == "element") {
    Element element;
    element.name = next_word(line);
    const std::string_view count = next_word(line);
    const auto read = std::from_chars(count.data(), count.data() + count.size(), element.count);
    if (count.empty() || read.ec != std::errc{} || read.ptr != count.data() + count.size()) return false;
    if (header.find(element.name)) return false;
    header.elements.push_back(std::move(element));
    return header.elements.size() <= 64;
  }
  if (word != "property" || header.elements.empty()) return false;
  Property property;
  auto& element = header.elements.back();
  if (!read_property(line, property) || element.properties.size() >= 256) return false;
  for (const auto& other : element.properties)
    if (other.name == property.name) return false;
  element.properties.push_back(property);
  return true;
}

Result<Header> read_header(std::string_view& bytes, const std::string& path) {
  Header header;
  bool has_format = false;
  next_line(bytes);  // "ply"
  while (true) {
    if (bytes.empty()) return damaged_scan(path, "it ends inside its header");
    const std::string_view line = next_line(bytes);
    std::string_view words = line;
    if (next_word(words) == "end_header") break;
    if (!read_line(line, header, has_format)) return bad_header(path, line);
  }
  if (!has_format) return damaged_scan(path, "its header names no format");
  return header;
}

// What intake needs is there, and nothing that it cannot read.
Outcome check_header(Header& header, const std::string& path) {
  if (header.find("tristrips") && header.find("tristrips")->count > 0)
    return Problem{"the surface is stored as strips of triangles, which cannot be read here", path,
                   "Export the scan again with plain faces, or as GLB"};
  std::size_t axes = 0, lists = 0;
  bool points_first = false;
  for (Element& element : header.elements)
    for (Property& p : element.properties) {
      if (element.name == "vertex") {
        if (p.count) return damaged_scan(path, "its points hold lists");
        axes += is_place(p.name);
        p.kept = is_place(p.name) || is_direction(p.name);
      }
      if (element.name == "face" && p.count && p.kind->whole &&
          (p.name == "vertex_indices" || p.name == "vertex_index"))
        p.corners = p.kept = true, ++lists, points_first = axes == 3;
    }
  const Element *points = header.find("vertex"), *faces = header.find("face");
  if (!points || axes != 3) return damaged_scan(path, "its points have no x, y and z");
  if (!faces || faces->count == 0) return no_triangles(path);
  if (lists != 1) return damaged_scan(path, "its faces have no corners");
  if (!points_first) return damaged_scan(path, "its faces stand before its points");
  if (points->count > 3 * kMostScanTriangles || faces->count > kMostScanTriangles) return too_many_triangles(path);
  return Done{};
}

std::string header_text(const Header& header) {
  constexpr std::array<std::string_view, 3> kForms{"ascii", "binary_little_endian", "binary_big_endian"};
  std::string out = fmt::format("ply\nformat {} 1.0\n", kForms[static_cast<std::size_t>(header.body)]);
  for (const Element& e : header.elements) {
    if (e.name != "vertex" && e.name != "face") continue;
    out += fmt::format("element {} {}\n", e.name, e.count);
    for (const Property& p : e.properties)
      if (p.kept)
        out += p.corners ? fmt::format("property list {} {} vertex_indices\n", p.count->name, p.kind->name)
                         : fmt::format("property {} {}\n", p.kind->name, p.name);
  }
  return out + "end_header\n";
}

Problem ends_early(const std::string& path, const Element& element, std::size_t record) {
  const std::string_view what = element.name == "vertex" ? "point" : element.name == "face" ? "face" : "record";
  return Problem{fmt::format("the file is cut short: it should hold {} {}s and ends at {} {}", element.count, what,
                             what, record + 1),
                 path, "Copy the file again, or export the scan again"};
}

// Checks the corners of faces as they come by.
class CornerCheck {
 public:
  CornerCheck(const Header& header, const std::string& path) : points_(header.find("vertex")->count), path_(path) {}
  Outcome list(std::size_t face, std::uint64_t corners) {
    if (corners > kMostFaceCorners)
      return damaged_scan(path_, fmt::format("face {} has {} corners", face + 1, corners));
    triangles_ += corners > 2 ? corners - 2 : 0;
    if (triangles_ > kMostScanTriangles) return too_many_triangles(path_);
    return Done{};
  }
  Outcome corner(std::size_t face, std::int64_t at) const {
    if (at < 0 || static_cast<std::size_t>(at) >= points_)
      return damaged_scan(path_, fmt::format("face {} names point {}, which does not exist", face + 1, at));
    return Done{};
  }

 private:
  std::size_t points_, triangles_ = 0;
  const std::string& path_;
};

std::int64_t whole_number(std::string_view bytes, const Kind& kind, Body body) {
  std::uint64_t value = 0;
  for (std::size_t k = 0; k < kind.bytes; ++k)
    value = value << 8 | static_cast<unsigned char>(bytes[body == Body::big ? k : kind.bytes - 1 - k]);
  if (kind.sign && kind.bytes < 8 && (value >> (8 * kind.bytes - 1) & 1)) value -= std::uint64_t{1} << (8 * kind.bytes);
  return static_cast<std::int64_t>(value);
}

// Copies what is kept of a binary body, every length and corner checked.
class BinaryBody {
 public:
  BinaryBody(const Header& header, std::string_view body, const std::string& path)
      : header_(header), body_(body), path_(path), check_(header, path) {}

  Outcome copy(std::string& out) {
    for (const Element& e : header_.elements) {
      if (e.count > 0 && e.properties.empty()) return damaged_scan(path_, "its header lists records without content");
      for (std::size_t i = 0; i < e.count; ++i)
        for (const Property& p : e.properties)
          if (const auto done = add(e, p, i, out); !done) return done;
    }
    return Done{};
  }

 private:
  Outcome add(const Element& e, const Property& p, std::size_t i, std::string& out) {
    const std::size_t from = at_;
    std::uint64_t n = 1;
    if (p.count) {
      if (p.count->bytes > body_.size() - at_) return ends_early(path_, e, i);
      const std::int64_t stated = whole_number(body_.substr(at_, p.count->bytes), *p.count, header_.body);
      if (stated < 0) return damaged_scan(path_, "a list has a length below 0");
      n = static_cast<std::uint64_t>(stated);
      at_ += p.count->bytes;
      if (p.corners)
        if (const auto good = check_.list(i, n); !good) return good;
    }
    if (n > (body_.size() - at_) / p.kind->bytes) return ends_early(path_, e, i);
    for (std::uint64_t k = 0; p.corners && k < n; ++k) {
      const auto bytes = body_.substr(at_ + k * p.kind->bytes, p.kind->bytes);
      if (const auto good = check_.corner(i, whole_number(bytes, *p.kind, header_.body)); !good) return good;
    }
    at_ += n * p.kind->bytes;
    if (p.kept) out.append(body_.substr(from, at_ - from));
    return Done{};
  }

  const Header& header_;
  std::string_view body_;
  const std::string& path_;
  CornerCheck check_;
  std::size_t at_ = 0;
};

std::optional<std::int64_t> whole_word(std::string_view word) {
  std::int64_t value = 0;
  const auto read = std::from_chars(word.data(), word.data() + word.size(), value);
  if (word.empty() || read.ec != std::errc{} || read.ptr != word.data() + word.size()) return std::nullopt;
  return value;
}

// Copies what is kept of a text body, a line a record, every word checked.
class TextBody {
 public:
  TextBody(const Header& header, std::string_view body, const std::string& path)
      : header_(header), body_(body), path_(path), check_(header, path) {}

  Outcome copy(std::string& out) {
    for (const Element& e : header_.elements) {
      if (e.count > 0 && e.properties.empty()) return damaged_scan(path_, "its header lists records without content");
      for (std::size_t i = 0; i < e.count; ++i) {
        for (const Property& p : e.properties)
          if (const auto done = add(e, p, i, out); !done) return done;
        if (e.name == "vertex" || e.name == "face") out.back() = '\n';
      }
    }
    return Done{};
  }

 private:
  Outcome add(const Element& e, const Property& p, std::size_t i, std::string& out) {
    std::int64_t n = 1;
    if (p.count) {
      const std::string_view word = next_word(body_);
      if (word.empty()) return ends_early(path_, e, i);
      const auto stated = whole_word(word);
      if (!stated || *stated < 0) return damaged_scan(path_, "a list has no length");
      n = *stated;
      if (p.corners)
        if (const auto good = check_.list(i, static_cast<std::uint64_t>(n)); !good) return good;
      if (p.kept) out.append(word).push_back(' ');
    }
    for (std::int64_t k = 0; k < n; ++k) {
      std::string_view word = next_word(body_);
      if (word.empty()) return ends_early(path_, e, i);
      if (p.corners) {
        const auto corner = whole_word(word);
        if (!corner) return damaged_scan(path_, fmt::format("face {} is not written as numbers", i + 1));
        if (const auto good = check_.corner(i, *corner); !good) return good;
      } else if (!is_decimal(word)) {
        if (e.name == "vertex" && is_place(p.name)) return not_a_number(path_, i + 1);
        word = "0";
      }
      if (p.kept) out.append(word).push_back(' ');
    }
    return Done{};
  }

  const Header& header_;
  std::string_view body_;
  const std::string& path_;
  CornerCheck check_;
};

}  // namespace

Result<std::string> plain_ply(std::string_view bytes, const std::string& path) {
  auto header = read_header(bytes, path);
  if (!header) return header.problem();
  if (const auto good = check_header(*header, path); !good) return good.problem();
  std::string out = header_text(*header);
  out.reserve(out.size() + bytes.size() + 16);
  const auto done = header->body == Body::text ? TextBody(*header, bytes, path).copy(out)
                                               : BinaryBody(*header, bytes, path).copy(out);
  if (!done) return done.problem();
  return out;
}

}  // namespace pontata
