// Groin and cloister: four webs that meet in arrises over the diagonals of the plan. Both sections are cut at the same
// chi, so that neighbouring webs share the points of their arris; each has its own normal there.

#include <array>
#include <cmath>

#include "engine/wall/shape_cusps.h"
#include "engine/wall/shape_sizes.h"
#include "engine/wall/tessellate_families.h"

namespace pontata {

namespace {

using Row = TriangleRows::Row;
using Corner = TriangleRows::Corner;
constexpr std::array<double, 2> kSides{-1, 1};

class Webs {
 public:
  Webs(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) : mesh_(mesh), vault_(cross_vault(spec)) {
    groin_ = spec.kind == ShapeKind::groin;
    auto sections = std::array{vault_.over_length, vault_.over_span};
    if (groin_)
      for (auto& section : sections) section.foot = groin_end(vault_);
    chis_ = profile_steps(sections, tolerance, kAspect * 2 * std::min(vault_.a, vault_.b), 3);
    for (const double sx : kSides)
      for (const double sy : kSides) add_arris(sx, sy);
  }

  void add_groin() {
    for (const bool over_x : {true, false})
      for (const double end : kSides) {  // the web reaches the wall at this end of its straight lines
        Row before;
        for (int j = -last(); j <= last(); ++j) {
          Row line = groin_line(over_x, j < 0 ? -1 : 1, static_cast<std::size_t>(std::abs(j)), end);
          if (j > -last()) mesh_.join(before, line);
          before = std::move(line);
        }
      }
  }

  void add_cloister() {
    for (const bool over_x : {true, false})
      for (const double side : kSides) {
        Row before = cloister_line(over_x, side, 0);
        for (int i = 1; i <= last(); ++i) {
          Row line = cloister_line(over_x, side, static_cast<std::size_t>(i));
          mesh_.join(before, line);
          before = std::move(line);
        }
      }
  }

 private:
  int last() const { return static_cast<int>(chis_.size()) - 1; }
  double half_line(bool over_x) const { return over_x ? vault_.b : vault_.a; }  // of the straight lines, to the wall
  double share(std::size_t i) const { return plan_share(vault_, chis_[i]); }

  SurfacePoint at(bool over_x, double side, std::size_t i, double line) const {
    return groin_ ? groin_point(vault_, over_x, side, chis_[i], line)
                  : cloister_point(vault_, over_x, side, chis_[i], line);
  }

  void add_arris(double sx, double sy) {
    auto& corners = arrises_[arris(sx, sy)];
    for (std::size_t i = 0; i < chis_.size(); ++i)
      corners.push_back(i == 0 && arris(sx, sy) > 0 ? arrises_[0][0]
                                                    : mesh_.add(at(true, sx, i, sy * vault_.b * share(i))));
  }
  static std::size_t arris(double sx, double sy) { return (sx > 0 ? 2u : 0u) + (sy > 0 ? 1u : 0u); }

  // The arris point of line i as the web sees it; `side` across the section, `end` along the straight lines.
  Corner arris_corner(bool over_x, double side, double end, std::size_t i) {
    const Corner corner = arrises_[over_x ? arris(side, end) : arris(end, side)][i];
    return mesh_.facing(corner, at(over_x, side, i, 0).normal);
  }

  // Points of a straight line, whose chart places lie evenly on a straight line too.
  auto line_at(bool over_x, double side, std::size_t i) const {
    const double half = half_line(over_x) * share(i);
    const SurfacePoint middle = at(over_x, side, i, 0), arris = at(over_x, side, i, half);
    return [=](double line) {
      SurfacePoint p = middle;
      p.address += (arris.address - middle.address) * (line / half);
      (over_x ? p.place.y : p.place.x) = line;
      return p;
    };
  }

  // Steps along a straight line of this length (m) where the section's chord is about as long as near i.
  int line_steps(bool over_x, std::size_t i, double length) const {
    if (length <= 0) return 0;
    const HalfProfile& section = vault_.over(over_x);
    const std::size_t from = i > 0 ? i - 1 : 0;
    const double chord = profile_arc(section, chis_[from + 1]) - profile_arc(section, chis_[from]);
    return straight_steps(length, kAspect * chord, 8 * last());
  }

  // From the arris to the wall.
  Row groin_line(bool over_x, double side, std::size_t i, double end) {
    const double from = half_line(over_x) * share(i), to = half_line(over_x);
    const int count = share(i) < 1 ? line_steps(over_x, i, to - from) : 0;
    Row row;
    row.push(arris_corner(over_x, side, end, i), from);
    for (int k = 1; k <= count; ++k) {
      const double line = k == count ? to : from + (to - from) * k / count;
      row.push(mesh_.add(at(over_x, side, i, end * line)), line);
    }
    return row;
  }

  // From arris to arris.
  Row cloister_line(bool over_x, double side, std::size_t i) {
    const double half = half_line(over_x) * share(i);
    const int count = 2 * line_steps(over_x, i, half);
    Row row;
    row.push(arris_corner(over_x, side, -1, i), -half);
    const auto point = line_at(over_x, side, i);
    for (int k = 1; k < count; ++k) {
      const double line = half * (2.0 * k / count - 1);
      row.push(mesh_.add(point(line)), line);
    }
    if (count > 0) row.push(arris_corner(over_x, side, 1, i), half);
    return row;
  }

  TriangleRows& mesh_;
  CrossVault vault_;
  bool groin_ = false;
  std::vector<double> chis_;
  std::array<std::vector<Corner>, 4> arrises_;
};

}  // namespace

void add_groin(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) { Webs(mesh, spec, tolerance).add_groin(); }

void add_cloister(TriangleRows& mesh, const ShapeSpec& spec, double tolerance) {
  Webs(mesh, spec, tolerance).add_cloister();
}

}  // namespace pontata
