#include "engine/seams/hug.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <set>

#include "engine/base/predicates.h"
#include "engine/seams/hug_guide.h"
#include "engine/seams/hug_loops.h"

namespace pontata {

namespace {

constexpr double kBesideWall = 0.005;  // m outside the wall that a point may lie

Problem crosses_itself(ChartPoint at) {
  return Problem{"the outline crosses itself", fmt::format("near {:.3f}, {:.3f} m", at.u, at.v),
                 "Move the points near there, or let go of the contour for that stroke."};
}

class HugLine {
 public:
  HugLine(std::shared_ptr<const HugGround> ground, const HugOptions& options) : guide_(std::move(ground), options) {}

  // Refuses points that are no numbers or lie beside the wall; drops repeated ones.
  Outcome take(std::span<const ChartPoint> points) {
    for (std::size_t k = 0; k < points.size(); ++k) {
      const auto p = points[k];
      const std::string where = fmt::format("point {} of the line", k + 1);
      if (!std::isfinite(p.u) || !std::isfinite(p.v) || !fits_lattice(p)) {
        return Problem{"the place is not a usable number", where, "Give each point as two lengths."};
      }
      const auto inside = guide_.wall().chart->clamp(p);
      const double beside = step_length(form_near(guide_.wall(), inside), to_vec(p) - to_vec(inside));
      if (beside > kBesideWall) {
        return Problem{fmt::format("{:.3f}, {:.3f} m lies {:.0f} mm outside the wall", p.u, p.v, 1000 * beside), where,
                       "Move it onto the wall."};
      }
      const Vec2 at = guide_.click(p).given;
      if (clicks_.empty() || clicks_.back() != at) clicks_.push_back(at);
    }
    return Done{};
  }

  // Strokes that would make the line cross itself are let go of, one by one, and drawn straight: a line with a straight
  // stretch serves a painter better than none.
  Result<HuggedLine> draw(bool closed, Progress* progress) {
    progress_ = progress;
    auto line = draw_once(closed);
    while (!line && crossing_ && let_go_near(*crossing_)) line = draw_once(closed);
    return line;
  }

 private:
  Result<HuggedLine> draw_once(bool closed) {
    ends_.clear(), strokes_.clear(), crossing_.reset(), cost_ = 0;
    if (closed && clicks_.size() > 1 && clicks_.back() == clicks_.front()) clicks_.pop_back();
    HugPath whole;
    if (clicks_.size() == 1) whole.add(guide_.click(to_chart(clicks_[0])).places[0].at, HugKind::free);
    for (std::size_t k = 0; k + 1 < clicks_.size(); ++k) {
      if (is_cancelled(progress_)) return Problem{"stopped before the line was found", "", ""};
      report(progress_, static_cast<double>(k) / static_cast<double>(clicks_.size()), "Following contours");
      extend(whole, clicks_[k], clicks_[k + 1]);
    }
    auto uncrossed = cut_loops(whole, guide_.long_loop(), closed);
    if (uncrossed.long_loop) return crosses(*uncrossed.long_loop);
    if (closed && uncrossed.ring) return finish(close_ring(uncrossed.path), true);
    if (!closed || ends_.size() < 2) return finish(uncrossed.path, false);
    auto closing = closing_stroke(uncrossed.path);
    if (uncrossed.path.at.back() != closing.at.front() || meets(uncrossed.path, closing)) {
      closing = {{uncrossed.path.at.back(), uncrossed.path.at.front()}, {HugKind::free}};
      if (ends_.size() > 2) {
        if (const auto place = meets(uncrossed.path, closing)) return crosses(*place);
      }
    }
    append(uncrossed.path, closing);
    return finish(uncrossed.path, true);
  }

  Problem crosses(ChartPoint at) {
    crossing_ = at;
    return crosses_itself(at);
  }

  // The hugged stroke that passes nearest to the place; false when none is left to let go of.
  bool let_go_near(ChartPoint place) {
    const Vec2 p = to_vec(place);
    double nearest = std::numeric_limits<double>::infinity();
    std::size_t found = strokes_.size();
    for (std::size_t k = 0; k < strokes_.size(); ++k) {
      if (let_go_.contains(k)) continue;
      const auto& at = strokes_[k].at;
      for (std::size_t i = 0; i + 1 < at.size(); ++i) {
        const Vec2 way = at[i + 1] - at[i];
        const double length = glm::dot(way, way);
        const double t = length > 0 ? std::clamp(glm::dot(p - at[i], way) / length, 0.0, 1.0) : 0;
        const double away = glm::length(at[i] + t * way - p);
        if (away < nearest) nearest = away, found = k;
      }
    }
    if (found == strokes_.size()) return false;
    let_go_.insert(found);
    return true;
  }

  // The stroke from the line's end, or from the first click, to the click b. Each is drawn where it makes its stroke
  // cheapest, and stays there: so does the live stroke.
  void extend(HugPath& whole, Vec2 from, Vec2 click) {
    const bool first = ends_.empty();
    const HugEnd a = first ? guide_.click(to_chart(from)) : ends_.back();
    std::optional<HugBarrier> barrier;
    if (guide_.cost() && !first)
      barrier.emplace(*guide_.cost(), whole.at, std::vector<Vec2>{a.given, ends_.front().given});
    const HugEnd b = guide_.click(to_chart(click), barrier ? &*barrier : nullptr);
    const auto drawn = stroke(a, b, barrier ? &*barrier : nullptr);
    if (first) {
      whole.add(drawn.way.from.at, HugKind::free);
      ends_.push_back(a.spot ? a : guide_.fixed(drawn.way.from.at));
    }
    append(whole, drawn.path);
    ends_.push_back(b.spot ? b : guide_.fixed(drawn.way.to.at));
  }

  HugPath closing_stroke(const HugPath& before) {
    const HugEnd &a = ends_.back(), &b = ends_.front();
    if (!guide_.cost()) return stroke(a, b, nullptr).path;
    const HugBarrier barrier(*guide_.cost(), before.at, {a.given, b.given});
    return stroke(a, b, &barrier).path;
  }

  struct Drawn {
    HugPath path;
    HugWay way;
  };
  Drawn stroke(const HugEnd& a, const HugEnd& b, const HugBarrier* barrier) {
    auto drawn = new_stroke(a, b, barrier);
    strokes_.push_back(drawn.path);
    cost_ += drawn.way.cost_m;
    return drawn;
  }
  Drawn new_stroke(const HugEnd& a, const HugEnd& b, const HugBarrier* barrier) {
    Drawn drawn{{}, HugGuide::straight(a, b)};
    if (let_go_.contains(strokes_.size())) {
      drawn.path.add(drawn.way.from.at, HugKind::free);
      drawn.path.add(drawn.way.to.at, HugKind::free);
      return drawn;
    }
    if (auto path = guide_.along_seams(a, b)) {
      drawn.path = std::move(*path);
      return drawn;
    }
    const bool joins = barrier && barrier->beside(guide_.cost()->cell_at(b.given));
    drawn.way = guide_.exact(a, b, joins ? nullptr : barrier, progress_);
    drawn.path = guide_.dense(drawn.way);
    return drawn;
  }

  static void append(HugPath& path, const HugPath& more) {
    for (std::size_t k = 1; k < more.at.size(); ++k) path.add(more.at[k], more.kind[k - 1]);
  }
  static HugPath close_ring(HugPath path) {
    path.add(path.at.front(), HugKind::free);
    return path;
  }

  // Simplified as far as the line stays free of crossings; a closed path comes with its first point repeated at its
  // end.
  Result<HuggedLine> finish(const HugPath& path, bool closed) {
    std::vector<Vec2> kept;
    for (const auto& e : ends_) kept.push_back(to_vec(to_chart(to_lattice(to_chart(e.given)))));
    int crossing = -1;
    HugPath out;
    for (const double share : {1.0, 0.25, 0.0}) {
      out = simplify(guide_.wall(), path, share * 1e-3 * guide_.options().simplify_mm, kept);
      if (!closed) {
        out = cut_loops(out, guide_.long_loop(), false).path;
        break;
      }
      Ring ring;
      for (std::size_t k = 0; k + 1 < out.at.size(); ++k) ring.push_back(to_lattice(to_chart(out.at[k])));
      crossing = ring.size() > 3 ? find_self_crossing(ring).first : -1;
      if (crossing < 0) break;
    }
    if (crossing >= 0) return crosses(to_chart(out.at[static_cast<std::size_t>(crossing)]));
    auto line = measured(guide_.wall(), guide_.seams(), out);
    line.cost_m = cost_;
    if (closed && line.line.size() > 1) line.line.pop_back();
    return line;
  }

  HugGuide guide_;
  Progress* progress_ = nullptr;
  double cost_ = 0;  // of the strokes drawn
  std::vector<Vec2> clicks_;
  std::vector<HugEnd> ends_;      // of the strokes drawn, where they were drawn to
  std::vector<HugPath> strokes_;  // as drawn, the closing one last
  std::set<std::size_t> let_go_;  // of them, to be drawn straight
  std::optional<ChartPoint> crossing_;
};

}  // namespace

Result<HuggedLine> hug(std::shared_ptr<const HugGround> ground, std::span<const ChartPoint> points, bool closed,
                       const HugOptions& options, Progress* progress) {
  HugLine line(ground, options);
  if (const auto taken = line.take(points); !taken) return taken.problem();
  auto drawn = line.draw(closed, progress);
  if (!drawn && options.snap_m > 0 && !is_cancelled(progress)) {  // clicks that were drawn together may be the cause
    auto exact = options;
    exact.snap_m = 0;
    if (auto other = hug(std::move(ground), points, closed, exact, progress)) return other;
  }
  if (!drawn) return drawn.problem();
  return with_given(std::move(*drawn), points);
}

}  // namespace pontata
