// The zones of the chosen wall, as a part of the Giornate page: what each is called, its kind and its rate.
#pragma once

#include <string>

#include "editor/window/workbench.h"

namespace pontata {

class ZonesSection {
 public:
  void draw(Workbench& bench);

 private:
  void fields(Workbench& bench, const Zone& zone);

  ZoneId of_;  // whose fields hold what is typed
  std::string name_, rate_;
};

}  // namespace pontata
