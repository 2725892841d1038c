// A layout with everything a review reads.
#pragma once

#include <algorithm>

#include "engine/review/findings.h"
#include "tests/fixtures/layouts.h"

namespace pontata {

struct Reviewed {
  layouts::Layout layout;
  std::vector<Zone> zones;
  std::shared_ptr<const ContourField> contours;
  CalendarSettings calendar;
  ReviewSettings settings;
  std::vector<std::uint32_t> order;  // ids in working order, a day each; empty: as planned
  std::shared_ptr<ReviewCache> cache;
  DrapedRef draped;

  std::vector<Finding> findings(Progress* progress = nullptr) const {
    const WallMeasure measure = layout.measure();
    std::vector<GiornataHours> hours;
    std::vector<PlanInput> inputs;
    for (const GiornataMeasure& m : measure.giornate) {
      hours.push_back(painting_hours(*layout.wall, layout.network, m, zones, calendar));
      inputs.push_back({m, hours.back(), GiornataState::planned});
    }
    Plan plan = make_plan(inputs, calendar);
    if (!order.empty()) {
      plan.days.clear();
      for (const std::uint32_t id : order) {
        PlannedDay day;
        day.id = GiornataId{id};
        day.date = add_days(calendar.start, static_cast<int>(plan.days.size()));
        plan.days.push_back(day);
      }
    }
    return review({.wall = layout.wall,
                   .network = &layout.network,
                   .giornate = layout.giornate,
                   .zones = zones,
                   .contours = contours,
                   .measure = &measure,
                   .hours = hours,
                   .plan = &plan,
                   .cache = cache,
                   .draped = draped,
                   .ribs = find_ribs(*layout.wall),
                   .calendar = &calendar},
                  settings, progress);
  }
  std::vector<Finding> findings_of(const std::string& rule) const {
    std::vector<Finding> list;
    for (Finding& f : findings())
      if (f.rule == rule) list.push_back(std::move(f));
    return list;
  }
};

inline Zone keep_whole(std::uint32_t id, const std::vector<ChartPoint>& outline, const std::string& name = "") {
  Zone z;
  z.id = ZoneId{id};
  z.name = name;
  for (const ChartPoint& p : outline) z.ring.push_back(to_lattice(p));
  return z;
}
inline std::vector<ChartPoint> box(double u0, double v0, double u1, double v1) {
  return {{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}};
}

// Rows of boxes over a flat wall from the top, `columns` in each.
inline Reviewed rows(int rows_, int columns, double width = 1.0, double height = 1.0) {
  Reviewed r{.layout = layouts::on(layouts::flat(columns * width, rows_ * height)),
             .zones = {},
             .contours = {},
             .calendar = {},
             .settings = {},
             .order = {},
             .cache = {},
             .draped = {}};
  for (int row = rows_ - 1; row >= 0; --row)
    for (int column = 0; column < columns; ++column)
      layouts::add_box(r.layout, column * width, row * height, (column + 1) * width, (row + 1) * height);
  return r;
}
inline Reviewed on_wall(layouts::Layout layout) {
  return {.layout = std::move(layout),
          .zones = {},
          .contours = {},
          .calendar = {},
          .settings = {},
          .order = {},
          .cache = {},
          .draped = {}};
}

}  // namespace pontata
