#include "engine/review/layout_figures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "engine/base/units.h"
#include "engine/picture/contour_distance.h"
#include "engine/seams/cut_contacts.h"
#include "engine/seams/ring_claim.h"

namespace pontata {

namespace {

constexpr double kSample = 0.01;    // m between places tried, as off_contour
constexpr double kStrength = 0.10;  // weaker contours do not hide a seam
constexpr double kAlong = 0.6;      // radians between a seam and a contour that it could follow

class Share {
 public:
  Share(const ChartedWall& wall, const ContourField* contours, const Draped* draped, double contour_mm)
      : wall_(wall),
        contours_(contours && contours->columns > 0 ? contours : nullptr),
        draped_(draped),
        near_(contour_mm / 1000) {}

  void add(Vec2 a, Vec2 b, double length) {
    sum_.seam_m += length;
    if (!contours_) return;
    const int parts = std::max(1, static_cast<int>(std::ceil(length / kSample)));
    for (int k = 0; k < parts; ++k) add(to_chart(a + (k + 0.5) / parts * (b - a)), b - a, length / parts);
  }
  const ContourShare& sum() const { return sum_; }

 private:
  void add(ChartPoint p, Vec2 way, double length) {
    if (draped_ && !draped_->covers(p)) return;
    sum_.judged_m += length;
    const bool on = distance_to_contour(wall_, *contours_, p, near_, kStrength) < near_;
    if (on) sum_.on_contour_m += length;
    const double away = distance_to_contour_along(wall_, *contours_, p, way, kAlong, kContourNear, kStrength);
    if (away >= kContourNear) return;
    sum_.near_m += length;
    if (away < near_) sum_.near_on_m += length;
  }

  const ChartedWall& wall_;
  const ContourField* contours_;
  const Draped* draped_;
  double near_;
  ContourShare sum_;
};

void add_findings(std::span<const Finding> findings, LayoutFigures& figures) {
  for (const Finding& f : findings) {
    if (f.accepted) continue;
    if (!figures.worst || f.severity > figures.worst->severity) figures.worst = f;
    if (f.rule == "thin-end") ++figures.thin;
    std::size_t& count = f.severity == Severity::decide ? figures.decide
                         : f.severity == Severity::warn ? figures.warn
                                                        : figures.note;
    ++count;
  }
}

// Days on which any of the wall's giornate is painted.
std::optional<int> days_of(const Plan& plan, const std::map<GiornataId, bool>& here) {
  std::vector<Date> dates;
  for (const PlannedDay& day : plan.days)
    if (here.contains(day.id) && (day.dated || day.painted)) dates.push_back(day.date);
  if (dates.empty()) return std::nullopt;
  std::ranges::sort(dates);
  dates.erase(std::unique(dates.begin(), dates.end()), dates.end());
  return static_cast<int>(dates.size());
}

}  // namespace

ContourShare contour_share(const ChartedWall& wall, const Network& network, const ContourField* contours,
                           const Draped* draped, double contour_mm) {
  Share share(wall, contours, draped, contour_mm);
  for (std::uint32_t s = 0; s < network.half_edge_slots() / 2; ++s)
    if (network.alive(SeamId{s}) && !network.on_border({s}))
      share.add(to_vec(to_chart(network.origin({s << 1}))), to_vec(to_chart(network.target({s << 1}))),
                network.seam({s}).length_m);
  return share.sum();
}

ContourShare contour_share(const ChartedWall& wall, std::span<const std::vector<ChartPoint>> lines,
                           const ContourField* contours, const Draped* draped, double contour_mm) {
  Share share(wall, contours, draped, contour_mm);
  const auto on_wall = [&](ChartPoint p) { return fits_lattice(p) && wall.chart->triangle_at(to_lattice(p)); };
  for (const auto& line : lines)
    for (std::size_t k = 0; k + 1 < line.size(); ++k)
      if (on_wall(line[k]) && on_wall(line[k + 1]))
        share.add(to_vec(line[k]), to_vec(line[k + 1]),
                  wall.metric->measure(to_lattice(line[k]), to_lattice(line[k + 1])).length_m);
  return share.sum();
}

LayoutFigures layout_figures(const ReviewInput& input, const ReviewSettings& settings,
                             std::span<const Finding> findings) {
  LayoutFigures figures;
  figures.contours =
      contour_share(*input.wall, *input.network, input.contours.get(), input.draped.get(), settings.contour_mm);
  std::map<GiornataId, bool> here;
  if (input.measure)
    for (const GiornataMeasure& m : input.measure->giornate) {
      here[m.id] = true;
      ++figures.giornate;
      if (pieces_of(*input.network, input.network->faces_of(m.id), input.wall->chart.get()).size() > 1)
        ++figures.disconnected;
    }
  figures.emptiest_h = std::numeric_limits<double>::infinity();
  for (const GiornataHours& h : input.hours) {
    if (!h.hours) continue;
    figures.hours += *h.hours;
    figures.fullest_h = std::max(figures.fullest_h, *h.hours);
    figures.emptiest_h = std::min(figures.emptiest_h, *h.hours);
    if (*h.hours > h.window_h) ++figures.over_hours;
  }
  if (!std::isfinite(figures.emptiest_h)) figures.emptiest_h = 0;
  if (input.plan) figures.days = days_of(*input.plan, here);
  add_findings(findings, figures);
  return figures;
}

std::string figures_words(const LayoutFigures& f) {
  std::string text = fmt::format("{} {}", f.giornate, f.giornate == 1 ? "giornata" : "giornate");
  if (f.days) text += fmt::format(" on {} {}", *f.days, *f.days == 1 ? "day" : "days");
  text += fmt::format(", {} m of seam", format_fixed(f.contours.seam_m, 1));
  if (f.contours.judged_m > 0)
    text += fmt::format(", {} % of it on contours", format_fixed(100 * f.contours.on_contour(), 0));
  text += f.worst ? "; the worst: " + f.worst->says : "; nothing to say against it";
  return text;
}

}  // namespace pontata
