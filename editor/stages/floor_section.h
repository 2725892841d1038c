// How the seams look from the floor: eye points, the worst stretches, the heat line over the walls.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "editor/stages/settings_fields.h"
#include "engine/review/heat_line.h"

namespace pontata {

class FloorSection {
 public:
  void draw(Workbench& bench);

 private:
  // What was seen from one eye point, and the document it belongs to.
  struct Seen {
    struct Worst {
      WallId wall;
      std::string who;
      WorstStretch stretch;
    };
    DocumentRef of;
    EyePoint eye;
    std::vector<std::pair<WallId, std::shared_ptr<const std::vector<HeatLine>>>> heat;
    std::vector<Worst> worst;
  };
  void eyes(Workbench& bench);
  void add(Workbench& bench);
  void look(Workbench& bench, const EyePoint& eye);
  bool holds(const Document& now) const;
  void result(Workbench& bench);
  void legend();
  void worst(Workbench& bench);

  std::string name_ = "door", place_;
  bool shown_ = true;
  int pointed_ = -1;  // which of the worst is pointed out
  std::shared_ptr<const Seen> seen_;
  SettingsFields fields_;
};

}  // namespace pontata
