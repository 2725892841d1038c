// Several giornate chosen at once: how lists choose them, and what they come to together.
#pragma once

#include <optional>
#include <set>
#include <span>

#include "editor/window/workbench.h"

namespace pontata {

// A click on a giornata of a list chooses it alone; with Ctrl beside the others, or no longer; with Shift all from the
// chosen one to it, in the order of the list.
void choose_in_list(Workbench& bench, GiornataId id, std::span<const GiornataId> list);
GiornataId giornata_labelled(const Document& document, const std::string& label);  // "14a"; none where there is none
void choose_all_here(Workbench& bench);                                            // of the chosen wall

// Intonaco in place, in litres, of its own thickness or the project's.
double in_place_L(const Document& document, const Giornata& g, const GiornataMeasure& m);

// What giornate come to together; those that are gone do not count.
struct ChosenSums {
  std::size_t count = 0;
  double area_m2 = 0, in_place_L = 0;
  PlasterTotals mortar;               // of those that can be plastered
  std::size_t refused = 0;            // that cannot
  std::optional<double> hours = 0.0;  // unknown while one of them is
  std::set<Date> days;
  std::set<int> pontate;
};
ChosenSums sums_of(Session& session, std::span<const GiornataId> ids);
// "3 days, 2027-05-03 to 2027-05-06, 14.5 h"
std::string days_of(const ChosenSums& sums);

}  // namespace pontata
