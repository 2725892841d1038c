#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"
#include "engine/calendar/plan_steps.h"

namespace pontata {

namespace {

class Moved {
 public:
  Moved(const PlanCase& c, const PlanRow& row, PlanIssues& out)
      : c_(c),
        row_(row),
        out_(out),
        put_(fmt::format("{} is put on {}", capital(c.words.giornata(row.id())), format_date(*row.date))) {}
  void check() {
    check_day_off();
    if (*row_.date < c_.settings.start)
      tell("moved-before", "before the first day of painting, " + format_date(c_.settings.start));
    if (row_.ready && *row_.date < *row_.ready)
      tell("ground-not-ready", "before its arriccio is cured and signed for, " + format_date(*row_.ready));
    for (const auto& wait : row_.waits) check_wait(wait);
    check_scaffold();
  }

 private:
  void tell(const char* rule, const std::string& why, std::vector<GiornataId> others = {}) {
    others.insert(others.begin(), row_.id());
    out_.push_back({rule, fmt::format("{}, {}.", put_, why), std::move(others), *row_.date, false});
  }
  void check_day_off() {
    if (c_.days.painted(*row_.date)) return;
    const DaysOff* off = c_.days.off(*row_.date);
    if (off && off->why == DayOffWhy::dust)
      tell("day-off", "when other trades raise dust: nothing wet may be on the wall");
    else if (off)
      tell("day-off", "a day off" + (off->remark.empty() ? "" : " (" + off->remark + ")"));
    else
      tell("day-off", "which is no working day");
  }
  void check_wait(const PlanRow::Wait& wait) {
    const PlanRow& first = c_.rows.open[wait.row];
    if (wait.one_day ? *first.date <= *row_.date : *first.date < *row_.date) return;
    const std::string name = c_.words.giornata(first.id());
    const std::string day = *first.date == *row_.date ? "the same day" : format_date(*first.date);
    tell("moved-before",
         wait.why == PrecedenceWhy::asked ? fmt::format("but {} ({}) is asked to come before it", name, day)
                                          : fmt::format("before {} ({}), from which water runs onto it", name, day),
         {first.id()});
  }
  void check_scaffold() {
    const auto it = std::ranges::find(c_.pontate, row_.deck, &PontataDays::deck);
    if (it == c_.pontate.end() || it == c_.pontate.begin() || *row_.date >= it->from) return;
    tell("moved-before",
         fmt::format("before the scaffold stands at its pontata {}, {}", c_.rows.pontata(row_), format_date(it->from)));
  }

  const PlanCase& c_;
  const PlanRow& row_;
  PlanIssues& out_;
  std::string put_;
};

bool holds(const std::vector<std::size_t>& rising, std::size_t i) { return std::ranges::binary_search(rising, i); }

void check_pairs(const PlanCase& c, Date date, const std::vector<const PlanRow*>& rows, PlanIssues& out) {
  for (std::size_t i = 0; i < rows.size(); ++i)
    for (std::size_t k = i + 1; k < rows.size(); ++k) {
      const std::size_t other = c.rows.places.at(rows[k]->id());
      const std::vector<GiornataId> both{rows[i]->id(), rows[k]->id()};
      const std::string on = fmt::format("{} are both put on {}", capital(c.words.giornate(both)), format_date(date));
      if (holds(rows[i]->beside, other))
        out.push_back({"wet-seam",
                       on + ", but share a seam: the edge cannot be cut while both are wet. Allow it for the pair, or "
                            "move one.",
                       both, date, false});
      if (holds(rows[i]->apart, other))
        out.push_back({"forced-pair", on + ", but are to be kept apart.", both, date, false});
    }
}

void check_hands(const PlanCase& c, Date date, const std::vector<const PlanRow*>& rows, PlanIssues& out) {
  std::vector<GiornataId> ids;
  double area = 0;
  for (const PlanRow* r : rows) {
    ids.push_back(r->id());
    area += r->input->measure.area_m2;
  }
  const int painters = std::max(1, c.settings.painters);
  if (rows.size() > static_cast<std::size_t>(painters))
    out.push_back({"over-full",
                   fmt::format("{} are all put on {}, for {} {}.", capital(c.words.giornate(ids)), format_date(date),
                               painters, painters == 1 ? "painter" : "painters"),
                   ids, date, false});
  if (c.settings.plasterer_m2 && area > *c.settings.plasterer_m2)
    out.push_back({"plasterer",
                   fmt::format("On {} {} m² are to be laid for {}, but the plasterer lays {} m² of a morning: divide "
                               "the work, or lay it with help.",
                               format_date(date), format_fixed(area, 2), c.words.giornate(ids),
                               format_fixed(*c.settings.plasterer_m2, 2)),
                   ids, date, false});
}

}  // namespace

void check_moved(const PlanCase& c, PlanIssues& out) {
  for (const PlanRow& r : c.rows.open)
    if (r.input->day) Moved(c, r, out).check();
}

void check_day(const PlanCase& c, PlanIssues& out) {
  for (const auto& [date, rows] : c.by_day) {
    check_pairs(c, date, rows, out);
    check_hands(c, date, rows, out);
  }
}

}  // namespace pontata
