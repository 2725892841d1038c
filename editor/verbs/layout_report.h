// A layout's figures as the verbs tell them: propose, compare.
#pragma once

#include "editor/verbs/project.h"
#include "engine/review/layout_figures.h"

namespace pontata {

// giornate, over_hours, disconnected, on_contour (share of the seam that a picture lies under), seam_m and the rest.
Json figures_json(const LayoutFigures& figures);
// The columns of figures_cells, after others.
void add_figures_columns(Table& table);
std::vector<Cell> figures_cells(const LayoutFigures& figures);

}  // namespace pontata
