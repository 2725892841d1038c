// What each stretch of seam looks like from a place on the floor.
//
// Angles are those under which the eye sees a joint of a given width; what an eye with 6/6 vision just tells apart is
// one minute of arc, but a fine bright or dark line is seen far below that (vernier and line acuity, some seconds of
// arc): a small number is no promise that a seam cannot be seen.
#pragma once

#include <memory>
#include <span>
#include <string_view>
#include <vector>

#include "engine/review/findings.h"

namespace pontata {

// One stretch of one seam from one eye point.
struct SeamSight {
  GiornataId one, other;         // what it parts, the smaller id first; none: the rest of the wall
  std::vector<ChartPoint> line;  // at least two places
  double length_m = 0;           // on the surface
  ChartPoint place;              // its middle
  Vec3 at{0, 0, 0};              // m, building
  double distance_m = 0;         // from the eye
  double grazing_deg = 90;       // between the line of sight and the surface: 90 is straight on, 0 along it
  double joint_arcmin = 0;       // angle between the joint's two edges, seen from the eye
  double step = 0;               // of colour or tone across the seam, 0 to 1 (black to white); 0 without a picture
  bool on_contour = false;       // masked by a contour of the picture all along
  bool seen = false;             // turned towards the eye, and nothing stands between
  double shows = 0;              // 0 hidden or out of sight .. 1 plain to see: for the heat line and the list. With
                                 // w the joint over eye_arcmin, w / (1 + w) x (1 - h), h the greater of 0.8 on a
                                 // contour and 0.6 x step / 0.25, at most 0.6: our own choice, no source
};

struct FloorInput {
  WallRef wall;
  std::vector<WallRef> others;  // that may stand between
  const Network* network = nullptr;
  std::shared_ptr<const ContourField> contours;  // may be null
  DrapedRef draped;                              // may be null
  double joint_mm = 1;
  double contour_mm = 10;
  double eye_arcmin = 1;
  double stretch_m = 0.05;  // of seam judged as one
};

// Angle in minutes of arc under which `eye` sees a joint `width_m` wide at `at`, whose two edges lie to either side of
// it along the unit vector `across` of the surface. Closed form: the angle between the two edges' places.
double joint_angle_arcmin(const Vec3& eye, const Vec3& at, const Vec3& across, double width_m);

// To be shown with every number of minutes of arc.
inline constexpr std::string_view kFloorCaveat =
    "An eye with 6/6 vision tells joints of one minute of arc apart; a fine bright or dark line is seen far below "
    "that: a small number is no promise that a seam cannot be seen.";

// Every stretch of every seam between two giornate, or a giornata and the rest; the wall's border is left out. In the
// order of the seams. Cost: one ray and a few colours a stretch. Cancelled: what was found so far.
std::vector<SeamSight> seams_from(const FloorInput& input, const EyePoint& eye, Progress* progress = nullptr);

// Stretches that follow one another and show alike, joined; the worst first. At most `most`; shorter ones than 50 mm
// are left out. Place and numbers are those of the place in it that shows most.
struct WorstStretch {
  std::vector<ChartPoint> line;
  GiornataId one, other;
  ChartPoint place;
  Vec3 at{0, 0, 0};
  double length_m = 0;
  double distance_m = 0, grazing_deg = 90, joint_arcmin = 0, step = 0, shows = 0;
  double masked = 0;  // share of its length that a contour masks
  std::string says;   // plain words with units
};
double badness(const WorstStretch& stretch);  // by which they are sorted: a long stretch is worse than a short one
std::vector<WorstStretch> worst_stretches(std::span<const SeamSight> sights, std::size_t most);

}  // namespace pontata
