// How the plan names things in what it says. Shared by the steps of make_plan.
#pragma once

#include <string>

#include "engine/calendar/plan_rows.h"

namespace pontata {

class PlanWords {
 public:
  // Rows that bear no number are named by their place: done ones first, then open ones by day.
  PlanWords(const PlanRows& plan, const PlanFacts& facts) : plan_(plan), facts_(facts) {}
  std::string label(GiornataId id) const;  // "14a"
  std::string giornata(GiornataId id) const { return "giornata " + label(id); }
  std::string giornate(std::vector<GiornataId> ids) const;  // "giornata 3", "giornate 3, 5 and 8"
  std::string ground(WallId wall, int pontata) const;       // "of apse", "of apse, pontata 2"

 private:
  void label_all() const;

  const PlanRows& plan_;
  const PlanFacts& facts_;
  mutable std::map<GiornataId, std::string> labels_;  // once one is asked for
};

std::string capital(std::string text);  // its first letter
std::string one_place(double value);    // "7.5"
std::string height(double metres);      // "4.00 m"

}  // namespace pontata
