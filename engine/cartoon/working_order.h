// The giornate to print, in the order they will be painted.
#pragma once

#include <vector>

#include "engine/cartoon/cartoon.h"

namespace pontata {

struct PrintJob {
  const CartoonWall* wall = nullptr;
  const CartoonGiornata* giornata = nullptr;
};

// Those of `input.only`, or all: finished ones first, then by day, then by number. Pointers into `input`.
std::vector<PrintJob> working_order(const CartoonInput& input);

// Refuses a print of nothing, without paper, or with pictures finer or coarser than 10 to 1200 dots an inch.
Outcome check_print(const std::vector<PrintJob>& jobs, const CartoonInput& input, const CartoonOptions& options);

}  // namespace pontata
