#include "engine/cartoon/plan_groups.h"

#include <fmt/format.h>

#include <array>
#include <set>

namespace pontata {
namespace {

struct Lines {
  double angle_deg, gap_mm;
};
constexpr std::array<Lines, 6> kLines{{{45, 4.0}, {-45, 4.0}, {0, 3.0}, {90, 3.0}, {30, 2.2}, {-30, 2.2}}};

// Light grounds that differ in lightness as well, each with an ink of its own.
struct Colours {
  Colour tint, ink;
};
constexpr std::array<Colours, 6> kColours{{{{0.97, 0.94, 0.84}, {0.42, 0.30, 0.05}},
                                           {{0.80, 0.89, 0.93}, {0.07, 0.27, 0.38}},
                                           {{0.93, 0.82, 0.74}, {0.48, 0.18, 0.06}},
                                           {{0.85, 0.91, 0.78}, {0.15, 0.32, 0.10}},
                                           {{0.87, 0.81, 0.90}, {0.30, 0.14, 0.38}},
                                           {{0.77, 0.78, 0.78}, {0.15, 0.15, 0.15}}}};

Date monday_of(Date d) { return add_days(d, 1 - weekday(d)); }

std::string words_of(PlanBy by, const PlannedDay& day) {
  if (by == PlanBy::pontata) return fmt::format("pontata {}", day.pontata);
  return day.dated ? "week of " + format_date(monday_of(day.date)) : "done";
}

}  // namespace

PlanGroups::PlanGroups(const CartoonInput& input) : by_(input.plan.by) {
  for (const CartoonWall& wall : input.walls)
    for (const CartoonGiornata& g : wall.giornate) groups_[key(g)].words = words_of(by_, g.day);
  std::size_t i = 0;
  for (auto& [key, group] : groups_) {
    const Lines& lines = kLines[i % kLines.size()];
    const Colours& colours = kColours[(i + i / kColours.size()) % kColours.size()];
    group.angle_deg = lines.angle_deg, group.gap_mm = lines.gap_mm;
    group.tint = colours.tint, group.ink = colours.ink;
    ++i;
  }
}

int PlanGroups::key(const CartoonGiornata& g) const {
  if (by_ == PlanBy::pontata) return g.day.pontata;
  if (!g.day.dated) return 0;
  const Date d = monday_of(g.day.date);
  return (d.year * 12 + d.month) * 31 + d.day;
}

std::vector<const PlanGroup*> PlanGroups::all() const {
  std::vector<const PlanGroup*> out;
  for (const auto& [key, group] : groups_) out.push_back(&group);
  return out;
}

std::vector<const PlanGroup*> PlanGroups::on(const CartoonWall& wall) const {
  std::set<int> keys;
  for (const CartoonGiornata& g : wall.giornate) keys.insert(key(g));
  std::vector<const PlanGroup*> out;
  for (const int k : keys) out.push_back(&groups_.at(k));
  return out;
}

}  // namespace pontata
