#include "engine/flatten/held_run.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace pontata {
namespace {

constexpr double kStiffness = 20;  // of a spring on a run evenly divided; the paper's own is some 8 per strain squared

double length_of(std::span<const Vec2> line) {
  double sum = 0;
  for (std::size_t i = 1; i < line.size(); ++i) sum += glm::distance(line[i - 1], line[i]);
  return sum;
}

std::vector<Vec2> places_of(const HeldBody& b, const std::vector<Vec2>& flat) {
  std::vector<Vec2> out;
  for (const std::uint32_t v : b.points) out.push_back(flat[v]);
  return out;
}

// Each point's share of the run's length, the mean being kStiffness.
std::vector<double> stiffness_of(std::span<const Vec2> shape) {
  const double mean = std::max(length_of(shape) / static_cast<double>(shape.size()), 1e-12);
  std::vector<double> out(shape.size(), 0);
  for (std::size_t i = 1; i < shape.size(); ++i)
    for (const std::size_t k : {i - 1, i}) out[k] += 0.5 * kStiffness * glm::distance(shape[i - 1], shape[i]) / mean;
  for (double& s : out) s = std::max(s, 0.1 * kStiffness);
  return out;
}

}  // namespace

Pull HeldBody::pull(std::size_t i, double turned, Vec2 at, Vec2 flat) const {
  const double c = std::cos(turned), s = std::sin(turned);
  const Vec2 p = shape[i], arm{c * p.x - s * p.y, s * p.x + c * p.y};
  return {flat - at - arm, {-arm.y, arm.x}};
}

std::vector<HeldBody> make_bodies(const Patch& patch, std::span<const HeldRun> held, const std::vector<Vec2>& flat) {
  std::vector<HeldBody> out;
  for (const HeldRun& run : held) {
    if (run.rim >= patch.rims.size() || run.shape.size() < 2 || run.shape.size() > patch.rims[run.rim].size() + 1)
      throw std::logic_error("flatten: a held run is not on the patch's rim");
    const auto& rim = patch.rims[run.rim];
    HeldBody b;
    for (std::size_t i = 0; i < run.shape.size(); ++i) b.points.push_back(rim[(run.first + i) % rim.size()]);
    b.shape = run.shape;
    const RigidFit fit = fit_rigid(b.shape, places_of(b, flat));
    Vec2 middle{0, 0};
    for (const Vec2& p : b.shape) middle += p / static_cast<double>(b.shape.size());
    for (Vec2& p : b.shape) p -= middle;
    const double c = std::cos(fit.angle), s = std::sin(fit.angle);
    b.angle = fit.angle;
    b.middle = fit.shift + Vec2{c * middle.x - s * middle.y, s * middle.x + c * middle.y};
    b.stiffness = stiffness_of(b.shape);
    b.owed.assign(b.shape.size(), Vec2{0, 0});
    out.push_back(std::move(b));
  }
  return out;
}

HoldError hold_error(std::span<const HeldBody> bodies, const std::vector<Vec2>& flat) {
  HoldError out;
  for (const HeldBody& b : bodies) {
    const std::vector<Vec2> line = places_of(b, flat);
    out.distance = std::max(out.distance, fit_rigid(b.shape, line).worst);
    out.length = std::max(out.length, std::abs(length_of(line) - length_of(b.shape)));
  }
  return out;
}

}  // namespace pontata
