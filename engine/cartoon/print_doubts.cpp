#include "engine/cartoon/print_doubts.h"

#include <fmt/format.h>

#include "engine/base/units.h"

namespace pontata {

std::vector<std::string> print_doubts(const CartoonReport& report, double relief_mm) {
  std::vector<std::string> out;
  for (const CartoonReport::Row& row : report.giornate) {
    const auto label = label_of(row);
    if (row.misfit_mm > relief_mm || row.seam_mismatch_mm > kSeamsAgree)
      out.push_back(
          fmt::format("giornata {}: its seams are up to {} mm off in length and lie up to {} mm from its neighbours' "
                      "prints; one of "
                      "them is too strongly curved to be laid flat: divide it into smaller giornate",
                      label, format_fixed(row.misfit_mm, 1), format_fixed(row.seam_mismatch_mm, 1)));
    else if (row.worst_line_mm > relief_mm)
      out.push_back(fmt::format(
          "giornata {}: its seams are true, but within it a straight line on the paper is up to {} mm off; smaller "
          "giornate would make it truer",
          label, format_fixed(row.worst_line_mm, 1)));
  }
  return out;
}

}  // namespace pontata
