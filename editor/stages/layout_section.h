// A layout to start from: several are found, told side by side with the one there is, looked at, and one is taken.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "editor/window/form_fields.h"
#include "engine/document/propose.h"

namespace pontata {

class LayoutSection {
 public:
  void draw(Workbench& bench);

 private:
  // What was found for a wall, and the document it belongs to.
  struct Found {
    DocumentRef of;
    WallId wall;
    LayoutFigures present;
    std::vector<ProposedLayout> layouts;
    // Figures of the same wall in other projects.
    std::vector<std::pair<std::string, LayoutFigures>> others;
  };
  Result<ProposeOptions> options() const;
  void seek(Workbench& bench);
  void compare(Workbench& bench, const std::string& path);
  void result(Workbench& bench);
  void table(Workbench& bench);
  void row(Workbench& bench, const std::string& name, const LayoutFigures& figures, int number);
  void choose(int number);
  void chosen(Workbench& bench);
  void forget();
  bool holds(const Workbench& bench) const;

  FormFields fields_;
  std::string size_ = "1", contours_ = "0.9", count_ = "3";
  bool improve_ = false;
  std::shared_ptr<const Found> found_;
  int chosen_ = 0;                              // 1 the first layout found; 0 the present one
  std::string worst_;                           // of the chosen one
  std::vector<std::vector<ChartPoint>> lines_;  // its seams, drawn over the wall until it is taken
};

}  // namespace pontata
