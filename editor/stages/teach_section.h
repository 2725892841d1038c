// What the days of the diary teach: rates and the base window, each to be taken over as the project's own.
#pragma once

#include "editor/window/workbench.h"

namespace pontata {

class TeachSection {
 public:
  void draw(Workbench& bench);

 private:
  const Estimates& estimates(const DocumentRef& document);
  JobRef of_;
  Air reference_;
  std::optional<Estimates> made_;  // of those two
};

}  // namespace pontata
