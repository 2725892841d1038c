// Pigments of the chosen giornata and what is finished on it dry, as a part of the Calendar page.
#pragma once

#include <string>

#include "editor/window/form_fields.h"

namespace pontata {

class PaletteSection {
 public:
  void draw(Workbench& bench, GiornataId id);

 private:
  void list(Workbench& bench, GiornataId id);
  void choice(Workbench& bench, GiornataId id);
  std::string sought_;  // typed to narrow the choice
};

class SeccoSection {
 public:
  void draw(Workbench& bench, GiornataId id);

 private:
  void one(Workbench& bench, const SeccoWork& work, const std::optional<Date>& painted);
  void add(Workbench& bench, GiornataId id);
  FormFields fields_;
  std::string what_, binder_ = "casein", area_, hours_;
};

}  // namespace pontata
