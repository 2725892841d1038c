// One way of setting a picture by points, and what it foretells.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/picture/control_points.h"
#include "engine/picture/fit_checks.h"

namespace pontata {

// A control point with all that a setting asks of the wall there.
struct MarkedPoint {
  Vec2 pixel{0, 0};
  ChartPoint chart;
  Vec3 place{0, 0, 0};                  // m, in the building
  Vec3 per_u{0, 0, 0}, per_v{0, 0, 0};  // m in the building per chart metre
  Metric::FirstForm form;               // surface length per chart step
};

// What a setting is asked for, beyond its points.
struct FitTask {
  PictureSize picture;
  FitKind kind = FitKind::similarity;  // not automatic
  std::optional<double> focal_px;      // camera: a known lens
  int pose = 0;                        // camera: which, best first; the best where there are fewer
  std::optional<Vec3> near;            // camera: the place nearest to this one instead
  std::optional<Camera> start;         // camera: only from here, with the distortion it has
};

struct Setting {
  Lay lay;
  ThinPlate plate;
  Misfit misfit;                // of the lay without the plate
  std::vector<Camera> cameras;  // camera: the possible ones, best first
  std::size_t camera = 0;       // the one taken
  bool lens_open = false;       // camera: the points leave its lens open
};

// Least squares in pixels, without a plate. Refuses what the kind refuses.
Result<Setting> set_picture(const FitTask& task, std::span<const MarkedPoint> points);
// The same with the plate that what is left over at these points earns, or none.
Setting with_plate(Setting setting, PictureSize picture, std::span<const MarkedPoint> points);

// How far the setting puts a point from where it was marked. Where the setting shows nothing there (behind an eye), the
// picture's diagonal and its like on the wall.
PointError error_at(const Setting& setting, PictureSize picture, const MarkedPoint& point);

// Each point as foretold by a setting from all the others.
struct LeftOut {
  std::vector<std::optional<PointError>> errors;
  std::vector<std::optional<PointError>> with_plate;  // where asked for: each time with the plate earned then
  std::vector<std::optional<Misfit>> misfits;         // of the settings without the point
  // Of all points, set with no more freedom than without the point: a mis-marked point may buy a distortion that hides
  // it.
  std::vector<std::optional<Misfit>> alike;
};
// `whole`: the setting from all points. Where it is one of several possible cameras, the ones without a point are those
// nearest to it; a camera of five points keeps its lens.
LeftOut leave_out(FitTask task, std::span<const MarkedPoint> points, const Setting& whole, bool thin_plate);

}  // namespace pontata
