// Hug: the stroke between two points follows the picture's contours, or existing seams first.
//
// Based on: Mortensen and Barrett, "Interactive segmentation with Intelligent Scissors", 1998 (least-cost paths over an
// edge cost), here with every cost in surface metres: a step costs its length on the wall times a factor that is small
// on a contour running along the step and 1 on smooth ground, so a centimetre costs the same wherever it lies.
#pragma once

#include <array>
#include <memory>
#include <span>
#include <vector>

#include "engine/base/progress.h"
#include "engine/chart/ribs.h"
#include "engine/picture/contours.h"
#include "engine/seams/network.h"

namespace pontata {

struct HugOptions {
  double reach_m = 0.10;       // how far from the straight stroke the line may wander (surface metres)
  double strength = 0.10;      // contours of this contrast lead the line on calm ground; weaker ones do less and less
  double seam_reach_m = 0.02;  // existing seams and the wall's border attract within this, before contours
  double snap_m = 0.015;       // a click within this (and within reach_m) of a contour is drawn to it; 0: stays exact
  double simplify_mm = 0.5;    // greatest deviation of the result from the path found (surface millimetres)
  double keep_share = 0.05;    // while the pointer moves, the line shown stays unless another costs this share less
};

// What a stretch of a line follows: an existing seam, the wall's edge, the edge of an opening, a rib (an arris, ridge
// or crease of the surface) or, where none of these is near, a contour of the picture.
enum class HugTarget : std::uint8_t { nothing, contour, seam, edge, opening, rib };
inline constexpr std::size_t kHugTargets = 6;
struct HugStretch {
  HugTarget what = HugTarget::nothing;
  std::size_t first = 0, last = 0;  // points of the line, both included; stretches follow each other. Of a closed line
                                    // the last may be its first point again, one beyond its points
  double length_m = 0;
  GiornataId one, other;  // of a seam: what lies on either side, the smaller id first; none: not yet given out
};

struct HuggedLine {
  std::vector<ChartPoint> line;  // first and last are the given points, or their places on a seam or contour
  double length_m = 0;
  double hugged_m = 0;                // of it on anything that is hugged
  double seam_m = 0;                  // of it exactly on existing seams, the wall's edge or an opening's
  std::vector<HugStretch> stretches;  // what is hugged, from the first point to the last; empty where that is not known
  double cost_m = 0;  // of the ways sought over the picture, in metres of smooth ground; 0 where none was
  double share() const { return length_m > 0 ? hugged_m / length_m : 0; }
};

// Joins `more` onto the line, a repeated place left out; lengths, cost and stretches are carried on.
void append(HuggedLine& line, const HuggedLine& more);
// Surface metres on each target, by HugTarget.
std::array<double, kHugTargets> metres_by_target(const HuggedLine& line);

// What is hugged: immutable and shared between strokes; rebuilt when wall, picture or seams change.
struct HugGround {
  WallRef wall;
  std::shared_ptr<const ContourField> contours;  // may be null: only seams attract
  Network network;
  std::shared_ptr<const WallRibs> ribs = {};  // arrises, ridges and creases of the wall (engine/chart/ribs.h)
};

// Where a click lands, here as in hug(): on the seam or border within seam_reach_m, else on the rib within it, else on
// the nearest contour within snap_m (less where it is not plain), else where it was placed. Of two or three
// contours about equally near (the edges of a dark line) it lands on the one that makes the stroke to it cheaper, which
// is the one that the line has followed so far; the first click is chosen together with the second. It is not drawn to
// a contour where the line runs already, nor at all when that would make an outline cross itself or when nothing is
// hugged (reach_m 0). A place that a click landed on stays.

class HugGuide;  // what strokes over one ground share (engine/seams/hug_guide.h)

// Stroke from one anchor. Two questions may be asked of it: which line to show while the pointer moves, and which line
// a click draws. Both take their time (at 4096 x 4096 pixels some milliseconds a metre), so a window asks them on a
// worker; one thread at a time.
class HugStroke {
 public:
  // `before`: the line drawn so far. The stroke begins at its end, exactly, whatever the anchor, and keeps off it
  // except near its first and last points, so that it neither crosses the line nor runs back along it. Without it the
  // anchor is a click like the pointer.
  HugStroke(std::shared_ptr<const HugGround> ground, ChartPoint anchor, const HugOptions& options,
            std::span<const ChartPoint> before = {});
  // The same over a guide that other strokes have used, which knows its ground already.
  HugStroke(std::shared_ptr<HugGuide> guide, ChartPoint anchor, std::span<const ChartPoint> before = {});
  ~HugStroke();
  HugStroke(HugStroke&&) noexcept;
  HugStroke& operator=(HugStroke&&) noexcept;

  // Line from the anchor to a click at p: the least-cost way over every cell of the picture within reach of the
  // stroke, as hug() draws it; straight when there is nothing to follow. Stopped: the straight line.
  HuggedLine to(ChartPoint p, const Progress* progress = nullptr);
  // Line to show while the pointer passes p. The way is sought on cells four times as wide, then on the picture's own
  // beside it, so it may cost a little more than to(p). It is the line shown last, led on to p, unless another costs
  // less by keep_share: a small move does not make it flip between two ways about as good. to(p) counts as shown.
  HuggedLine preview(ChartPoint p, const Progress* progress = nullptr);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

// The whole line through the given points, each where it lands; `closed` joins the last to the first. Never crosses
// itself: a closing stroke that would is replaced by the straight one, and if that crosses too it is a Problem with the
// place. Where it runs along an existing seam it repeats that seam's vertices exactly, so that insert_outline shares
// it.
Result<HuggedLine> hug(std::shared_ptr<const HugGround> ground, std::span<const ChartPoint> points, bool closed,
                       const HugOptions& options = {}, Progress* progress = nullptr);

}  // namespace pontata
