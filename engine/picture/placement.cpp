#include "engine/picture/placement.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "engine/picture/wall_rows.h"

namespace pontata {

namespace {

constexpr double kWidest = 500;        // m
constexpr double kInset = 4 * kPitch;  // keeps a walk's ends inside the wall after rounding
constexpr const char* kWhere = "the picture's place";

// Chart distance to the right of `at` whose surface length is `length`: stretches on the wall count their length on the
// surface, stretches beside it their length in the chart.
double chart_width(const ChartedWall& wall, ChartPoint at, double length) {
  const auto rings = wall.chart->border_rings();
  const auto walk = [&](double from, double to) {
    return wall.metric->measure(to_lattice({from, at.v}), to_lattice({to, at.v})).length_m;
  };
  double u = at.u, left = length;
  for (const auto& span : wall_spans(rings, at.v)) {
    const double from = std::max(span.from + kInset, u), to = span.to - kInset;
    if (to <= from) continue;
    if (from - u >= left) break;
    left -= from - u;
    const double whole = walk(from, to);
    if (whole < left) {
      left -= whole;
      u = to;
      continue;
    }
    double low = from, high = to;
    for (int k = 0; k < 60 && high - low > kPitch; ++k) {
      const double middle = 0.5 * (low + high);
      (walk(from, middle) < left ? low : high) = middle;
    }
    return 0.5 * (low + high) - at.u;
  }
  return u + left - at.u;
}

std::array<Vec2, 4> corners(const PictureFrame& frame) {
  const double turn = frame.turn_deg * std::numbers::pi / 180;
  const Vec2 across = Vec2(std::cos(turn), std::sin(turn)) * frame.width;
  const Vec2 up = Vec2(-std::sin(turn), std::cos(turn)) * frame.height;
  const Vec2 at = to_vec(frame.at);
  return {at, at + across, at + across + up, at + up};
}

bool crosses(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  return cross2(b - a, c - a) * cross2(b - a, d - a) < 0 && cross2(d - c, a - c) * cross2(d - c, b - c) < 0;
}

}  // namespace

bool touches_wall(const Chart& chart, const PictureFrame& frame) {
  const auto rings = chart.border_rings();
  auto quad = corners(frame);
  const Vec2 centre = 0.25 * (quad[0] + quad[1] + quad[2] + quad[3]);
  for (auto& corner : quad) corner += 1e-7 * (centre - corner);  // a frieze from edge to edge lies on the wall
  for (const auto& corner : quad) {
    for (const auto& span : wall_spans(rings, corner.y)) {
      if (span.from < corner.x && corner.x < span.to) return true;
    }
  }
  for (const auto& ring : rings) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
      const auto p = to_chart(ring[k]), q = to_chart(ring[(k + 1) % ring.size()]);
      const ChartPoint middle{0.5 * (p.u + q.u), 0.5 * (p.v + q.v)};
      if (covers(frame, p) && covers(frame, middle)) return true;
      for (std::size_t c = 0; c < 4; ++c) {
        if (crosses(to_vec(p), to_vec(q), quad[c], quad[(c + 1) % 4])) return true;
      }
    }
  }
  return false;
}

double surface_width(const ChartedWall& wall, ChartPoint at, double chart_width) {
  const auto rings = wall.chart->border_rings();
  const double end = at.u + chart_width;
  double u = at.u, length = 0;
  for (const auto& span : wall_spans(rings, at.v)) {
    const double from = std::max(span.from + kInset, u), to = std::min(span.to - kInset, end);
    if (to <= from) continue;
    length += from - u + wall.metric->measure(to_lattice({from, at.v}), to_lattice({to, at.v})).length_m;
    u = to;
  }
  return length + end - u;
}

Result<PictureFrame> frame_by_size(const ChartedWall& wall, PictureSize image, ChartPoint at, double width_m,
                                   double turn_deg) {
  if (!std::isfinite(at.u) || !std::isfinite(at.v) || !std::isfinite(turn_deg) || !fits_lattice(at)) {
    return Problem{"the place or the turn is not a usable number", kWhere,
                   "Give the lower left corner as two lengths."};
  }
  if (!std::isfinite(width_m) || width_m < 0 || width_m > kWidest) {
    return Problem{fmt::format("a width of {} m cannot be", width_m), kWhere, "Give a width above 0 and up to 500 m."};
  }
  if (image.width < 1 || image.height < 1) return Problem{"the picture is empty", kWhere, "Choose another picture."};
  PictureFrame frame;
  frame.at = at;
  frame.turn_deg = turn_deg;
  frame.width = width_m > 0 ? chart_width(wall, at, width_m) : wall.chart->box().width;
  frame.height = frame.width * image.height / image.width;
  return frame;
}

Result<PictureFrame> place_by_size(const ChartedWall& wall, PictureSize image, ChartPoint at, double width_m,
                                   double turn_deg) {
  const auto frame = frame_by_size(wall, image, at, width_m, turn_deg);
  if (!frame) return frame.problem();
  if (!touches_wall(*wall.chart, *frame)) {
    const auto box = wall.chart->box();
    return Problem{
        fmt::format("the picture would lie beside the wall: its lower left corner at {:.3f}, {:.3f} m, the wall is "
                    "{:.3f} m wide and {:.3f} m high",
                    at.u, at.v, box.width, box.height),
        kWhere, "Place its corner so that some of it falls on the wall."};
  }
  return *frame;
}

Vec2 to_pixel(const PictureFrame& frame, PictureSize image, ChartPoint p) {
  const double turn = frame.turn_deg * std::numbers::pi / 180, c = std::cos(turn), s = std::sin(turn);
  const double du = p.u - frame.at.u, dv = p.v - frame.at.v;
  return {(c * du + s * dv) / frame.width * image.width, (1 - (c * dv - s * du) / frame.height) * image.height};
}

ChartPoint from_pixel(const PictureFrame& frame, PictureSize image, Vec2 pixel) {
  const double turn = frame.turn_deg * std::numbers::pi / 180, c = std::cos(turn), s = std::sin(turn);
  const double x = pixel.x / image.width * frame.width, y = (1 - pixel.y / image.height) * frame.height;
  return {frame.at.u + c * x - s * y, frame.at.v + s * x + c * y};
}

bool covers(const PictureFrame& frame, ChartPoint p) {
  const PictureSize unit{1, 1};
  const Vec2 at = to_pixel(frame, unit, p);
  return at.x >= 0 && at.x <= 1 && at.y >= 0 && at.y <= 1;
}

}  // namespace pontata
