// The levelling coat on the Plaster page: worked out for a scanned wall on the worker, then shown as a table, with the
// depth map to be written as a picture.
#pragma once

#include <memory>
#include <string>

#include "editor/window/workbench.h"
#include "engine/document/level_report.h"

namespace pontata {

class LevellingSection {
 public:
  void draw(Workbench& bench);

 private:
  // A finished report and what it was made from.
  struct Made {
    std::shared_ptr<const WallItem> item;
    LevelSettings settings;
    double waste_pct = 0;
    LevelReport report;
  };
  bool up_to_date(const Workbench& bench, const WallItem& item) const;
  void work_out(Workbench& bench, std::shared_ptr<const WallItem> item);
  void ask_for_map(Workbench& bench);
  void write_map(Workbench& bench, const std::string& path);
  void show(Workbench& bench);
  void table(Workbench& bench);
  void high_spots();

  std::shared_ptr<const Made> made_;
};

}  // namespace pontata
