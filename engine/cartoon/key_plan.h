// The key plan: every wall laid flat with all its numbers, told apart by pontata or week, the list of giornate beside
// it and the lines to snap; and the building seen from a chosen place.
#pragma once

#include <string>

#include "engine/base/progress.h"
#include "engine/cartoon/plan_groups.h"
#include "engine/cartoon/registration.h"

namespace pontata {

// A3 pages (landscape): one a wall, more where the list is long; a list of the lines to snap for each wall; the view
// from the eye where the plan asks for one.
Outcome write_key_plan(const CartoonInput& input, Registers& registers, const std::string& pdf_path,
                       Progress* progress = nullptr);

// The walls side by side in one picture, without the lists.
Outcome write_key_plan_png(const CartoonInput& input, const std::string& png_path, double dpi = 150);

// Parts of it, for pages of any size; mm. `lines`: drawn and named where given.
void draw_plan(Pages& pages, const CartoonWall& wall, const PlanGroups& groups, const std::vector<SnappedLine>* lines,
               Vec2 lower_left, Vec2 size);
// Rows of boxes upward from `lower_left`; the height taken.
double draw_legend(Pages& pages, const std::vector<const PlanGroup*>& groups, Vec2 lower_left, double width);
// Names of lines and how they are found, downward from `upper_left` as far as `floor`, from the line `from` on; the
// first that did not fit.
std::size_t list_lines(Pages& pages, const std::vector<SnappedLine>& lines, std::size_t from, Vec2 upper_left,
                       double width, double floor);
// Numbers that the view does not show, in words; empty when it shows all.
std::string unseen_words(const std::vector<std::string>& unseen);

}  // namespace pontata
