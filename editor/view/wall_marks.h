// Numbers on the wall and how places of the wall come to the screen.
#pragma once

#include "editor/view/renderer.h"
#include "engine/document/document.h"
#include "engine/document/flow.h"

struct ImDrawList;

namespace pontata {

// Where a chart place is seen, px from the view's upper left; nullopt when it is hidden by this wall or one of the
// others, behind the eye or off the wall.
std::optional<Vec2> on_screen(const ChartedWall& wall, std::span<const WallRef> all, const ViewFrame& frame,
                              ChartPoint place);
// The same without asking whether something hides it; for lines that are being drawn.
std::optional<Vec2> projected(const ChartedWall& wall, const ViewFrame& frame, ChartPoint place);

// px per metre of wall at a place, as if seen straight on; 0 off the wall.
double metre_px(const ChartedWall& wall, const ViewFrame& frame, ChartPoint place);

// Each giornata's number in its state's colours, where there is room for it; paler on a quiet wall. `corner` is the
// view's upper left; `all` are the walls that may hide it.
void draw_numbers(ImDrawList& list, Vec2 corner, const ViewFrame& frame, const WallItem& item,
                  std::span<const WallRef> all, const WallMeasure& measure, const Document& document,
                  std::span<const GiornataId> chosen, bool quiet);

// The surfaces of all walls, in the document's order.
std::vector<WallRef> surfaces_of(const Document& document);

}  // namespace pontata
