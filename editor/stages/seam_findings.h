// What the look over the seams found: by rule, accepted with a reason, opened again.
#pragma once

#include <string>
#include <vector>

#include "editor/window/workbench.h"

namespace pontata {

class SeamFindings {
 public:
  void draw(Workbench& bench);

  // Of the last look, as they stand in the project now.
  struct Count {
    std::size_t open = 0, decide = 0, accepted = 0;
    bool holds = false;  // the look is still good for the project
  };
  Count count(Workbench& bench);

 private:
  struct Row {
    Session::Found found;  // with what is accepted now
    std::string code;
  };
  void take_up(Workbench& bench);
  void filter(Workbench& bench);
  void rows(Workbench& bench);
  void row(Workbench& bench, const Row& row, int n);
  void fields(Workbench& bench, const Row& row);
  void outdated(Workbench& bench);

  // What `rows_` and the rest were worked out from.
  DocumentRef looked_at_, document_;
  std::size_t found_ = 0;
  std::vector<Row> rows_;  // open ones first, in each the most severe first
  std::vector<AcceptedFinding> outdated_;
  Count count_;

  std::string rule_;  // whose findings are shown; empty: all
  bool show_accepted_ = false;
  std::string code_, reason_;  // of the chosen one
};

}  // namespace pontata
