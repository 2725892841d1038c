#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/calendar/plan_steps.h"

namespace pontata {

namespace {

std::string found_bad(const GroundWork& work) {
  std::vector<std::string> words;
  if (!work.sound) words.push_back("sound");
  if (!work.no_salts) words.push_back("free of salts");
  if (!work.no_damp) words.push_back("free of damp");
  return fmt::format("{}", fmt::join(words, " or "));
}

void check_entry(const PlanCase& c, const GroundWork& work, const std::vector<GiornataId>& ids, PlanIssues& out) {
  if (ready_to_paint(work)) return;
  const std::string cured = format_date(ready_day(work, c.settings));
  const std::string which = c.words.ground(work.wall, work.pontata);
  const std::string says =
      work.signed_on
          ? fmt::format("The arriccio {} was looked at on {} and not found {}: paint nothing on it ({}) until it is.",
                        which, format_date(*work.signed_on), found_bad(work), c.words.giornate(ids))
          : fmt::format(
                "The arriccio {} is not signed for: {} planned from {}, when it is cured. Before that have it "
                "found sound, without salts, without damp.",
                which, c.words.giornate(ids) + (ids.size() == 1 ? " is" : " are"), cured);
  out.push_back({"ground-not-ready", says, ids, {}, false});
}

}  // namespace

void check_ground(const PlanCase& c, PlanIssues& out) {
  std::map<const GroundWork*, std::vector<GiornataId>> on;
  std::set<WallId> untold;
  for (const PlanRow& r : c.rows.open) {
    const GroundWork* work = ground_of(c.facts.ground, r.input->wall, c.rows.pontata(r));
    if (work)
      on[work].push_back(r.id());
    else if (r.input->wall)
      untold.insert(r.input->wall);
  }
  for (const GroundWork& work : c.facts.ground)
    if (const auto it = on.find(&work); it != on.end()) check_entry(c, work, it->second, out);
  if (untold.empty()) return;
  std::vector<std::string> walls;
  for (const WallId wall : untold) walls.push_back(c.words.ground(wall, 0).substr(3));
  out.push_back({"ground-not-ready",
                 fmt::format("Nothing is told of the arriccio of {}: it is taken as cured ({} days) and sound. Have it "
                             "signed for before it is painted on.",
                             fmt::join(walls, ", "), c.settings.curing_days),
                 {},
                 {},
                 true});
}

}  // namespace pontata
