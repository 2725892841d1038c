#include "engine/seams/hug.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/base/predicates.h"
#include "engine/seams/hug_loops.h"
#include "engine/seams/hug_path.h"
#include "engine/seams/hug_search.h"

namespace pontata {

namespace {

constexpr double kBesideWall = 0.005;  // m outside the wall that a point may lie
constexpr double kSeamDetour = 2.0;    // a way along seams up to this much longer than the straight stroke is taken

// A stroke's end: the given place, or its place on a seam.
struct HugEnd {
  Vec2 at{0, 0};
  std::optional<SeamSpot> spot;
};

// What strokes over one ground share.
class HugGuide {
 public:
  HugGuide(std::shared_ptr<const HugGround> ground, const HugOptions& options)
      : ground_(std::move(ground)), options_(options), seams_(*ground_->wall, ground_->network) {
    const auto* contours = ground_->contours.get();
    if (options.reach_m > 0 && contours && contours->columns > 0)
      cost_.emplace(*ground_->wall, contours, options.strength);
  }

  const ChartedWall& wall() const { return *ground_->wall; }
  const HugOptions& options() const { return options_; }
  HugCost* cost() { return cost_ ? &*cost_ : nullptr; }

  HugEnd end(ChartPoint p) const {
    HugEnd e{to_vec(p), {}};
    if (!wall().chart->triangle_at(to_lattice(p))) e.at = to_vec(wall().chart->clamp(p));
    e.spot = seams_.nearest(e.at, options_.seam_reach_m);
    if (e.spot) e.at = to_vec(e.spot->place);
    return e;
  }

  // The way along seams when both ends lie on them and it stays near the straight stroke.
  std::optional<HugPath> along_seams(const HugEnd& a, const HugEnd& b) const {
    if (!a.spot || !b.spot || !(options_.reach_m > 0)) return std::nullopt;
    const double straight = wall().metric->measure(to_lattice(to_chart(a.at)), to_lattice(to_chart(b.at))).length_m;
    const HugRegion region{a.at, b.at, std::max(options_.reach_m, options_.seam_reach_m), false};
    const auto near = [&](Vec2 p) {
      return distance_to_stroke(region, form_near(wall(), to_chart(p)), p) <= region.half_width;
    };
    const auto route = seams_.route(*a.spot, *b.spot, kSeamDetour * straight + 1e-6, near);
    if (!route) return std::nullopt;
    HugPath path;
    for (const auto& p : route->points) path.add(to_vec(p), HugKind::seam);
    return path;
  }

  // Dense line over the cells found (none: straight), drawn to seams it runs beside, without loops.
  HugPath dense(const HugEnd& a, const HugEnd& b, const std::optional<std::vector<HugCell>>& cells) {
    HugPath path;
    if (cells && cost_) {
      path = follow_ridges(*cost_, *cells, a.at, b.at);
    } else {
      path.add(a.at, HugKind::free);
      path.add(b.at, HugKind::free);
    }
    if (options_.reach_m > 0) {
      path = attach_to_seams(wall(), seams_, path, cost_ ? cost_->cell() : kPlainStep, options_.seam_reach_m);
    }
    return cut_loops(path, long_loop(), false).path;
  }

  double long_loop() const { return 2 * std::max(options_.reach_m, 0.025); }

 private:
  static constexpr double kPlainStep = 0.002;  // chart metres
  std::shared_ptr<const HugGround> ground_;
  HugOptions options_;
  HugSeams seams_;
  std::optional<HugCost> cost_;
};

// The line with given points that lie on it put back as they were given: the lattice moved them by up to half a pitch.
HuggedLine with_given(HuggedLine line, std::span<const ChartPoint> given) {
  for (auto& p : line.line) {
    for (const auto& g : given) {
      if (to_lattice(g) == to_lattice(p)) p = g;
    }
  }
  return line;
}

Problem crosses_itself(ChartPoint at) {
  return Problem{"the outline crosses itself", fmt::format("near {:.3f}, {:.3f} m", at.u, at.v),
                 "Move the points near there, or let go of the contour for that stroke."};
}

}  // namespace

struct HugStroke::State {
  State(std::shared_ptr<const HugGround> ground, ChartPoint p, const HugOptions& options,
        std::span<const ChartPoint> before)
      : guide(std::move(ground), options), given(p), anchor(guide.end(p)) {
    std::vector<Vec2> line;
    for (const auto& q : before) line.push_back(to_vec(q));
    if (line.size() > 1 && guide.cost()) barrier.emplace(*guide.cost(), line, std::vector<Vec2>{anchor.at, line[0]});
  }

  HugGuide guide;
  ChartPoint given;
  HugEnd anchor;
  std::optional<HugBarrier> barrier;
  std::optional<HugTree> near, far, tight;  // all round the anchor; along one direction, wide and narrow

  bool within(const std::vector<HugCell>& cells, const HugRegion& region) {
    auto& cost = *guide.cost();
    return std::all_of(cells.begin(), cells.end(), [&](HugCell c) {
      return distance_to_stroke(region, cost.tile_of(c).form, cost.centre(c)) <= region.half_width;
    });
  }

  // A tree along the way to b that b has not left by more than `slack`, made anew when it has.
  HugTree& along(std::optional<HugTree>& tree, Vec2 b, double half_width, double slack) {
    auto& cost = *guide.cost();
    const auto form = form_near(guide.wall(), to_chart(b));
    if (!tree || distance_to_stroke(tree->region(), form, b) > slack) {
      tree.emplace(cost, HugRegion{anchor.at, b, half_width, true}, cost.cell_at(anchor.at), keep_off());
    }
    return *tree;
  }

  // Standing trees serve many places of the pointer. The first reaches wider than the stroke may wander: what it finds
  // within the stroke's own reach is the least-cost path there too. The second is a little narrower than that reach,
  // the last exactly as wide and for this place only.
  std::optional<std::vector<HugCell>> search(Vec2 b) {
    auto* cost = guide.cost();
    if (!cost) return std::nullopt;
    const double reach = guide.options().reach_m;
    const HugCell from = cost->cell_at(anchor.at), to = cost->cell_at(b);
    const HugRegion exact{anchor.at, b, reach, false};
    if (barrier && barrier->beside(to)) return HugTree(*cost, exact, from).path(to);
    const bool at_hand = step_length(form_near(guide.wall(), to_chart(b)), b - anchor.at) <= 2 * reach;
    if (at_hand && !near) near.emplace(*cost, HugRegion{anchor.at, anchor.at, 3 * reach, false}, from, keep_off());
    auto cells = (at_hand ? *near : along(far, b, 1.25 * reach, 0.25 * reach)).path(to);
    if (cells && within(*cells, exact)) return cells;
    cells = along(tight, b, 0.9 * reach, 0.1 * reach).path(to);
    if (cells && within(*cells, exact)) return cells;
    return HugTree(*cost, exact, from, keep_off()).path(to);
  }
  const HugBarrier* keep_off() const { return barrier ? &*barrier : nullptr; }
};

HugStroke::HugStroke(std::shared_ptr<const HugGround> ground, ChartPoint anchor, const HugOptions& options,
                     std::span<const ChartPoint> before)
    : state_(std::make_unique<State>(std::move(ground), anchor, options, before)) {}
HugStroke::~HugStroke() = default;
HugStroke::HugStroke(HugStroke&&) noexcept = default;
HugStroke& HugStroke::operator=(HugStroke&&) noexcept = default;

HuggedLine HugStroke::to(ChartPoint p) {
  auto& s = *state_;
  const HugEnd end = s.guide.end(p);
  HuggedLine line;
  if (end.at == s.anchor.at) {
    line.line = {to_chart(end.at), to_chart(end.at)};
    return line;
  }
  auto path = s.guide.along_seams(s.anchor, end);
  if (!path) path = s.guide.dense(s.anchor, end, s.search(end.at));
  const ChartPoint given[2] = {s.given, p};
  return with_given(measured(s.guide.wall(), simplify(s.guide.wall(), *path, s.guide.options().simplify_m, {})), given);
}

namespace {

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
      const auto end = guide_.end(p);
      if (ends_.empty() || ends_.back().at != end.at) ends_.push_back(end);
    }
    return Done{};
  }

  Result<HuggedLine> draw(bool closed, Progress* progress) {
    if (closed && ends_.size() > 1 && ends_.back().at == ends_.front().at) ends_.pop_back();
    HugPath whole;
    if (!ends_.empty()) whole.add(ends_[0].at, HugKind::free);
    for (std::size_t k = 0; k + 1 < ends_.size(); ++k) {
      if (is_cancelled(progress)) return Problem{"stopped before the line was found", "", ""};
      report(progress, static_cast<double>(k) / static_cast<double>(ends_.size()), "Following contours");
      append(whole, stroke(ends_[k], ends_[k + 1], whole));
    }
    auto uncrossed = cut_loops(whole, guide_.long_loop(), closed);
    if (uncrossed.long_loop) return crosses_itself(*uncrossed.long_loop);
    if (closed && uncrossed.ring) return finish(close_ring(uncrossed.path), true);
    if (!closed || ends_.size() < 2) return finish(uncrossed.path, false);
    auto closing = stroke(ends_.back(), ends_.front(), uncrossed.path);
    if (uncrossed.path.at.back() != closing.at.front() || meets(uncrossed.path, closing)) {
      closing = {{uncrossed.path.at.back(), uncrossed.path.at.front()}, {HugKind::free}};
      if (ends_.size() > 2) {
        if (const auto place = meets(uncrossed.path, closing)) return crosses_itself(*place);
      }
    }
    append(uncrossed.path, closing);
    return finish(uncrossed.path, true);
  }

 private:
  HugPath stroke(const HugEnd& a, const HugEnd& b, const HugPath& before) {
    if (auto path = guide_.along_seams(a, b)) return *path;
    auto* cost = guide_.cost();
    if (!cost) return guide_.dense(a, b, std::nullopt);
    const HugBarrier barrier(*cost, before.at, {a.at, ends_.front().at});
    const bool joins = barrier.beside(cost->cell_at(b.at));
    HugTree tree(*cost, {a.at, b.at, guide_.options().reach_m, false}, cost->cell_at(a.at), joins ? nullptr : &barrier);
    return guide_.dense(a, b, tree.path(cost->cell_at(b.at)));
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
  Result<HuggedLine> finish(const HugPath& path, bool closed) const {
    std::vector<Vec2> kept;
    for (const auto& e : ends_) kept.push_back(to_vec(to_chart(to_lattice(to_chart(e.at)))));
    int crossing = -1;
    HugPath out;
    for (const double tolerance : {guide_.options().simplify_m, 0.25 * guide_.options().simplify_m, 0.0}) {
      out = simplify(guide_.wall(), path, tolerance, kept);
      if (!closed) {
        out = cut_loops(out, guide_.long_loop(), false).path;
        break;
      }
      Ring ring;
      for (std::size_t k = 0; k + 1 < out.at.size(); ++k) ring.push_back(to_lattice(to_chart(out.at[k])));
      crossing = ring.size() > 3 ? find_self_crossing(ring).first : -1;
      if (crossing < 0) break;
    }
    if (crossing >= 0) return crosses_itself(to_chart(out.at[static_cast<std::size_t>(crossing)]));
    auto line = measured(guide_.wall(), out);
    if (closed && line.line.size() > 1) line.line.pop_back();
    return line;
  }

  HugGuide guide_;
  std::vector<HugEnd> ends_;
};

}  // namespace

Result<HuggedLine> hug(std::shared_ptr<const HugGround> ground, std::span<const ChartPoint> points, bool closed,
                       const HugOptions& options, Progress* progress) {
  HugLine line(std::move(ground), options);
  if (const auto taken = line.take(points); !taken) return taken.problem();
  auto drawn = line.draw(closed, progress);
  if (!drawn) return drawn.problem();
  return with_given(std::move(*drawn), points);
}

}  // namespace pontata
