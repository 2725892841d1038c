// What menus, buttons, keys and dropped files ask for.
#pragma once

#include <functional>
#include <string>

#include "editor/window/input_queue.h"
#include "editor/window/workbench.h"
#include "engine/document/picture_edits.h"

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
void remove_chosen(Workbench& bench);  // all chosen giornate, one undo step
void join_chosen(Workbench& bench);    // into the one that was chosen first
// Into the first of them; true when they were joined.
bool join_giornate(Workbench& bench, const std::vector<GiornataId>& ids);

// A project, a picture (PNG, JPEG, TIFF) or a scan (GLB, glTF, OBJ, PLY, STL) by its ending.
void take_file(Workbench& bench, const std::string& path);

// A picture on top of the chosen wall's others, filling its width.
void add_picture_file(Workbench& bench, const std::string& path);
// An edit of a picture, which is the chosen one from then on; with Cancel, or at once where it takes no time.
void edit_picture(Workbench& bench, const std::string& title, std::function<Result<PictureEdited>(Progress&)> edit);
bool commit_picture(Workbench& bench, const Result<PictureEdited>& edit);
// Asks for a picture's file.
void ask_picture(Workbench& bench, const std::string& title, std::function<void(const std::string&)> chosen);
void review_now(Workbench& bench);

// Starts finding the chosen wall's contours where they are wanted and not yet known.
void seek_contours(Workbench& bench);
bool shows_picture(const WallItem& item);  // some picture of it can be read

// Applies an edit; tools put down what the document no longer holds.
bool commit(Workbench& bench, Result<Edited> edit);

// Keeps a recovery copy when something changed and a moment has passed; seconds until the next one is due, or 0.
double keep_recovery(Workbench& bench);

}  // namespace pontata
