#include "engine/cartoon/dxf_pages.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>

namespace pontata {
namespace {

constexpr double kGap = 100;               // mm between pages
constexpr std::size_t kLongestText = 250;  // letters that every reader takes

// Red is what is cut out; layer by layer as in `Layer`.
constexpr std::array<int, kLayers> kColours{8, 9, 5, 3, 1, 30, 6};

// The part of a->b inside the box, as shares of its length (Liang and Barsky, "A new concept and method for line
// clipping", ACM Transactions on Graphics 3, 1984).
std::optional<std::pair<double, double>> inside(Vec2 a, Vec2 b, Vec2 low, Vec2 high) {
  double from = 0, to = 1;
  const Vec2 d = b - a;
  for (int axis = 0; axis < 2; ++axis)
    for (const auto& [p, q] : {std::pair{-d[axis], a[axis] - low[axis]}, {d[axis], high[axis] - a[axis]}}) {
      if (p == 0) {
        if (q < 0) return std::nullopt;
      } else if (p < 0) {
        from = std::max(from, q / p);
      } else {
        to = std::min(to, q / p);
      }
    }
  if (from > to) return std::nullopt;
  return std::pair{from, to};
}

// Pieces of a line inside the box; a closed one that is cut becomes open pieces.
std::vector<std::vector<Vec2>> pieces_inside(std::span<const Vec2> points, bool closed, Vec2 low, Vec2 high) {
  std::vector<std::vector<Vec2>> out;
  const std::size_t n = points.size(), steps = closed ? n : n - 1;
  bool open = false;
  for (std::size_t i = 0; i < steps; ++i) {
    const Vec2 a = points[i], b = points[(i + 1) % n];
    const auto part = inside(a, b, low, high);
    if (!part) {
      open = false;
      continue;
    }
    if (!open || part->first > 0) out.push_back({a + part->first * (b - a)});
    out.back().push_back(a + part->second * (b - a));
    open = part->second == 1;
  }
  std::erase_if(out, [](const auto& piece) { return piece.size() == 2 && piece[0] == piece[1]; });
  return out;
}

}  // namespace

DxfPages::DxfPages(std::string path) : path_(std::move(path)) {
  frame_.unit = DxfUnit::millimetres;
  for (std::size_t i = 0; i < kLayers; ++i)
    frame_.layers.push_back({std::string(name_of(static_cast<Layer>(i))), kColours[i]});
  frame_.line_types = {{"dashed", {4, -1.5}}, {"dotted", {1, -1}}};
  frame_.font = "DejaVuSans.ttf";
  model_ = begin_dxf(groups_, frame_);
}

Result<DxfPages> DxfPages::create(const std::string& path) {
  if (const Outcome there = check_sheet_font(); !there) return there.problem();
  return DxfPages(path);
}

void DxfPages::begin_page(double width_mm, double height_mm) {
  ++pages_;
  left_ = next_left_, next_left_ += width_mm + kGap;
  high_ = {left_ + width_mm, std::max(high_.y, height_mm)};
  layer_ = Layer::frame;
  clips_.clear();
}

bool DxfPages::shows(Vec2 p) const {
  if (clips_.empty()) return true;
  const Box& c = clips_.back();
  return p.x >= c.low.x && p.y >= c.low.y && p.x <= c.high.x && p.y <= c.high.y;
}

void DxfPages::polyline(std::span<const Vec2> points, bool closed, std::string_view line_type) {
  groups_.entity("LWPOLYLINE", model_, name_of(layer_), "AcDbPolyline", line_type);
  groups_.put(90, static_cast<int>(points.size()));
  groups_.put(70, closed ? 1 : 0);
  for (const Vec2& p : points) groups_.put(10, p.x + left_), groups_.put(20, p.y);
}

void DxfPages::path(std::span<const Vec2> points, bool closed, const Stroke& stroke) {
  if (points.size() < 2 || stroke.colour == kWhite) return;
  const std::string_view type = stroke.dash_mm.empty() ? "" : stroke.dash_mm[0] > 1.5 ? "dashed" : "dotted";
  if (std::all_of(points.begin(), points.end(), [&](Vec2 p) { return shows(p); }))
    return polyline(points, closed, type);
  for (const auto& piece : pieces_inside(points, closed, clips_.back().low, clips_.back().high))
    polyline(piece, false, type);
}

void DxfPages::fill(std::span<const std::vector<Vec2>> rings, Colour colour) {
  if (!(colour == kBlack)) return;
  for (const auto& ring : rings) path(ring, true, {});
}

void DxfPages::dots(std::span<const Vec2> centres, double diameter_mm, Colour colour) {
  if (colour == kWhite) return;
  for (const Vec2& p : centres) {
    if (!shows(p)) continue;
    groups_.entity("CIRCLE", model_, name_of(layer_), "AcDbCircle");
    groups_.put(10, p.x + left_), groups_.put(20, p.y), groups_.put(30, 0.0);
    groups_.put(40, diameter_mm / 2);
  }
}

void DxfPages::text(Vec2 at, std::string_view words, const TextStyle& style) {
  const std::string line = dxf_escaped(printable(printable(words).substr(0, kLongestText)));
  if (line.empty() || style.colour == kWhite || !shows(at)) return;
  groups_.entity("TEXT", model_, name_of(layer_), "AcDbText");
  const auto place = [&](int code) {
    groups_.put(code, at.x + left_), groups_.put(code + 10, at.y), groups_.put(code + 20, 0.0);
  };
  place(10);
  groups_.put(40, kCapitals * style.size_mm);  // the height of capitals
  groups_.put(1, line);
  groups_.put(50, style.angle_deg);
  groups_.put(7, "Standard");
  groups_.put(72, style.align == Align::left ? 0 : style.align == Align::centre ? 1 : 2);
  if (style.align != Align::left) place(11);
  groups_.put(100, "AcDbText");
}

double DxfPages::text_width(std::string_view words, const TextStyle& style) const { return ruler_.width(words, style); }

void DxfPages::clip_rectangle(Vec2 lower_left, Vec2 size) {
  Box box{lower_left, lower_left + size};
  if (!clips_.empty()) box = {glm::max(box.low, clips_.back().low), glm::min(box.high, clips_.back().high)};
  clips_.push_back(box);
}

Outcome DxfPages::finish() {
  std::ofstream out(path_, std::ios::binary);
  out << end_dxf(groups_, frame_, {0, 0}, high_);
  if (!out.flush()) return Problem{"cannot be written", path_, "Look whether the disk is full."};
  return Done{};
}

}  // namespace pontata
