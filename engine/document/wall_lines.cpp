#include "engine/document/wall_lines.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/picture/placement.h"
#include "engine/picture/wall_rows.h"
#include "engine/wall/shape_sizes.h"
#include "engine/wall/shape_surfaces.h"

namespace pontata {

namespace {

using Part = WallLine::Part;
constexpr double kLevel = 0.05;  // m: a column that rises less has no crown

Problem none(const WallItem& item, const std::string& what, const std::string& why) {
  return {"the wall has no " + what + ": " + why, item.name, "Align to its centre line, an edge or another picture."};
}

Result<double> row_end(const WallItem& item, double v, bool right) {
  const auto spans = wall_spans(item.wall->chart->border_rings(), v);
  if (!spans.empty()) return right ? spans.back().to : spans.front().from;
  return Problem{fmt::format("the middle of the picture, at the height v = {:.3f} m, lies beside the wall", v),
                 item.name, "Place it on the wall first."};
}

std::optional<double> symmetry_line(const ShapeSpec& spec) {
  switch (spec.kind) {
    case ShapeKind::flat:
      return 0.5 * spec.width;
    case ShapeKind::lunette:
      return 0.5 * spec.span;
    case ShapeKind::barrel:
    case ShapeKind::elliptical_barrel:
    case ShapeKind::pointed_barrel:
      return 0.5 * spec.length;
    case ShapeKind::groin:
      return cross_vault(spec).a;
    case ShapeKind::cloister:
      return profile_length(cross_vault(spec).over_length);
    case ShapeKind::dome:
    case ShapeKind::sail:
      return sphere_frame(spec).origin.x;
    case ShapeKind::apse:
      return 0.25 * std::numbers::pi * spec.span;
    case ShapeKind::drum:
      return 0.25 * spec.span * turn_of(spec);
    case ShapeKind::cone:
      return cone_point(spec, 0, turn_at(turn_of(spec), 0.5)).address.x;
    case ShapeKind::annular:
      return 0.25 * (spec.inner + spec.outer) * turn_of(spec);
    case ShapeKind::pendentive:
      return std::nullopt;
  }
  return std::nullopt;
}

Result<double> measured_middle(const WallItem& item, double v) {
  const auto from = row_end(item, v, false), to = row_end(item, v, true);
  if (!from) return from.problem();
  const double half = 0.5 * surface_width(*item.wall, {*from, v}, *to - *from);
  double low = 0, high = *to - *from;
  while (high - low > 1e-6) {
    const double middle = 0.5 * (low + high);
    (surface_width(*item.wall, {*from, v}, middle) < half ? low : high) = middle;
  }
  return *from + 0.5 * (low + high);
}

Result<WallLine> centre_line(const WallItem& item, const Vec2& middle) {
  const auto known = item.shape ? symmetry_line(*item.shape) : std::nullopt;
  const Result<double> u = known ? Result<double>(*known) : measured_middle(item, middle.y);
  if (!u) return u.problem();
  return WallLine{{*u, middle.y}, true, false, Part::middle};
}

WallLine level_line(double u, double v, Part part) { return {{u, v}, false, true, part}; }

// A vault that springs on both sides of its arc: the springing on the side of the foot.
Result<WallLine> vault_line(const ShapeSpec& spec, bool crown, const Vec2& middle, const Vec2& foot) {
  const double half = profile_length(profile_over_span(spec));
  if (crown) return level_line(middle.x, half, Part::middle);
  return level_line(middle.x, foot.y > 0 ? 2 * half : 0, Part::foot);
}

Result<WallLine> cloister_springing(const ShapeSpec& spec, const Vec2& middle, const Vec2& foot) {
  const CrossVault vault = cross_vault(spec);
  if (std::abs(foot.y) >= std::abs(foot.x))
    return level_line(middle.x, foot.y > 0 ? 2 * profile_length(vault.over_span) : 0, Part::foot);
  return WallLine{{foot.x > 0 ? 2 * profile_length(vault.over_length) : 0, middle.y}, true, false, Part::foot};
}

WallLine point_line(const Vec2& place, Part part) { return {to_chart(place), true, true, part}; }

Result<WallLine> shape_line(const WallItem& item, bool crown, const Vec2& middle, const Vec2& foot) {
  const ShapeSpec& spec = *item.shape;
  const std::string what = crown ? "crown" : "springing";
  switch (spec.kind) {
    case ShapeKind::barrel:
    case ShapeKind::elliptical_barrel:
    case ShapeKind::pointed_barrel:
    case ShapeKind::annular:
      return vault_line(spec, crown, middle, foot);
    case ShapeKind::lunette:
      return crown ? level_line(0.5 * spec.span, spec.rise, Part::head) : level_line(middle.x, 0, Part::foot);
    case ShapeKind::apse: {
      const double arc = 0.25 * std::numbers::pi * spec.span;  // a quarter of the round, upward and sideways
      return crown ? level_line(arc, spec.height + arc, Part::head) : level_line(middle.x, spec.height, Part::foot);
    }
    case ShapeKind::dome: {
      const SphereFrame frame = sphere_frame(spec);
      return crown ? point_line(frame.origin, Part::middle)
                   : point_line(frame.origin + frame.radius * frame.foot * foot, Part::foot);
    }
    case ShapeKind::cloister: {
      const CrossVault vault = cross_vault(spec);
      if (!crown) return cloister_springing(spec, middle, foot);
      return point_line({profile_length(vault.over_length), profile_length(vault.over_span)}, Part::middle);
    }
    case ShapeKind::groin:
      if (crown) return point_line({cross_vault(spec).a, cross_vault(spec).b}, Part::middle);
      return none(item, what, "it stands on its corners");
    case ShapeKind::sail:
      if (crown) return point_line(sphere_frame(spec).origin, Part::middle);
      return none(item, what, "it stands on its corners");
    case ShapeKind::pendentive:
      return none(item, what, "a pendentive rises from a corner to the ring of its dome");
    case ShapeKind::flat:
    case ShapeKind::drum:
    case ShapeKind::cone:
      return none(item, what, "it is no vault");
  }
  return none(item, what, "it is no vault");
}

// Heights along the chart's column through one place.
class Column {
 public:
  static Result<Column> through(const WallItem& item, double u) {
    const auto box = item.wall->chart->box();
    Column column(item, u);
    for (int k = 0; k <= kSteps; ++k) {
      const double v = box.height * k / kSteps;
      if (column.height(v)) column.places_.push_back(v);
    }
    if (column.places_.size() < 3)
      return Problem{fmt::format("the middle of the picture, at u = {:.3f} m, lies beside the wall", u), item.name,
                     "Place it on the wall first."};
    column.step_ = box.height / kSteps;
    return column;
  }

  // v of the highest (sign +1) or lowest (sign -1) place in [from, to], to 0.1 mm.
  double extreme(double sign, double from, double to) const {
    double best = places_.front(), most = -2e9;
    const auto value = [&](double v) {  // beside the wall it falls away from it
      const auto z = height(v);
      return z ? sign * *z : -1e9 - std::abs(v - best);
    };
    for (const double v : places_)
      if (v >= from && v <= to && value(v) > most) best = v, most = value(v);
    double low = std::max(from, best - step_), high = std::min(to, best + step_);
    while (high - low > 1e-4) {
      const double a = low + (high - low) / 3, b = high - (high - low) / 3;
      value(a) < value(b) ? low = a : high = b;
    }
    return 0.5 * (low + high);
  }
  double first() const { return places_.front() - step_; }
  double last() const { return places_.back() + step_; }
  double step() const { return step_; }
  double at(double v) const { return height(v).value_or(0); }

 private:
  static constexpr int kSteps = 512;
  Column(const WallItem& item, double u) : item_(&item), u_(u) {}
  std::optional<double> height(double v) const {
    const auto place = item_->wall->position({u_, v});
    return place ? std::optional(place->z) : std::nullopt;
  }
  const WallItem* item_;
  double u_ = 0, step_ = 0;
  std::vector<double> places_;
};

Result<WallLine> scan_line(const WallItem& item, bool crown, const Vec2& middle, const Vec2& foot) {
  const auto column = Column::through(item, middle.x);
  if (!column) return column.problem();
  const double from = column->first(), to = column->last();
  const double top = column->extreme(1, from, to), bottom = column->extreme(-1, from, to);
  const std::string what = crown ? "crown" : "springing";
  if (column->at(top) - column->at(bottom) < kLevel) return none(item, what, "it is level here");
  const bool at_end = top < from + 2 * column->step() || top > to - 2 * column->step();
  if (crown) return level_line(middle.x, top, at_end ? Part::head : Part::middle);
  const bool up = foot.y > 0;
  const double springing = up ? column->extreme(-1, top, to) : column->extreme(-1, from, top);
  if (std::abs(springing - top) < 2 * column->step())
    return none(item, what + " on the side of the picture's foot", "it does not fall to that side");
  return level_line(middle.x, springing, Part::foot);
}

}  // namespace

Result<WallLine> wall_line(const WallItem& item, WallLineKind kind, const Vec2& middle, const Vec2& foot) {
  if (kind == WallLineKind::centre_line) return centre_line(item, middle);
  if (kind == WallLineKind::left_edge || kind == WallLineKind::right_edge) {
    const bool right = kind == WallLineKind::right_edge;
    const auto u = row_end(item, middle.y, right);
    if (!u) return u.problem();
    return WallLine{{*u, middle.y}, true, false, right ? Part::right : Part::left};
  }
  const bool crown = kind == WallLineKind::crown;
  return item.shape ? shape_line(item, crown, middle, foot) : scan_line(item, crown, middle, foot);
}

}  // namespace pontata
