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
  // simpler one where the gain is within chance.
  FitKind kind = FitKind::automatic;
  bool thin_plate = false;  // a smoothed thin-plate residual last, as strong as leave-one-out says it earns
  int pose = 0;             // camera: which of the possible camera places, best first
  bool operator==(const FitOptions&) const = default;
};

struct PointError {
  double px = 0;  // on the picture
  double mm = 0;  // on the wall, along the surface
};

// What is always told about a setting by points.
struct FitReport {
  FitKind kind = FitKind::similarity;  // never automatic
  bool thin_plate = false;             // one earned its keep
  bool distorted = false;              // camera: lens distortion earned its keep
  std::vector<PointError> fitted;      // of every point, with all points used
  std::vector<PointError> left_out;    // of every point, foretold from all the others
  PointError likely;                   // root mean square of left_out
  std::size_t worst = 0;               // index of the point with the greatest left_out in px
  std::optional<std::size_t> suspect;  // a point that agrees with none of the others: likely mis-marked
  std::vector<std::string> warnings;   // plain words: points on a line, in a corner, too few to check, ...
  std::vector<Camera> cameras;         // camera: the possible ones, best first; more than one where points cannot tell
  std::size_t camera = 0;              // which of them was taken
};

struct Fitted {
  Lay lay;
  ThinPlate plate;  // without centres: none
  FitReport report;
};

// 2 points set a similarity, 4 a homography (flat walls), 4 a camera whose lens is known, 5 and more one with its lens.
// Fewer, repeated, or points that fix nothing (all on one line) are refused with the reason. Deterministic.
Result<Fitted> fit_picture(const ChartedWall& wall, PictureSize picture, std::span<const ControlPoint> points,
                           const FitOptions& options = {});

}  // namespace pontata
