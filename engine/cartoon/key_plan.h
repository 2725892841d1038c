// The key plan: every wall laid flat with all its numbers, shaded by pontata, and the list of giornate beside it.
#pragma once

#include <string>

#include "engine/base/progress.h"
#include "engine/cartoon/cartoon.h"

namespace pontata {

// One A3 page a wall (landscape), more where the list is long.
Outcome write_key_plan(const CartoonInput& input, const std::string& pdf_path, Progress* progress = nullptr);

// The walls side by side in one picture, without the lists.
Outcome write_key_plan_png(const CartoonInput& input, const std::string& png_path, double dpi = 150);

}  // namespace pontata
