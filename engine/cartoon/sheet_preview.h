// What would be printed, without writing anything: how many sheets, how much paper, each sheet as a picture.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/cartoon/giornata_sheets.h"

namespace pontata {

struct PlannedSheets {
  GiornataId id;
  int number = 0;
  std::string part{};
  int sheets = 0;
  double paper_m2 = 0, roll_m = 0;  // roll_m: 0 on sheets
  std::vector<Tiling> tilings{};    // one for each part of the giornata
};
struct SheetPlan {
  std::vector<PlannedSheets> giornate;  // in working order
  int sheets = 0;
  double paper_m2 = 0, roll_m = 0;
};

// Counts what write_cartoon with the same arguments would print of the giornate. Lays each flat, so it takes about as
// long as that; reports progress and can be cancelled. Refuses what write_cartoon refuses.
Result<SheetPlan> plan_sheets(const CartoonInput& input, const CartoonOptions& options, Progress* progress = nullptr);

// The sheets of one giornata to look at. Made once (as long as laying it flat takes), then each sheet is drawn within
// some tens of milliseconds. Not for several threads at once.
class SheetPreview {
 public:
  // `input` must outlive this. Refuses an id that is not in it.
  static Result<SheetPreview> make(const CartoonInput& input, const CartoonOptions& options, GiornataId id,
                                   Progress* progress = nullptr);
  int sheets() const { return sheets_; }
  // Sheet `index` (from 0) as it would be printed, `dpi` dots an inch, rows from the top.
  Result<Image> sheet(int index, double dpi, Progress* progress = nullptr);

 private:
  SheetPreview(const CartoonInput& input, const CartoonOptions& options)
      : input_(&input), options_(std::make_unique<CartoonOptions>(options)) {}
  const CartoonInput* input_;
  std::unique_ptr<CartoonOptions> options_;  // where the sheets point to
  std::vector<Pattern> patterns_;
  std::unique_ptr<GiornataSheets> drawn_;
  int sheets_ = 0;
};

}  // namespace pontata
