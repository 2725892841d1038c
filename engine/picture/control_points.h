// Setting a picture by control points: the same place marked on the picture and on the wall.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/picture/lay.h"

namespace pontata {

struct ControlPoint {
  Vec2 pixel;        // on the picture, x right, y down
  ChartPoint place;  // on the wall
  bool operator==(const ControlPoint&) const = default;
};

enum class FitKind { automatic, similarity, homography, camera };

struct FitOptions {
  // automatic: the one that foretells left-out points best among those the wall and the count of points allow, the
  // simpler one where the gain is within chance (no more than one standard error of the mean of the points' gains).
  FitKind kind = FitKind::automatic;
  bool thin_plate = false;         // a smoothed thin-plate residual last, as strong as leave-one-out says it earns
  int pose = 0;                    // camera: which of the possible camera places, best first
  std::optional<double> focal_px{};  // camera: a known lens; else it is found too
  bool operator==(const FitOptions&) const = default;
};

// How far a point is from where the setting puts it: a distance, not one coordinate.
struct PointError {
  double px = 0;  // on the picture
  double mm = 0;  // on the wall, along the surface
};

// What is always told about a setting by points. Indices and lists follow the order of the points given.
struct FitReport {
  FitKind kind = FitKind::similarity;  // never automatic
  bool thin_plate = false;             // one earned its keep
  bool distorted = false;              // camera: lens distortion earned its keep
  std::vector<PointError> fitted;      // of every point, with all points used
  // Of every point, foretold by setting the picture anew from all the others (strength of the thin plate and distortion
  // chosen anew too); nothing where the others alone fix nothing. A camera of five points keeps its lens meanwhile.
  std::vector<std::optional<PointError>> left_out;
  std::optional<PointError> likely;    // root mean square of left_out; nothing: the points cannot check themselves
  std::optional<std::size_t> worst;    // the point with the greatest left_out in px
  std::optional<std::size_t> suspect;  // a point that agrees with none of the others: likely mis-marked
  std::vector<std::string> warnings;   // plain words: points on a line, in a corner, too few to check, ...
  std::vector<Camera> cameras;         // camera: the possible ones, best first; more than one where points cannot tell
  std::size_t camera = 0;              // which of them was taken
};

// The report as a painter reads it, one sentence each: what was set, likely error, worst point, camera place, the
// suspect, then the warnings. Points are numbered from 1.
std::vector<std::string> in_words(const FitReport& report);

struct Fitted {
  Lay lay;
  ThinPlate plate;  // without centres: none
  FitReport report;
};

// 2 points set a similarity, 4 a homography (flat walls), 4 a camera whose lens is known, 5 and more one with its lens.
// Fewer, repeated, or points that fix nothing (all on one line) are refused with the reason, and so are points off the
// wall and points marked the wrong way round (mirrored). A similarity lies in the wall's chart: on a curved wall along
// it, unrolled. Deterministic, and the same to the bit in whatever order the points come.
Result<Fitted> fit_picture(const ChartedWall& wall, PictureSize picture, std::span<const ControlPoint> points,
                           const FitOptions& options = {});

}  // namespace pontata
