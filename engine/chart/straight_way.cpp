#include "engine/chart/straight_way.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <unordered_map>

namespace pontata {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr int kMostIdle = 10;  // rounds without gain: what is left is rounding
constexpr double kTie = 1e-9;  // radians

// Lengths of triangle sides by the metric, each found once; the mean where its two triangles differ.
class Sides {
 public:
  Sides(const Chart& chart, const Metric& metric) : chart_(chart), metric_(metric), turning_(chart) {}

  double length(SideId h) {
    const auto known = lengths_.find(h);
    if (known != lengths_.end()) return known->second;
    const SideId other = turning_.twin(h);
    const double length = other == kNoSide ? own_length(h) : 0.5 * (own_length(h) + own_length(other));
    lengths_[h] = length;
    if (other != kNoSide) lengths_[other] = length;
    return length;
  }

  // Angle at the corner where the side starts.
  double angle(SideId corner) {
    const double a = length(corner), b = length(previous_side(corner)), c = length(next_side(corner));
    return std::acos(std::clamp((a * a + b * b - c * c) / (2 * a * b), -1.0, 1.0));
  }

  const Turning& turning() const { return turning_; }

 private:
  double own_length(SideId h) const {
    const auto p = to_chart(chart_.places()[turning_.point(h)]),
               q = to_chart(chart_.places()[turning_.point(next_side(h))]);
    const auto f = metric_.first_form(triangle_of(h));
    const double du = q.u - p.u, dv = q.v - p.v;
    return std::sqrt(std::max(0.0, f.E * du * du + 2 * f.F * du * dv + f.G * dv * dv));
  }

  const Chart& chart_;
  const Metric& metric_;
  Turning turning_;
  std::unordered_map<SideId, double> lengths_;
};

// Third corner of a triangle left of p -> q, at these distances from both.
Vec2 third_corner(const Vec2& p, const Vec2& q, double from_p, double from_q) {
  const double d = std::max(glm::length(q - p), 1e-300);
  const Vec2 e = (q - p) / d;
  const double along = (d * d + from_p * from_p - from_q * from_q) / (2 * d);
  const double off = std::sqrt(std::max(0.0, from_p * from_p - along * along));
  return p + along * e + off * Vec2{-e.y, e.x};
}

// The triangles laid flat in a row.
struct Row {
  Vec2 from, to;
  std::vector<Vec2> left, right;  // ends of each side that is crossed
};

// A place in a triangle; at a corner exactly its corner, which the string has to know again.
Vec2 blend(const std::array<Vec2, 3>& corners, const Vec3& weights) {
  for (int k = 0; k < 3; ++k)
    if (weights[k] > 1 - 1e-7) return corners[static_cast<std::size_t>(k)];
  return weights.x * corners[0] + weights.y * corners[1] + weights.z * corners[2];
}

Row lay_flat(Sides& sides, const WallPoint& a, const WallPoint& b, const std::vector<SideId>& crossed) {
  Row row;
  const SideId first = 3 * a.triangle;
  std::array<Vec2, 3> corners{Vec2{0, 0}, Vec2{sides.length(first), 0}, Vec2{}};
  corners[2] = third_corner(corners[0], corners[1], sides.length(first + 2), sides.length(first + 1));
  row.from = blend(corners, a.weights);
  for (const SideId h : crossed) {
    const Vec2 right = corners[h % 3], left = corners[next_side(h) % 3];
    row.right.push_back(right), row.left.push_back(left);
    const SideId there = sides.turning().twin(h);
    corners[there % 3] = left, corners[next_side(there) % 3] = right;
    corners[previous_side(there) % 3] =
        third_corner(left, right, sides.length(previous_side(there)), sides.length(next_side(there)));
  }
  row.to = blend(corners, b.weights);
  return row;
}

// Where the string touches: at the end of a crossed side.
struct Touch {
  Vec2 at;
  std::size_t side = 0;
  bool left = false;
};

// Touching points of the string in order, both ends left out.
class Funnel {
 public:
  explicit Funnel(const Row& row) : row_(row), apex_(row.from), left_(row.from), right_(row.from) {}

  std::vector<Touch> run() {
    const auto count = static_cast<std::ptrdiff_t>(row_.left.size());
    for (std::ptrdiff_t i = 0; i <= count; ++i) {
      const Vec2 l = i == count ? row_.to : row_.left[static_cast<std::size_t>(i)];
      const Vec2 r = i == count ? row_.to : row_.right[static_cast<std::size_t>(i)];
      if (turn(right_, r) >= 0) {
        if (r == apex_ || apex_ == left_ || opens(r, left_)) {
          right_ = r, at_right_ = i;
        } else {
          touch(left_, at_left_, true);
          i = at_left_;
          continue;
        }
      }
      if (i == count) {
        if (right_ != r && apex_ != right_) {
          touch(right_, at_right_, false);
          i = at_right_;
        }
        continue;
      }
      if (turn(left_, l) <= 0) {
        if (l == apex_ || apex_ == right_ || opens(right_, l)) {
          left_ = l, at_left_ = i;
        } else {
          touch(right_, at_right_, false);
          i = at_right_;
        }
      }
    }
    return std::move(touches_);
  }

 private:
  double turn(const Vec2& from, const Vec2& to) const { return cross2(from - apex_, to - apex_); }
  // Whether the left end lies left of the right one, seen from the apex; on either side of an apex between them, too.
  bool opens(const Vec2& right, const Vec2& left) const {
    const double turned = turn(right, left), size = glm::length(right - apex_) * glm::length(left - apex_);
    return std::abs(turned) <= 1e-12 * size ? glm::dot(right - apex_, left - apex_) < 0 : turned > 0;
  }
  void touch(const Vec2& at, std::ptrdiff_t side, bool left) {
    touches_.push_back({at, static_cast<std::size_t>(side), left});
    apex_ = left_ = right_ = at;
    at_left_ = at_right_ = side;
  }

  const Row& row_;
  Vec2 apex_, left_, right_;
  std::ptrdiff_t at_left_ = -1, at_right_ = -1;
  std::vector<Touch> touches_;
};

// Counter-clockwise from one direction to another, 0 to 2 pi.
double turn_between(const Vec2& from, const Vec2& to) {
  const double angle = std::atan2(cross2(from, to), glm::dot(from, to));
  return angle < 0 ? angle + 2 * kPi : angle;
}

class Straightener {
 public:
  Straightener(const Chart& chart, const Metric& metric, const WallPoint& a, const WallPoint& b,
               std::vector<SideId> crossed)
      : sides_(chart, metric), a_(a), b_(b), crossed_(std::move(crossed)) {}

  StraightWay run() {
    double least = std::numeric_limits<double>::infinity();
    for (int idle = 0;;) {
      drop_returns();
      row_ = lay_flat(sides_, a_, b_, crossed_);
      touches_ = Funnel(row_).run();
      const double now = length();
      idle = now < least * (1 - 1e-13) ? 0 : idle + 1;
      least = std::min(least, now);
      if (idle > kMostIdle || !lead_round()) break;
    }
    return finish();
  }

 private:
  const Turning& turning() const { return sides_.turning(); }

  // A side crossed and at once crossed back is not crossed at all.
  void drop_returns() {
    std::vector<SideId> kept;
    for (const SideId h : crossed_)
      if (!kept.empty() && turning().twin(kept.back()) == h)
        kept.pop_back();
      else
        kept.push_back(h);
    crossed_ = std::move(kept);
  }

  struct Detour {
    std::size_t first, last;  // crossed sides that it replaces
    std::vector<SideId> sides;
  };

  // Leads the way over the other side of points where that is shorter; false when there are none.
  bool lead_round() {
    std::vector<Detour> detours;
    for (std::size_t i = 0; i < touches_.size(); ++i) {
      auto detour = detour_at(i);
      if (detour && (detours.empty() || detour->first > detours.back().last + 1)) detours.push_back(std::move(*detour));
    }
    for (auto d = detours.rbegin(); d != detours.rend(); ++d) {
      const auto begin = crossed_.begin();
      crossed_.erase(begin + static_cast<std::ptrdiff_t>(d->first), begin + static_cast<std::ptrdiff_t>(d->last) + 1);
      crossed_.insert(crossed_.begin() + static_cast<std::ptrdiff_t>(d->first), d->sides.begin(), d->sides.end());
    }
    return !detours.empty();
  }

  std::optional<Detour> detour_at(std::size_t i) {
    const Touch& touch = touches_[i];
    const Vec2 back = (i == 0 ? row_.from : touches_[i - 1].at) - touch.at;
    const Vec2 on = (i + 1 == touches_.size() ? row_.to : touches_[i + 1].at) - touch.at;
    if (back == Vec2{0, 0} || on == Vec2{0, 0}) return std::nullopt;
    const auto& ends = touch.left ? row_.left : row_.right;
    Detour detour{touch.side, touch.side, {}};
    while (detour.first > 0 && ends[detour.first - 1] == touch.at) --detour.first;
    while (detour.last + 1 < ends.size() && ends[detour.last + 1] == touch.at) ++detour.last;
    const SideId begin = crossed_[detour.first];
    const SideId corner = touch.left ? next_side(begin) : begin;
    const auto all_round = full_angle(corner);
    if (!all_round) return std::nullopt;
    double here = touch.left ? turn_between(back, on) : turn_between(on, back);
    if (here < 0.5 * kPi) here += 2 * kPi;
    if (*all_round - here >= kPi - kTie) return std::nullopt;
    const std::uint32_t goal = triangle_of(turning().twin(crossed_[detour.last]));
    for (SideId c = corner; triangle_of(c) != goal || detour.sides.empty();) {
      detour.sides.push_back(touch.left ? Turning::crossed_right(c) : Turning::crossed_left(c));
      c = touch.left ? turning().right_of(c) : turning().left_of(c);
      if (c == corner) return std::nullopt;
    }
    return detour;
  }

  // Sum of the angles round a corner's point; nullopt where the wall ends there.
  std::optional<double> full_angle(SideId corner) {
    double sum = 0;
    SideId c = corner;
    do {
      sum += sides_.angle(c);
      c = turning().left_of(c);
    } while (c != kNoSide && c != corner);
    return c == kNoSide ? std::nullopt : std::optional(sum);
  }

  StraightWay finish() {
    StraightWay way{std::move(crossed_), {}, {}, 0};
    Vec2 from = row_.from;
    std::size_t next = 0;  // touch ahead
    for (const Touch& t : touches_) way.bends.push_back(t.left ? next_side(way.sides[t.side]) : way.sides[t.side]);
    for (std::size_t i = 0; i < way.sides.size(); ++i) {
      while (next < touches_.size() && touches_[next].side < i) from = touches_[next++].at;
      const Vec2 to = next == touches_.size() ? row_.to : touches_[next].at;
      way.shares.push_back(share(i, from, to));
    }
    way.length = length();
    return way;
  }

  double length() const {
    double sum = 0;
    Vec2 last = row_.from;
    for (const Touch& t : touches_) sum += glm::length(t.at - last), last = t.at;
    return sum + glm::length(row_.to - last);
  }

  // Where the string from -> to crosses side i.
  double share(std::size_t i, const Vec2& from, const Vec2& to) const {
    const Vec2 begin = row_.right[i], along = row_.left[i] - begin, d = to - from;
    const double across = cross2(along, d);
    if (std::abs(across) > 1e-14 * glm::length(along) * glm::length(d))
      return std::clamp(cross2(from - begin, d) / across, 0.0, 1.0);
    return glm::length(to - begin) < glm::length(to - row_.left[i]) ? 0 : 1;  // the string runs along the side
  }

  Sides sides_;
  WallPoint a_, b_;
  std::vector<SideId> crossed_;
  Row row_;
  std::vector<Touch> touches_;
};

}  // namespace

StraightWay straighten(const Chart& chart, const Metric& metric, const WallPoint& a, const WallPoint& b,
                       std::vector<SideId> rough) {
  return Straightener(chart, metric, a, b, std::move(rough)).run();
}

}  // namespace pontata
