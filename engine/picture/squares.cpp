#include "engine/picture/squares.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/picture/wall_rows.h"

namespace pontata {

namespace {

constexpr int kMostLines = 400;
constexpr double kInset = 4 * kPitch;  // keeps a walk's ends inside the wall after rounding

// Rows and columns alike: `along` runs along the line, `across` is the line's own place.
struct Way {
  bool upright = false;
  std::vector<Ring> rings;  // with u and v exchanged for upright ways
  const ChartedWall* wall = nullptr;

  Way(const ChartedWall& of, bool is_upright) : upright(is_upright), rings(of.chart->border_rings()), wall(&of) {
    if (!upright) return;
    for (Ring& ring : rings)
      for (LatticePoint& p : ring) std::swap(p.x, p.y);
  }
  ChartPoint place(double along, double across) const {
    return upright ? ChartPoint{across, along} : ChartPoint{along, across};
  }
  double length(double from, double to, double across) const {
    return wall->metric->measure(to_lattice(place(from, across)), to_lattice(place(to, across))).length_m;
  }
  std::vector<RowSpan> spans(double across) const {
    std::vector<RowSpan> out;
    for (RowSpan span : wall_spans(rings, across)) {
      span.from += kInset, span.to -= kInset;
      if (span.from < span.to) out.push_back(span);
    }
    return out;
  }
};

// Places along a line whose distance from `start` over the surface is a whole number of steps, on both sides of it.
class Steps {
 public:
  Steps(const Way& way, double across, double most) : way_(way), across_(across), most_(most) {
    spans_ = way.spans(across);
  }

  // Distances 0, step, 2 step, ... from `start` toward 0 or toward the end.
  std::vector<double> walk(double start, double step, bool forward) const {
    std::vector<double> out;
    double at = start;
    while (static_cast<int>(out.size()) <= kMostLines) {
      const double next = advance(at, step, forward);
      if (next < 0 || next > most_) break;
      out.push_back(next);
      at = next;
    }
    return out;
  }

 private:
  // Beside the wall a stretch counts its chart length.
  double advance(double at, double left, bool forward) const {
    const double sign = forward ? 1 : -1;
    while (left > 0) {
      const RowSpan* on = span_at(at, forward);
      const double edge = on ? (forward ? on->to : on->from) : next_edge(at, forward);
      const double whole = on ? way_.length(at, edge, across_) : std::abs(edge - at);
      if (whole >= left) return on ? within(at, edge, left) : at + sign * left;
      left -= whole;
      if (edge < 0 || edge > most_ || edge == at) return edge + sign * left;
      at = edge;
    }
    return at;
  }
  double within(double from, double to, double wanted) const {
    double low = from, high = to;
    for (int k = 0; k < 60 && std::abs(high - low) > kPitch; ++k) {
      const double middle = 0.5 * (low + high);
      (way_.length(from, middle, across_) < wanted ? low : high) = middle;
    }
    return 0.5 * (low + high);
  }
  const RowSpan* span_at(double at, bool forward) const {
    for (const RowSpan& span : spans_)
      if (forward ? span.from <= at && at < span.to : span.from < at && at <= span.to) return &span;
    return nullptr;
  }
  double next_edge(double at, bool forward) const {
    double best = forward ? most_ + 1 : -1;
    for (const RowSpan& span : spans_) {
      const double edge = forward ? span.from : span.to;
      if (forward ? edge > at : edge < at) best = forward ? std::min(best, edge) : std::max(best, edge);
    }
    return best;
  }

  const Way& way_;
  double across_, most_;
  std::vector<RowSpan> spans_;
};

std::string letters(int n) {
  std::string out;
  for (++n; n > 0; n = (n - 1) / 26) out.insert(out.begin(), static_cast<char>('A' + (n - 1) % 26));
  return out;
}

SquareLine line_at(const Way& way, double across, std::string name) {
  SquareLine line{way.upright, std::move(name), across, {}};
  for (const RowSpan& span : way.spans(across))
    line.stretches.push_back({way.place(span.from, across), way.place(span.to, across)});
  return line;
}

// Sides of whole squares that lie on the wall.
void measure_sides(const Way& way, std::span<const double> lines, std::span<const double> crossings, Squares& out) {
  for (const double across : lines) {
    const auto spans = way.spans(across);
    for (std::size_t k = 0; k + 1 < crossings.size(); ++k) {
      const double from = crossings[k], to = crossings[k + 1];
      const bool on =
          std::any_of(spans.begin(), spans.end(), [&](const RowSpan& s) { return s.from <= from && to <= s.to; });
      if (!on) continue;
      const double side = way.length(from, to, across) / out.step_m;
      out.least = std::min(out.least, side);
      out.greatest = std::max(out.greatest, side);
    }
  }
}

}  // namespace

Result<Squares> squares_on(const ChartedWall& wall, double step_m) {
  if (!(step_m > 0) || !std::isfinite(step_m))
    return Problem{"the squares' side must be more than 0", "squaring.step", "Give a length such as 0.5m."};
  const ChartBox box = wall.chart->box();
  if (std::max(box.width, box.height) / step_m > kMostLines)
    return Problem{fmt::format("squares of {} m would be more than {} lines", format_number(step_m), kMostLines),
                   "squaring.step", "Give a longer side."};
  const Way rows(wall, false), columns(wall, true);
  const double centre = box.width / 2;
  const Steps across(rows, box.height / 2, box.width), up(columns, centre, box.height);
  std::vector<double> uprights = across.walk(centre, step_m, false);
  std::reverse(uprights.begin(), uprights.end());
  uprights.push_back(centre);
  for (const double u : across.walk(centre, step_m, true)) uprights.push_back(u);
  const std::vector<double> levels = up.walk(0, step_m, true);
  Squares out{step_m, {}, 1, 1};
  for (std::size_t k = 0; k < uprights.size(); ++k)
    out.lines.push_back(line_at(columns, uprights[k], letters(static_cast<int>(k))));
  for (std::size_t k = 0; k < levels.size(); ++k) out.lines.push_back(line_at(rows, levels[k], std::to_string(k + 1)));
  std::erase_if(out.lines, [](const SquareLine& line) { return line.stretches.empty(); });
  measure_sides(columns, uprights, levels, out);
  measure_sides(rows, levels, uprights, out);
  return out;
}

std::string words_of(const Squares& squares) {
  std::string words = fmt::format("squares of {} m", format_number(squares.step_m));
  if (squares.greatest - squares.least < 2e-4) return words;
  const auto side = [&](double share) { return format_fixed(share * squares.step_m, 3); };
  return words + fmt::format(", their sides {} to {} m on the wall", side(squares.least), side(squares.greatest));
}

}  // namespace pontata
