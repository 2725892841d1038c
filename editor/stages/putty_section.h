// Batches of lime putty and their age, as a part of the Plaster page.
#pragma once

#include <string>

#include "editor/window/form_fields.h"

namespace pontata {

class PuttySection {
 public:
  void draw(Workbench& bench);

 private:
  void one(Workbench& bench, const PuttyBatch& batch, Date start);
  void add(Workbench& bench);
  FormFields fields_;
  std::string name_, slaked_, litres_;
};

}  // namespace pontata
