// The coats of plaster on the Plaster page: thickness, grain and mix of each, typed and dragged.
#pragma once

#include <string>

#include "editor/stages/settings_fields.h"

namespace pontata {

class CoatsSection {
 public:
  void draw(Workbench& bench);

 private:
  void table(Workbench& bench, const std::vector<Setting>& keys, const Settings& settings);
  void mix(Workbench& bench, const Setting& setting);

  DocumentRef of_;
  std::vector<Setting> keys_;  // of its coats
  std::vector<std::string> coats_;
  std::string chosen_;  // the coat whose fields are open
  SettingsFields fields_;
  FormFields parts_;
};

}  // namespace pontata
