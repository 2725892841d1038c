// What the people on the site agree on, as parts of the Calendar page: days off, pairs, the arriccio of each wall.
#pragma once

#include <string>

#include "editor/window/form_fields.h"

namespace pontata {

class DaysOffSection {
 public:
  // `day`: clicked in the calendar, taken as the first and last day until others are typed.
  void draw(Workbench& bench, const std::optional<Date>& day);

 private:
  void add(Workbench& bench);
  FormFields fields_;
  std::optional<Date> taken_;
  std::string from_, to_, why_ = "rest", remark_;
};

class PairsSection {
 public:
  void draw(Workbench& bench);

 private:
  void add(Workbench& bench);
  FormFields fields_;
  std::vector<GiornataId> taken_;  // chosen ones whose numbers were put into the fields
  std::string first_, second_;
  PairKind kind_ = PairKind::before;
};

class GroundSection {
 public:
  void draw(Workbench& bench);

 private:
  void one(Workbench& bench, const GroundWork& work);
  void add(Workbench& bench);
  FormFields fields_;
  std::string laid_, pontata_;
};

}  // namespace pontata
