#include "engine/picture/contour_lines.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <utility>

namespace pontata {

namespace {

using Line = std::vector<Vec2>;

constexpr double kSame = 0.25;   // samples: nearer places are the same one, found from two samples
constexpr double kBeside = 0.8;  // samples: places so near a step stand for the stretch it covers

struct Spot {
  int i = 0, j = 0;
  bool operator==(const Spot&) const = default;
};

struct Joint {
  Spot spot;
  Vec2 place{0, 0};    // samples
  Vec2 heading{1, 0};  // unit
};

// Joins ridge samples into lines, all in samples of the grid.
class Joiner {
 public:
  explicit Joiner(const ContourField& field)
      : field_(field), used_(static_cast<std::size_t>(field.columns) * static_cast<std::size_t>(field.rows), false) {}

  bool free(Spot s) const { return !used_[field_.index(s.i, s.j)]; }

  // The line through a free ridge sample.
  Line line_through(Spot seed) {
    Joint start = joint(seed, {0, 0});
    use(seed);
    Line back = walk({start.spot, start.place, -start.heading}, start);
    const bool closed = back.size() > 2 && back.back() == start.place;
    std::reverse(back.begin(), back.end());
    back.push_back(start.place);
    if (closed) return back;
    const Line ahead = walk(start, start);
    back.insert(back.end(), ahead.begin(), ahead.end());
    return back;
  }

 private:
  // `toward` decides which way along the contour it heads; zero: as the field has it.
  Joint joint(Spot s, Vec2 toward) const {
    const auto ridge = field_.at(s.i, s.j);
    const Vec2 across(std::cos(ridge.direction), std::sin(ridge.direction)), along(-across.y, across.x);
    return {s, Vec2(s.i, s.j) + across * static_cast<double>(ridge.offset),
            glm::dot(along, toward) < 0 ? -along : along};
  }

  void use(Spot s) { used_[field_.index(s.i, s.j)] = true; }

  template <class Each>
  void around(Spot s, int reach, const Each& each) const {
    for (int j = std::max(0, s.j - reach); j <= std::min(field_.rows - 1, s.j + reach); ++j)
      for (int i = std::max(0, s.i - reach); i <= std::min(field_.columns - 1, s.i + reach); ++i)
        if (const Spot n{i, j}; !(n == s) && field_.at(i, j).strength > 0) each(n);
  }

  // What lies ahead within `reach` samples: nearest and with the least turns first. `free_ones` or those of lines.
  std::optional<Joint> ahead_of(const Joint& from, int reach, bool free_ones) const {
    std::optional<Joint> best;
    double least = 1e9;
    around(from.spot, reach, [&](Spot n) {
      if (used_[field_.index(n.i, n.j)] == free_ones) return;
      Joint next = joint(n, from.heading);
      const Vec2 step = next.place - from.place;
      const double length = glm::length(step);
      if (length < kSame) return;
      const double straight = glm::dot(step, from.heading) / length;
      if (straight < 0.3) return;
      const double turns =
          std::acos(std::min(1.0, straight)) + std::acos(std::clamp(glm::dot(next.heading, from.heading), -1.0, 1.0));
      if (length + turns >= least) return;
      least = length + turns;
      if (glm::dot(next.heading, step) < 0) next.heading = -next.heading;
      best = next;
    });
    return best;
  }

  // The samples beside a step are part of the line as well: of two rows that show one ridge only one is walked.
  void use_beside(const Joint& from, const Joint& to) {
    const Vec2 step = to.place - from.place;
    const double whole = glm::dot(step, step);
    const auto take = [&](Spot n) {
      const Joint beside = joint(n, to.heading);
      const double t = std::clamp(glm::dot(beside.place - from.place, step) / whole, 0.0, 1.0);
      if (glm::length(beside.place - from.place - t * step) < kBeside && glm::dot(beside.heading, to.heading) > 0.7)
        use(n);
    };
    around(from.spot, 1, take);
    around(to.spot, 1, [&](Spot n) {
      const Vec2 past = joint(n, to.heading).place - to.place;
      if (glm::dot(past, to.heading) <= kSame) take(n);
    });
  }

  // Places after `from`, not itself, until nothing is ahead; ends on `start`'s place where it comes round to it.
  Line walk(Joint from, const Joint& start) {
    Line line;
    while (true) {
      auto next = ahead_of(from, 1, true);
      if (!next) next = ahead_of(from, 2, true);
      if (!next) break;
      use(next->spot);
      use_beside(from, *next);
      line.push_back(next->place);
      from = *next;
    }
    if (line.size() > 3 && glm::length(start.place - from.place) < 2.5 &&
        glm::dot(start.place - from.place, from.heading) > 0) {
      line.push_back(start.place);
    } else if (const auto fork = ahead_of(from, 1, false); fork && fork->spot != start.spot) {
      if (std::find(line.begin(), line.end(), fork->place) == line.end()) line.push_back(fork->place);
    }
    return line;
  }

  const ContourField& field_;
  std::vector<bool> used_;
};

double off_chord(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 d = b - a;
  const double dd = glm::dot(d, d), t = dd > 0 ? std::clamp(glm::dot(p - a, d) / dd, 0.0, 1.0) : 0;
  return glm::length(p - a - t * d);
}

Line simplified(const Line& line, double tolerance) {
  std::vector<bool> keep(line.size(), false);
  keep.front() = keep.back() = true;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, line.size() - 1}};
  while (!open.empty()) {
    const auto [a, b] = open.back();
    open.pop_back();
    std::size_t far = a;
    double most = tolerance;
    for (std::size_t k = a + 1; k < b; ++k) {
      const double off = off_chord(line[k], line[a], line[b]);
      if (off <= most) continue;
      most = off;
      far = k;
    }
    if (far == a) continue;
    keep[far] = true;
    open.push_back({a, far});
    open.push_back({far, b});
  }
  Line out;
  for (std::size_t k = 0; k < line.size(); ++k)
    if (keep[k]) out.push_back(line[k]);
  return out;
}

double length_of(const Line& line) {
  double sum = 0;
  for (std::size_t k = 1; k < line.size(); ++k) sum += glm::length(line[k] - line[k - 1]);
  return sum;
}

std::vector<std::vector<ChartPoint>> longest_first(const std::vector<Line>& lines, const std::vector<double>& lengths,
                                                   double spacing) {
  std::vector<std::size_t> order(lines.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return lengths[a] > lengths[b]; });
  std::vector<std::vector<ChartPoint>> out;
  out.reserve(order.size());
  for (const auto k : order) {
    auto& line = out.emplace_back();
    for (const Vec2 p : lines[k]) line.push_back(to_chart(p * spacing));
  }
  return out;
}

}  // namespace

std::vector<std::vector<ChartPoint>> contour_lines(const ContourField& field, const ContourLineOptions& options,
                                                   Progress* progress) {
  if (field.columns <= 0 || field.rows <= 0) return {};
  Joiner joiner(field);
  std::vector<Line> lines;
  std::vector<double> lengths;
  field.each_ridge([&](int i, int j, const Ridge&) {
    if (!joiner.free({i, j}) || is_cancelled(progress)) return;
    const Line line = joiner.line_through({i, j});
    const double length = length_of(line);
    if (length * field.spacing < options.least || line.size() < 2) return;
    lines.push_back(simplified(line, options.tolerance / field.spacing));
    lengths.push_back(length);
    report(progress, 1.0 * j / field.rows, "Drawing contours");
  });
  if (is_cancelled(progress)) return {};
  report(progress, 1, "Contours drawn");
  return longest_first(lines, lengths, field.spacing);
}

}  // namespace pontata
