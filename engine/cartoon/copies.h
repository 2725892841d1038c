// The sets of sheets that one cartoon is printed as: the painting's, the incision copy, the sinopia of each pontata.
#pragma once

#include <string>
#include <vector>

#include "engine/cartoon/sheet_files.h"
#include "engine/cartoon/sheets.h"
#include "engine/cartoon/working_order.h"

namespace pontata {

struct CopySheets {
  SheetCopy copy = SheetCopy::painting;
  int pontata = 0;     // of sinopia sheets
  std::string prefix;  // of the names that SheetFiles::begin is given
  SheetFiles files;
  bool takes(const CartoonGiornata& giornata) const {
    return copy != SheetCopy::sinopia || giornata.day.pontata == pontata;
  }
};

// Opens the files of each set that `options.print` asks for: as PDF cartoon.pdf, incision.pdf, and sinopia-N.pdf for
// each pontata N among the jobs, which begins with a title page of its own. `set` must outlive them.
Result<std::vector<CopySheets>> open_copies(const CartoonInput& input, const std::vector<PrintJob>& jobs,
                                            const CartoonOptions& options, OutputSet& set);

}  // namespace pontata
