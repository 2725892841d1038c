#include "editor/window/choosing.h"

#include <imgui.h>

#include <algorithm>

#include "editor/window/fields.h"

namespace pontata {

void choose_in_list(Workbench& bench, GiornataId id, std::span<const GiornataId> list) {
  const ImGuiIO& io = ImGui::GetIO();
  Session& session = bench.session;
  if (io.KeyCtrl) return session.choose_more(id);
  const auto from = std::find(list.begin(), list.end(), session.chosen());
  const auto to = std::find(list.begin(), list.end(), id);
  if (!io.KeyShift || from == list.end() || to == list.end()) return session.choose(id);
  std::vector<GiornataId> ids = session.all_chosen();
  ids.insert(ids.end(), std::min(from, to), std::max(from, to) + 1);
  // The one that the stretch began with stays the chosen one, so that Shift may lengthen it.
  std::erase(ids, *from);
  ids.push_back(*from);
  session.choose_all(ids);
}

GiornataId giornata_labelled(const Document& document, const std::string& label) {
  for (const Giornata& g : document.giornate)
    if (g.alive && label_of(g) == label) return g.id;
  return {};
}

void choose_all_here(Workbench& bench) {
  std::vector<GiornataId> ids;
  for (const Giornata& g : bench.session.document()->giornate)
    if (g.alive && g.wall == bench.session.wall()) ids.push_back(g.id);
  bench.session.choose_all(ids);
}

double in_place_L(const Document& document, const Giornata& g, const GiornataMeasure& m) {
  double mm = 0;
  for (const Coat& coat : document.settings.plaster.intonaco) mm += coat.thickness_mm;
  return 1000 * coat_volume(m.area_m2, m.bend_m, m.gauss, g.intonaco_mm.value_or(mm) / 1000);
}

ChosenSums sums_of(Session& session, std::span<const GiornataId> ids) {
  ChosenSums sums;
  std::vector<GiornataNeed> needs;
  const auto rows = session.giornate();
  for (const GiornataId id : ids) {
    const Giornata* g = session.document()->giornata(id);
    const GiornataMeasure* m = session.measure(id);
    const auto row = std::find_if(rows->begin(), rows->end(), [&](const GiornataPlan& r) { return r.id == id; });
    if (!g || !m || row == rows->end()) continue;
    ++sums.count;
    sums.area_m2 += m->area_m2;
    sums.in_place_L += in_place_L(*session.document(), *g, *m);
    if (row->need)
      needs.push_back(*row->need);
    else
      ++sums.refused;
    sums.hours = sums.hours && row->day.hours ? std::optional(*sums.hours + *row->day.hours) : std::nullopt;
    if (row->day.dated) sums.days.insert(row->day.date);
    sums.pontate.insert(row->day.pontata);
  }
  sums.mortar = plaster_totals(needs);
  return sums;
}

std::string days_of(const ChosenSums& sums) {
  std::string text = std::to_string(sums.days.size()) + (sums.days.size() == 1 ? " day" : " days");
  if (!sums.days.empty()) text += ", " + format_date(*sums.days.begin());
  if (sums.days.size() > 1) text += " to " + format_date(*sums.days.rbegin());
  return text + (sums.hours ? ", " + shown(*sums.hours, 1, "h") : "");
}

}  // namespace pontata
