// The fixed regions round the views; each draws its content into the current ImGui window.
#pragma once

#include "editor/window/workbench.h"

namespace pontata {

void draw_top_bar(Workbench& bench);     // file and step buttons, then the stages
void draw_tool_strip(Workbench& bench);  // the tools, and what the one in hand wants
void draw_pontate(Workbench& bench);     // left: decks and their giornate with area, litres, days
void draw_chosen(Workbench& bench);      // right: the chosen giornata, and the tool's own fields below
void draw_week(Workbench& bench);        // bottom: the days of one week
void draw_status(Workbench& bench);      // the last line
void draw_page(Workbench& bench);        // the chosen stage's page

// What stands before everything else: unsaved work, a recovery copy, long work.
void draw_dialogs(Workbench& bench);

}  // namespace pontata
