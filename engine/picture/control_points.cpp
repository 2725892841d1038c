#include "engine/picture/control_points.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

#include "engine/picture/fit_homography.h"
#include "engine/picture/fit_model.h"
#include "engine/picture/fit_thin_plate.h"
#include "engine/picture/fit_words.h"
#include "engine/picture/flatness.h"

namespace pontata {

namespace {

constexpr const char* kWhere = "the points";
constexpr double kRim = 1e-3;       // chart m: a point so little off the wall is on it
constexpr double kSlope = 0.02;     // chart m, over which the wall's direction is taken
constexpr double kSamePx = 1e-3;    // px and
constexpr double kSameWall = 1e-6;  // m, within which two points are the same
// Of the picture's diagonal: a likely error that marking alone never explains.
constexpr double kBeyondMarking = 0.01;

// Building metres per chart metre along (du, dv), over a stretch that takes no notice of single triangles.
Vec3 slope(const ChartedWall& wall, ChartPoint p, const Vec3& place, double du, double dv) {
  const auto ahead = wall.position({p.u + kSlope * du, p.v + kSlope * dv});
  const auto behind = wall.position({p.u - kSlope * du, p.v - kSlope * dv});
  if (ahead && behind) return (*ahead - *behind) / (2 * kSlope);
  if (ahead) return (*ahead - place) / kSlope;
  if (behind) return (place - *behind) / kSlope;
  const auto point = *wall.chart->locate(p);
  const auto& mesh = wall.mesh();
  const auto weights = wall.chart->weights(point.triangle, {p.u + kSlope * du, p.v + kSlope * dv});
  Vec3 at(0, 0, 0);
  for (int k = 0; k < 3; ++k)
    at += weights[k] * mesh.points[mesh.triangles[point.triangle][static_cast<std::size_t>(k)]];
  return (at - place) / kSlope;
}

std::optional<MarkedPoint> on_wall(const ChartedWall& wall, const ControlPoint& point) {
  if (!std::isfinite(point.place.u) || !std::isfinite(point.place.v) || !fits_lattice(point.place)) return {};
  MarkedPoint m;
  m.pixel = point.pixel;
  m.chart = point.place;
  auto at = wall.chart->locate(m.chart);
  if (!at) {
    m.chart = wall.chart->clamp(point.place);
    if (!(glm::distance(to_vec(m.chart), to_vec(point.place)) < kRim)) return {};
    at = wall.chart->locate(m.chart);
    if (!at) return {};
  }
  m.place = position(wall.mesh(), *at);
  m.per_u = slope(wall, m.chart, m.place, 1, 0);
  m.per_v = slope(wall, m.chart, m.place, 0, 1);
  m.form = wall.metric->first_form(at->triangle);
  return m;
}

// All points on the wall, in the order given; a Problem names the first that is not fit for use.
Result<std::vector<MarkedPoint>> marked(const ChartedWall& wall, PictureSize picture,
                                        std::span<const ControlPoint> points) {
  if (picture.width < 1 || picture.height < 1)
    return Problem{"the picture is empty", kWhere, "Choose another picture."};
  std::vector<MarkedPoint> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 q = points[i].pixel;
    if (!std::isfinite(q.x) || !std::isfinite(q.y) || std::hypot(q.x, q.y) > 1e7)
      return Problem{"the place on the picture is not a usable number", point_name(i), "Give x and y in pixels."};
    const auto on = on_wall(wall, points[i]);
    if (!on)
      return Problem{fmt::format("{:.3f}, {:.3f} m does not lie on the wall", points[i].place.u, points[i].place.v),
                     point_name(i), "Mark a place of the wall."};
    for (std::size_t k = 0; k < i; ++k)
      if (glm::distance(out[k].pixel, q) < kSamePx || glm::distance(out[k].place, on->place) < kSameWall)
        return Problem{fmt::format("points {} and {} are the same place on the {}", k + 1, i + 1,
                                   glm::distance(out[k].pixel, q) < kSamePx ? "picture" : "wall"),
                       kWhere, "Take one of them away, or mark it anew."};
    out.push_back(*on);
  }
  return out;
}

// Left and right, or above and below, taken one for the other.
bool mirrored(std::span<const MarkedPoint> points) {
  std::vector<PlanePair> pairs;
  for (const auto& p : points) pairs.push_back({p.pixel, to_vec(p.chart)});
  return looks_mirrored(pairs);
}

// One kind tried: the setting from all points, and what it foretells.
struct Tried {
  FitTask task;
  Setting setting;
  LeftOut left_out;
};

Result<Tried> tried(const FitTask& task, std::span<const MarkedPoint> points, bool thin_plate) {
  auto setting = set_picture(task, points);
  if (!setting) return setting.problem();
  auto left_out = leave_out(task, points, *setting, thin_plate && points.size() >= kFewestForPlate);
  return Tried{task, std::move(*setting), std::move(left_out)};
}

std::optional<PointError> root_mean_square(std::span<const std::optional<PointError>> errors) {
  PointError sum;
  int n = 0;
  for (const auto& e : errors) {
    if (!e) continue;
    sum.px += e->px * e->px;
    sum.mm += e->mm * e->mm;
    ++n;
  }
  if (n == 0) return std::nullopt;
  return PointError{std::sqrt(sum.px / n), std::sqrt(sum.mm / n)};
}

// `fine` foretells the points that both foretell better than `plain`, beyond chance.
bool foretells_better(std::span<const std::optional<PointError>> plain,
                      std::span<const std::optional<PointError>> fine) {
  std::vector<double> before, after;
  for (std::size_t i = 0; i < plain.size(); ++i) {
    if (!plain[i] || !fine[i]) continue;
    before.push_back(plain[i]->px * plain[i]->px);
    after.push_back(fine[i]->px * fine[i]->px);
  }
  return beyond_chance(before, after);
}

// The kinds that a wall allows, the simplest first.
std::vector<FitKind> kinds_for(const ChartedWall& wall, FitKind asked) {
  if (asked != FitKind::automatic) return {asked};
  if (lies_flat(wall)) return {FitKind::similarity, FitKind::homography, FitKind::camera};
  return {FitKind::similarity, FitKind::camera};
}

Result<Tried> best_kind(const ChartedWall& wall, FitTask task, FitKind asked, std::span<const MarkedPoint> points,
                        bool thin_plate) {
  const double beyond_marking = kBeyondMarking * std::hypot(task.picture.width, task.picture.height);
  std::optional<Tried> best;
  std::optional<Problem> refused;
  for (const FitKind kind : kinds_for(wall, asked)) {
    task.kind = kind;
    auto next = tried(task, points, thin_plate);
    if (!next) {
      if (!refused) refused = next.problem();
      continue;
    }
    if (best) {
      // What cannot be checked is taken only where all that can be is plainly wrong.
      const auto likely = root_mean_square(best->left_out.errors);
      const bool checked = root_mean_square(next->left_out.errors).has_value();
      if (checked ? !foretells_better(best->left_out.errors, next->left_out.errors)
                  : !likely || likely->px < beyond_marking)
        continue;
    }
    best = std::move(*next);
  }
  if (!best) return *refused;
  return std::move(*best);
}

void warn_unchecked(const FitReport& report, std::vector<std::string>& out) {
  if (!report.likely) {
    out.push_back("The points are too few to check one another: no likely error can be told. Mark one more.");
    return;
  }
  for (std::size_t i = 0; i < report.left_out.size(); ++i)
    if (!report.left_out[i])
      out.push_back(point_name(i) + " cannot be checked: without it the others do not fix the picture.");
}

void warn_kind(const ChartedWall& wall, const FitOptions& options, const FitReport& report, bool lens_open,
               std::vector<std::string>& out) {
  const auto points = report.fitted.size();
  if (report.kind == FitKind::similarity && !lies_flat(wall))
    out.push_back("The wall is curved: the picture is laid along it, unrolled.");
  if (report.kind == FitKind::camera && points == 5 && !options.focal_px)
    out.push_back("Five points only just fix the lens: the likely error is told with the lens kept, and may be more.");
  if (lens_open)
    out.push_back(
        "The points leave the lens open, as a flat wall seen straight on does: a usual lens is taken, and the "
        "camera may stand nearer or farther.");
  if (report.kind == FitKind::camera && options.pose >= static_cast<int>(report.cameras.size()))
    out.push_back("The camera place asked for fits the points no more: the best one is taken.");
  if (options.thin_plate && points < kFewestForPlate)
    out.push_back(fmt::format("A smooth correction needs {} points: none is made.", kFewestForPlate));
  else if (options.thin_plate && !report.thin_plate)
    out.push_back("A smooth correction would not set left-out points any better: none is made.");
}

FitReport report_of(const Tried& best, std::span<const MarkedPoint> points) {
  FitReport report;
  report.kind = best.task.kind;
  report.thin_plate = !best.setting.plate.centres.empty();
  report.cameras = best.setting.cameras;
  report.camera = best.setting.camera;
  if (!report.cameras.empty()) {
    const Camera& taken = report.cameras[report.camera];
    report.distorted = taken.k1 != 0 || taken.k2 != 0;
  }
  for (const auto& p : points) report.fitted.push_back(error_at(best.setting, best.task.picture, p));
  report.left_out = report.thin_plate ? best.left_out.with_plate : best.left_out.errors;
  report.likely = root_mean_square(report.left_out);
  report.suspect = odd_one_out(best.setting.misfit, best.left_out.alike, best.left_out.misfits);
  return report;
}

// From the settled order back to the order given: order[k] is the painter's index of the k-th.
void reorder(FitReport& report, std::span<const std::size_t> order) {
  auto fitted = report.fitted;
  auto left_out = report.left_out;
  for (std::size_t k = 0; k < order.size(); ++k) {
    report.fitted[order[k]] = fitted[k];
    report.left_out[order[k]] = left_out[k];
  }
  if (report.suspect) report.suspect = order[*report.suspect];
  for (std::size_t i = 0; i < order.size(); ++i) {
    const auto& e = report.left_out[i];
    if (e && (!report.worst || e->px > report.left_out[*report.worst]->px)) report.worst = i;
  }
}

// By pixel, so that the order of marking changes nothing.
std::vector<std::size_t> settled_order(std::span<const MarkedPoint> points) {
  std::vector<std::size_t> order(points.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const auto& p = points[a].pixel;
    const auto& q = points[b].pixel;
    return std::tie(p.x, p.y) < std::tie(q.x, q.y);
  });
  return order;
}

Outcome allowed(const ChartedWall& wall, std::span<const MarkedPoint> points, const FitOptions& options) {
  if (points.size() < 2)
    return Problem{"a picture is set by two points or more", kWhere, "Mark the same places on picture and wall."};
  if (options.pose < 0) return Problem{"camera places are counted from 0", "the camera place", "Give 0 for the best."};
  if (options.focal_px && !(std::isfinite(*options.focal_px) && *options.focal_px > 0))
    return Problem{"the lens's focal length is not a usable number", "the lens", "Give it in pixels, above 0."};
  if (options.kind == FitKind::homography && !lies_flat(wall))
    return Problem{"the wall is not flat, so no flat view fits it", kWhere, "Set the picture by its camera instead."};
  if (mirrored(points))
    return Problem{"the points fit only a picture turned over, as in a mirror", kWhere,
                   "Check that left and right were not swapped while marking, or turn the picture over first."};
  return Done{};
}

}  // namespace

Result<Fitted> fit_picture(const ChartedWall& wall, PictureSize picture, std::span<const ControlPoint> points,
                           const FitOptions& options) {
  const auto given = marked(wall, picture, points);
  if (!given) return given.problem();
  if (const auto may = allowed(wall, *given, options); !may) return may.problem();
  const auto order = settled_order(*given);
  std::vector<MarkedPoint> settled;
  for (const auto i : order) settled.push_back((*given)[i]);
  FitTask task;
  task.picture = picture;
  task.focal_px = options.focal_px;
  task.pose = options.pose;
  auto best = best_kind(wall, task, options.kind, settled, options.thin_plate);
  if (!best) return best.problem();
  if (foretells_better(best->left_out.errors, best->left_out.with_plate))
    best->setting = with_plate(std::move(best->setting), picture, settled);
  Fitted out{best->setting.lay, best->setting.plate, report_of(*best, settled)};
  reorder(out.report, order);
  auto& warnings = out.report.warnings;
  warn_unchecked(out.report, warnings);
  warn_kind(wall, options, out.report, best->setting.lens_open, warnings);
  for (auto& w : camera_warnings(wall, picture, out.report.cameras, out.report.camera))
    warnings.push_back(std::move(w));
  for (auto& w : lie_warnings(wall, picture, *given)) warnings.push_back(std::move(w));
  return out;
}

}  // namespace pontata
