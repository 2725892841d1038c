#include "engine/flatten/medial_axis.h"

#include <algorithm>
#include <boost/polygon/segment_data.hpp>
#include <boost/polygon/voronoi.hpp>
#include <cmath>

#include "engine/flatten/rim_crossing.h"

namespace pontata {
namespace {

constexpr double kUnit = 1e-6;  // m
using Diagram = boost::polygon::voronoi_diagram<double>;
using Segment = boost::polygon::segment_data<int>;

std::vector<RimSegment> rounded(std::span<const std::vector<Vec2>> rims) {
  std::vector<RimSegment> out;
  for (const auto& rim : rims) {
    std::vector<LatticePoint> points;
    for (const Vec2& p : rim)
      if (const LatticePoint q{std::llround(p.x / kUnit), std::llround(p.y / kUnit)};
          points.empty() || points.back() != q)
        points.push_back(q);
    while (points.size() > 1 && points.front() == points.back()) points.pop_back();
    if (points.size() < 3) continue;
    for (std::size_t i = 0; i < points.size(); ++i) out.push_back({points[i], points[(i + 1) % points.size()]});
  }
  return out;
}

Vec2 to_vec2(LatticePoint p) { return {static_cast<double>(p.x), static_cast<double>(p.y)}; }

class Builder {
 public:
  Builder(const std::vector<RimSegment>& segments, double step) : segments_(segments), step_(step / kUnit) {
    std::vector<Segment> input;
    for (const RimSegment& s : segments)
      input.emplace_back(boost::polygon::point_data<int>(static_cast<int>(s.a.x), static_cast<int>(s.a.y)),
                         boost::polygon::point_data<int>(static_cast<int>(s.b.x), static_cast<int>(s.b.y)));
    boost::polygon::construct_voronoi(input.begin(), input.end(), &diagram_);
  }

  MedialAxis build() {
    for (const auto& vertex : diagram_.vertices()) vertex.color(0);
    for (const auto& edge : diagram_.edges())
      if (&edge < edge.twin() && edge.is_primary() && edge.is_finite() && inside(edge)) add(edge);
    return std::move(axis_);
  }

 private:
  struct Site {
    bool is_point = false;
    Vec2 a{0, 0}, b{0, 0};
    double distance(Vec2 p) const {
      if (is_point) return glm::distance(p, a);
      const Vec2 d = b - a;
      return std::abs(cross2(d, p - a)) / glm::length(d);
    }
  };
  Site site(const Diagram::cell_type& cell) const {
    const RimSegment& s = segments_[cell.source_index()];
    if (!cell.contains_point()) return {false, to_vec2(s.a), to_vec2(s.b)};
    const bool start = cell.source_category() == boost::polygon::SOURCE_CATEGORY_SEGMENT_START_POINT;
    return {true, to_vec2(start ? s.a : s.b), {}};
  }

  static Vec2 point(const Diagram::vertex_type* v) { return {v->x(), v->y()}; }

  // Even-odd count of the rim left of p.
  bool odd(Vec2 p) const {
    bool in = false;
    for (const RimSegment& s : segments_) {
      const Vec2 a = to_vec2(s.a), b = to_vec2(s.b);
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y)) in = !in;
    }
    return in;
  }

  bool inside(const Diagram::edge_type& edge) const {
    const Vec2 middle = at_fraction(edge, 0.5);
    for (const auto* cell : {edge.cell(), edge.twin()->cell()})
      if (const Site s = site(*cell); !s.is_point) return cross2(s.b - s.a, middle - s.a) > 0;
    return odd(middle);
  }

  // Point of the edge at a fraction of the way between its ends, measured along the side for a parabola.
  Vec2 at_fraction(const Diagram::edge_type& edge, double f) const {
    const Vec2 p = point(edge.vertex0()), q = point(edge.vertex1());
    if (!edge.is_curved()) return p + f * (q - p);
    Site focus = site(*edge.cell()), line = site(*edge.twin()->cell());
    if (!focus.is_point) std::swap(focus, line);
    const Vec2 along = glm::normalize(line.b - line.a), across{-along.y, along.x};
    const double fx = glm::dot(focus.a - line.a, along), fy = glm::dot(focus.a - line.a, across);
    const double x0 = glm::dot(p - line.a, along), x1 = glm::dot(q - line.a, along), x = x0 + f * (x1 - x0);
    return line.a + x * along + ((x - fx) * (x - fx) / (2 * fy) + fy / 2) * across;
  }

  std::uint32_t add_point(Vec2 p, double radius) {
    axis_.at.push_back(p * kUnit);
    axis_.radius.push_back(radius * kUnit);
    return static_cast<std::uint32_t>(axis_.at.size() - 1);
  }
  std::uint32_t vertex_point(const Diagram::vertex_type* v, const Site& s) {
    if (v->color() == 0) v->color(add_point(point(v), s.distance(point(v))) + 1);
    return static_cast<std::uint32_t>(v->color() - 1);
  }

  void add(const Diagram::edge_type& edge) {
    const Site s = site(*edge.cell()), other = site(*edge.twin()->cell());
    const double length = glm::distance(point(edge.vertex0()), point(edge.vertex1()));
    const int pieces = std::clamp(static_cast<int>(std::ceil(length / step_)), edge.is_curved() ? 4 : 1, 256);
    std::vector<double> cuts;
    for (int i = 1; i < pieces; ++i) cuts.push_back(static_cast<double>(i) / pieces);
    if (s.is_point && other.is_point && length > 0) {  // narrowest half way between the two points
      const Vec2 d = (point(edge.vertex1()) - point(edge.vertex0())) / length;
      const double f = glm::dot(0.5 * (s.a + other.a) - point(edge.vertex0()), d) / length;
      if (f > 1e-6 && f < 1 - 1e-6) cuts.insert(std::lower_bound(cuts.begin(), cuts.end(), f), f);
    }
    std::uint32_t last = vertex_point(edge.vertex0(), s);
    for (const double f : cuts) {
      const Vec2 p = at_fraction(edge, f);
      const std::uint32_t next = add_point(p, s.distance(p));
      axis_.links.push_back({last, next});
      last = next;
    }
    axis_.links.push_back({last, vertex_point(edge.vertex1(), s)});
  }

  const std::vector<RimSegment>& segments_;
  double step_;
  Diagram diagram_;
  MedialAxis axis_;
};

double distance_to(const RimSegment& s, Vec2 p) {
  const Vec2 a = to_vec2(s.a), d = to_vec2(s.b) - a;
  return glm::distance(p, a + std::clamp(glm::dot(p - a, d) / glm::dot(d, d), 0.0, 1.0) * d);
}

// The end of one segment that lies nearest to the other.
Vec2 meeting_place(const RimSegment& s, const RimSegment& t) {
  Vec2 best = to_vec2(s.a);
  double least = 1e300;
  for (const auto& [from, to] : {std::pair{s, t}, {t, s}})
    for (const LatticePoint end : {from.a, from.b})
      if (end != to.a && end != to.b && distance_to(to, to_vec2(end)) < least)
        least = distance_to(to, to_vec2(end)), best = to_vec2(end);
  return best * kUnit;
}

}  // namespace

MedialAxis medial_axis(std::span<const std::vector<Vec2>> rims, double step) {
  const std::vector<RimSegment> segments = rounded(rims);
  MedialAxis axis;
  if (const auto touch = find_meeting(segments, Meeting::touching)) {
    axis.no_width = meeting_place(segments[touch->first], segments[touch->second]);
    return axis;
  }
  if (segments.empty()) return axis;
  return Builder(segments, step).build();
}

}  // namespace pontata
