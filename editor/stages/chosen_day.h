// The day of the chosen giornata, as a part of the Calendar page.
#pragma once

#include "editor/window/form_fields.h"

namespace pontata {

class ChosenDay {
 public:
  void draw(Workbench& bench, GiornataId id);

 private:
  FormFields fields_;
};

}  // namespace pontata
