// Seams taken out as SVG or DXF and brought in: two buttons of the Giornate page, and what is asked for the second.
#pragma once

#include <string>

#include "editor/window/workbench.h"

namespace pontata {

class SeamFilesForm {
 public:
  void draw(Workbench& bench);

 private:
  void ask_out(Workbench& bench);
  static void take_out(Workbench& bench, const std::string& path);
  void ask_in(Workbench& bench);
  void choices(Workbench& bench);
  void bring_in(Workbench& bench);

  std::string path_;  // of the drawing to bring in; empty: none chosen
  std::string unit_, layer_;
  bool hug_ = false, take_ = false, skip_bad_ = false;
};

}  // namespace pontata
