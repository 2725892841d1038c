#include "engine/picture/contours.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <numbers>
#include <thread>

#include "engine/picture/metric_grid.h"
#include "engine/picture/resample.h"
#include "engine/picture/wall_rows.h"

namespace pontata {

namespace {

constexpr double kLeastSpacing = 0.001;         // m
constexpr double kMostSamples = 4097.0 * 4097;  // about 16 megapixels
constexpr int kBand = 96;                       // rows of one piece of work
constexpr int kMetricStep = 16;                 // samples between nodes of the metric

using Plane = std::vector<float>;

std::vector<float> gaussian(double scale) {
  const int radius = std::max(1, static_cast<int>(std::ceil(3.5 * scale)));
  std::vector<float> taps;
  double sum = 0;
  for (int k = -radius; k <= radius; ++k) sum += std::exp(-0.5 * k * k / (scale * scale));
  for (int k = -radius; k <= radius; ++k)
    taps.push_back(static_cast<float>(std::exp(-0.5 * k * k / (scale * scale)) / sum));
  return taps;
}

double own_spacing(const ChartBox& box, const PictureFrame& frame, const Image& image) {
  const double pixel = std::min(frame.width / image.width, frame.height / image.height);
  const double least = std::max(pixel, kLeastSpacing);
  const auto samples = [&](double s) { return (std::floor(box.width / s) + 1) * (std::floor(box.height / s) + 1); };
  double spacing = least;
  while (samples(spacing) > kMostSamples)
    spacing *= std::max(1.001, std::sqrt(samples(spacing) / kMostSamples) * 0.9995);
  return spacing;
}

// Runs work(row from, row to) over all rows in bands, on two threads; the caller's thread reports.
template <class Work>
void in_bands(int rows, Progress* progress, double from, double to, std::string_view what, const Work& work) {
  std::atomic<int> next{0};
  const int bands = (rows + kBand - 1) / kBand;
  const auto run = [&](bool tell) {
    for (int b = next++; b < bands && !is_cancelled(progress); b = next++) {
      work(b * kBand, std::min(rows, (b + 1) * kBand));
      if (tell) report(progress, from + (to - from) * b / bands, what);
    }
  };
  std::thread second([&] { run(false); });
  run(true);
  second.join();
}

// Strength and direction of the colour gradient for rows [from, to).
class GradientBand {
 public:
  GradientBand(const PictureRows& picture, const MetricGrid& metric, double scale, ContourField& field)
      : picture_(picture), metric_(metric), field_(field), taps_(gaussian(scale)), scale_(scale) {
    radius_ = static_cast<int>(taps_.size() / 2);
    width_ = field.columns + 2;
  }

  void run(int from, int to) const {
    const int high = to - from + 2, tall = high + 2 * radius_;
    std::array<Plane, 3> smooth;
    {
      std::array<Plane, 3> across;
      for (auto& plane : across) plane.resize(cells(tall));
      for (int r = 0; r < tall; ++r) smooth_across(from - 1 - radius_ + r, r, across);
      for (std::size_t c = 0; c < 3; ++c) smooth[c] = smooth_up(across[c], high);
    }
    for (int j = from; j < to; ++j) strengths(j, j - from + 1, smooth);
  }

 private:
  std::size_t cells(int rows) const { return static_cast<std::size_t>(rows) * static_cast<std::size_t>(width_); }

  // One row of the picture, columns -1 .. columns, blurred along the row.
  void smooth_across(int j, int r, std::array<Plane, 3>& out) const {
    const auto wide = static_cast<std::size_t>(width_ + 2 * radius_);
    std::array<Plane, 3> raw{Plane(wide), Plane(wide), Plane(wide)};
    picture_.row(-1 - radius_, j, raw[0], raw[1], raw[2]);
    const auto width = static_cast<std::size_t>(width_);
    for (std::size_t c = 0; c < 3; ++c) {
      float* __restrict to = out[c].data() + cells(r);
      for (std::size_t t = 0; t < taps_.size(); ++t) {
        const float w = taps_[t];
        const float* __restrict from = raw[c].data() + t;
        for (std::size_t i = 0; i < width; ++i) to[i] += w * from[i];
      }
    }
  }

  Plane smooth_up(const Plane& across, int high) const {
    Plane out(cells(high));
    const auto width = static_cast<std::size_t>(width_);
    for (int r = 0; r < high; ++r) {
      float* __restrict to = out.data() + cells(r);
      for (std::size_t t = 0; t < taps_.size(); ++t) {
        const float w = taps_[t];
        const float* __restrict from = across.data() + cells(r + static_cast<int>(t));
        for (std::size_t i = 0; i < width; ++i) to[i] += w * from[i];
      }
    }
    return out;
  }

  // Di Zenzo: the greatest change of colour per surface step is the greatest eigenvalue of the colour tensor J against
  // the metric g; here as the contrast (0..1) of the sharp edge that would show it after blurring.
  void strengths(int j, int r, const std::array<Plane, 3>& smooth) const {
    const auto gain = static_cast<float>(2 * std::numbers::pi * scale_ * scale_ / 3);
    float* strength = field_.magnitude.data() + field_.index(0, j);
    float* direction = field_.direction.data() + field_.index(0, j);
    Metric::FirstForm left{}, right{};
    for (int i = 0; i < field_.columns; ++i) {
      if (i % kMetricStep == 0) {
        left = metric_.at({i * field_.spacing, j * field_.spacing});
        right = metric_.at({(i + kMetricStep) * field_.spacing, j * field_.spacing});
      }
      float xx = 0, xy = 0, yy = 0;
      const auto k = cells(r) + static_cast<std::size_t>(i) + 1;
      const auto w = static_cast<std::size_t>(width_);
      for (const auto& plane : smooth) {
        const float x = 0.5f * (plane[k + 1] - plane[k - 1]), y = 0.5f * (plane[k + w] - plane[k - w]);
        xx += x * x;
        xy += x * y;
        yy += y * y;
      }
      if (xx + yy < 1e-9f) continue;
      const auto t = static_cast<float>(i % kMetricStep) / kMetricStep;
      const auto mix = [t](double a, double b) { return static_cast<float>(a) * (1 - t) + static_cast<float>(b) * t; };
      const float E = mix(left.E, right.E), F = mix(left.F, right.F), G = mix(left.G, right.G);
      const float det = E * G - F * F, half = 0.5f * (G * xx - 2 * F * xy + E * yy) / det;
      const float rest = (xx * yy - xy * xy) / det;
      const float greatest = half + std::sqrt(std::max(0.0f, half * half - rest));
      strength[i] = std::min(1.0f, std::sqrt(gain * greatest));
      direction[i] = 0.5f * std::atan2(2 * xy, xx - yy);
    }
  }

  const PictureRows& picture_;
  const MetricGrid& metric_;
  ContourField& field_;
  std::vector<float> taps_;
  double scale_;
  int radius_ = 0, width_ = 0;
};

// A ridge where the quadratic through the 3 x 3 strengths has its top across the contour within this sample's cell.
void find_ridges(ContourField& field, float low, int from, int to) {
  const auto w = static_cast<std::size_t>(field.columns);
  for (int j = std::max(from, 1); j < std::min(to, field.rows - 1); ++j) {
    for (int i = 1; i + 1 < field.columns; ++i) {
      const auto k = field.index(i, j);
      const float* m = field.magnitude.data() + k;
      if (*m < low) continue;
      const float x = std::cos(field.direction[k]), y = std::sin(field.direction[k]);
      const float gx = 0.5f * (m[1] - *(m - 1)), gy = 0.5f * (m[w] - *(m - w));
      const float hxx = m[1] - 2 * *m + *(m - 1), hyy = m[w] - 2 * *m + *(m - w);
      const float hxy = 0.25f * (m[w + 1] - m[w - 1] - *(m - w + 1) + *(m - w - 1));
      const float slope = gx * x + gy * y, bend = hxx * x * x + 2 * hxy * x * y + hyy * y * y;
      if (bend >= 0) continue;
      const float shift = -slope / bend;
      if (std::abs(shift * x) > 0.55f || std::abs(shift * y) > 0.55f || std::abs(shift) > 0.7f) continue;
      field.ridge[k] = std::min(1.0f, *m + 0.5f * slope * shift);
      field.offset[k] = shift;
    }
  }
}

void keep_on_wall(const ChartedWall& wall, const PictureRows& picture, ContourField& field) {
  const auto rings = wall.chart->border_rings();
  const WallRows rows(rings, 0, field.spacing, field.rows);
  std::vector<std::uint8_t> on(static_cast<std::size_t>(field.columns));
  for (int j = 0; j < field.rows; ++j) {
    std::fill(on.begin(), on.end(), std::uint8_t{0});
    for (const auto& span : rows.spans(j)) {
      const int first = std::max(0, static_cast<int>(std::ceil(span.from / field.spacing)));
      const int last = std::min(field.columns - 1, static_cast<int>(std::floor(span.to / field.spacing)));
      for (int i = first; i <= last; ++i) on[static_cast<std::size_t>(i)] = picture.covers(i, j) ? 1 : 0;
    }
    for (int i = 0; i < field.columns; ++i) {
      if (on[static_cast<std::size_t>(i)]) continue;
      const auto k = field.index(i, j);
      field.magnitude[k] = field.direction[k] = field.ridge[k] = field.offset[k] = 0;
    }
  }
}

// Keeps ridges joined to one of strength `high` or more through neighbours of eight.
void keep_joined(ContourField& field, float high) {
  std::vector<std::uint8_t> kept(field.ridge.size(), 0);
  std::vector<std::size_t> stack;
  const auto w = static_cast<std::ptrdiff_t>(field.columns);
  for (std::size_t seed = 0; seed < field.ridge.size(); ++seed) {
    if (field.ridge[seed] < high || kept[seed]) continue;
    kept[seed] = 1;
    stack.push_back(seed);
    while (!stack.empty()) {
      const auto k = static_cast<std::ptrdiff_t>(stack.back());
      stack.pop_back();
      for (const auto step : {-w - 1, -w, -w + 1, std::ptrdiff_t{-1}, std::ptrdiff_t{1}, w - 1, w, w + 1}) {
        const auto n = static_cast<std::size_t>(k + step);  // ridges never lie on the grid's rim
        if (field.ridge[n] <= 0 || kept[n]) continue;
        kept[n] = 1;
        stack.push_back(n);
      }
    }
  }
  for (std::size_t k = 0; k < kept.size(); ++k) {
    if (!kept[k]) field.ridge[k] = field.offset[k] = 0;
  }
}

}  // namespace

ContourField contour_field(const ChartedWall& wall, const PictureFrame& frame, const Image& image,
                           const ContourOptions& options, Progress* progress) {
  ContourField field;
  const auto box = wall.chart->box();
  field.spacing = options.spacing > 0 ? options.spacing : own_spacing(box, frame, image);
  field.columns = static_cast<int>(std::floor(box.width / field.spacing + 1e-9)) + 1;
  field.rows = static_cast<int>(std::floor(box.height / field.spacing + 1e-9)) + 1;
  const auto size = static_cast<std::size_t>(field.columns) * static_cast<std::size_t>(field.rows);
  for (auto* plane : {&field.magnitude, &field.direction, &field.ridge, &field.offset}) plane->assign(size, 0.0f);
  report(progress, 0, "Reading the picture on the wall");
  const auto metric = metric_grid(wall, kMetricStep * field.spacing);
  const PictureRows picture(frame, image, field.spacing);
  const GradientBand band(picture, metric, options.scale_px, field);
  in_bands(field.rows, progress, 0.1, 0.7, "Looking for contours", [&](int from, int to) { band.run(from, to); });
  in_bands(field.rows, progress, 0.7, 0.9, "Looking for contours",
           [&](int from, int to) { find_ridges(field, static_cast<float>(options.low), from, to); });
  if (is_cancelled(progress)) return {};
  keep_on_wall(wall, picture, field);
  report(progress, 0.95, "Joining contours");
  keep_joined(field, static_cast<float>(options.high));
  report(progress, 1, "Contours found");
  return field;
}

ContourField contour_field(const Draped& draped, const ContourSettings& settings, const ContourField*,
                           Progress* progress) {
  const auto box = draped.input().wall->chart->box();
  const double s = draped.spacing();
  const int width = std::max(1, static_cast<int>(std::floor(box.width / s))),
            height = std::max(1, static_cast<int>(std::floor(box.height / s)));
  const Image image = over_white(draped.draw({0, 0}, s, width, height, progress));
  if (image.width == 0) return {};
  ContourOptions options;
  options.spacing = s;
  options.high = settings.strength;
  options.low = 0.4 * settings.strength;
  return contour_field(*draped.input().wall, PictureFrame{{0, 0}, s * width, s * height, 0}, image, options, progress);
}

double distance_to_contour(const ChartedWall& wall, const ContourField& field, ChartPoint p, double reach,
                           double strength) {
  const auto triangle = field.columns > 0 ? wall.chart->triangle_at(to_lattice(wall.chart->clamp(p))) : std::nullopt;
  if (!triangle || !(reach > 0)) return std::max(reach, 0.0);
  const auto form = wall.metric->first_form(*triangle);
  const double det = form.E * form.G - form.F * form.F;
  // The box of the ellipse of all chart steps of surface length `reach`, and one sample for the offsets.
  const double du = reach * std::sqrt(form.G / det) + field.spacing,
               dv = reach * std::sqrt(form.E / det) + field.spacing;
  const auto cell = [&](double x, int last) {
    return static_cast<int>(std::clamp(x / field.spacing, 0.0, 1.0 * last));
  };
  const int i0 = cell(p.u - du, field.columns - 1), i1 = cell(p.u + du + field.spacing, field.columns - 1);
  const int j0 = cell(p.v - dv, field.rows - 1), j1 = cell(p.v + dv + field.spacing, field.rows - 1);
  double best = reach;
  for (int j = j0; j <= j1; ++j) {
    for (int i = i0; i <= i1; ++i) {
      const auto k = field.index(i, j);
      if (field.ridge[k] <= 0 || field.ridge[k] < strength) continue;
      const Vec2 across(std::cos(field.direction[k]), std::sin(field.direction[k])), along(-across.y, across.x);
      Vec2 d = (Vec2(i, j) + across * static_cast<double>(field.offset[k])) * field.spacing - to_vec(p);
      d -= along * std::clamp(glm::dot(d, along), -0.6 * field.spacing, 0.6 * field.spacing);  // its piece of the ridge
      best = std::min(best, step_length(form, d));
    }
  }
  return best;
}

}  // namespace pontata
