// What menus, buttons, keys and dropped files ask for.
#pragma once

#include <string>

#include "editor/window/input_queue.h"
#include "editor/window/workbench.h"

namespace pontata {

void new_project(Workbench& bench);  // asks about unsaved work first, as do open and quit
void ask_open(Workbench& bench);
void open_project(Workbench& bench, const std::string& path, bool ask = true);
void load_into(Workbench& bench, const std::string& path, const std::string& recovered_for);
void save(Workbench& bench);  // asks for a name when there is none
void ask_save_as(Workbench& bench);
void quit(Workbench& bench);
void undo(Workbench& bench);
void redo(Workbench& bench);
void remove_chosen(Workbench& bench);

// A project, a picture (PNG, JPEG, TIFF) or a scan (GLB, glTF, OBJ, PLY, STL) by its ending.
void take_file(Workbench& bench, const std::string& path);

void drape(Workbench& bench, const std::string& path, ChartPoint at, double width_m, double turn_deg);
void review_now(Workbench& bench);

// Starts finding the chosen wall's contours where they are wanted and not yet known.
void seek_contours(Workbench& bench);
bool shows_picture(const WallItem& item);  // some picture of it can be read

// Applies an edit; tools put down what the document no longer holds.
bool commit(Workbench& bench, Result<Edited> edit);

// Keeps a recovery copy when something changed and a moment has passed; seconds until the next one is due, or 0.
double keep_recovery(Workbench& bench);

}  // namespace pontata
