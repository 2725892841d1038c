// The key plan as seen from one place: outlines, patterns and numbers of the giornate where the eye sees them.
#pragma once

#include "engine/base/progress.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/plan_groups.h"

namespace pontata {

// Fills the box with the view of all walls; what other walls or the wall's own turn hide is left out. The angle is as
// wide as shows every giornata before the eye, 110 degrees across at most. The numbers of those whose middle is not
// seen are given back. A Problem where the eye sees nothing of any wall.
Result<std::vector<std::string>> draw_plan_from(Pages& pages, const CartoonInput& input, const PlanGroups& groups,
                                                const PlanEye& eye, Vec2 lower_left, Vec2 size, Progress* progress);

}  // namespace pontata
