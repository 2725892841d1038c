// What is laid below the intonaco, what is bought and what is slaked, as parts of the Plaster page.
#pragma once

#include "editor/window/workbench.h"
#include "engine/document/plaster_plan.h"

namespace pontata {

class SupplySection {
 public:
  void draw(Workbench& bench);

 private:
  void ground(Workbench& bench, const PlasterPlan& plan);
  void buying(Workbench& bench, const PlasterPlan& plan);
  void slaking(const Slaking& slaking, const std::optional<Date>& slake_by);
  bool to_come_ = false;  // what is still to be bought, not what the whole job takes
};

}  // namespace pontata
