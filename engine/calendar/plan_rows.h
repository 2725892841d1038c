// The giornate of a plan in working order, with what each waits for. Shared by the steps of make_plan.
#pragma once

#include <map>
#include <string>
#include <unordered_map>
#include <vector>

#include "engine/calendar/calendar.h"

namespace pontata {

struct PlanRow {
  const PlanInput* input = nullptr;
  std::size_t deck = 0;   // of the rising list of levels
  std::size_t stage = 0;  // decks from the highest, each in two: what is behind its ties and standards comes second
  // Rows that must be painted on an earlier day.
  struct Wait {
    std::size_t row = 0;
    PrecedenceWhy why = PrecedenceWhy::drips;
    bool one_day = false;  // or on the same
  };
  std::vector<Wait> waits;
  std::vector<std::size_t> beside, apart;  // rising: those it may not be wet on one day with, by a seam, by a pair
  std::optional<Date> ready;               // its arriccio is cured, and signed for where it is
  std::optional<Date> date;

  GiornataId id() const { return input->measure.id; }
};

struct PlanRows {
  std::vector<PlanRow> done, open;                     // in working order
  std::vector<double> levels;                          // heights of the decks, rising
  std::size_t top_deck = 0;                            // the highest that holds a giornata: pontata 1
  Ordered kept;                                        // of the open ones: circles, and what gave way
  std::unordered_map<GiornataId, std::size_t> places;  // of the open ones

  int pontata(const PlanRow& row) const { return static_cast<int>(top_deck - row.deck) + 1; }
};

// Rows with order and waits; no dates.
PlanRows plan_rows(std::span<const PlanInput> giornate, const CalendarSettings& settings, const PlanFacts& facts);

// The arriccio a giornata of this wall and pontata is laid on: the pontata's own entry before the whole wall's; nullptr
// where none is told.
const GroundWork* ground_of(std::span<const GroundWork> ground, WallId wall, int pontata);
// When it can be painted on: cured, and signed for where it is.
Date ready_day(const GroundWork& work, const CalendarSettings& settings);

// A number by deck where one is given for each, or for all; none where none is.
std::optional<double> of_deck(const std::vector<double>& numbers, std::size_t deck);

}  // namespace pontata
