// A record of what the window shows, for tests and for people who report a fault.
//
// With PONTATA_TRACE=FILE in the environment, the window appends one line of JSON whenever something of it changes:
//   n          number of the line, from 1
//   frames     frames drawn so far (grows while the window works, stands still while it idles)
//   file       path of the project, "" when new;  saved: no unsaved change;  undo, redo: names of the next steps or ""
//   stage      chosen stage;  tool: chosen tool;  points: places given to the tool so far;  hug: whether Hug is on
//   follows    what the line to the pointer follows, in plain words, or ""
//   contours   whether the picture's contours are known;  walls, giornate: how many;  wall: name of the chosen wall
//   chosen     {id, number, label, name, note, state, printed, changed, area_m2} of the last one chosen, or null
//   all_chosen ids in the order they were chosen
//   zones      of the chosen wall: {id, name, kind, rate, points};  zone: id of the chosen one, or 0
//   views      {"space": [x, y, width, height], "flat": [...]} in px of the window from its upper left
//   flat_map   {"u", "v", "px_per_m"}: chart place at the middle of the flat view, and its scale
//   hover      {"u", "v", "z"} under the pointer, or null
//   pictures   of the chosen wall, the lowest first: {id, name, fade, crop: [left, top, right, bottom] or null, mask:
//              corners, points, by_size: {lay, u, v, width_m, turn} or null, file: whether it can be read}
//   picture    name of the chosen one, or "";  laying: by_size of a drag that is under way, or null
//   picture_view  {"at": [x, y, width, height], "x", "y": pixel in the middle, "px_per_pixel", "hover": [x, y] or
//              null}, or null where the picture itself is not shown
//   pairs      {count, whole, changes, chosen, working, likely_px, likely_mm, kind, worst, suspect, cameras, camera,
//              says: lines, refused: why it cannot be set}; figures are left out or
//              null while none are known
//   controls   name -> [x, y, width, height] of buttons and fields on screen
//   dialog     open dialog or "";  work: running work or "";  status: the status line;  error: whether it is a
//   complaint;  fault: [u, v] of the place it names, or null
// Places are rounded to a micrometre. Nothing is written without the variable.
#pragma once

#include <cstdio>
#include <string>

namespace pontata {

class Trace {
 public:
  Trace();  // reads PONTATA_TRACE
  ~Trace();
  Trace(const Trace&) = delete;
  Trace& operator=(const Trace&) = delete;

  bool on() const { return file_ != nullptr; }
  // `state`: members of a JSON object without its braces. Written when it differs from the last.
  void record(const std::string& state, long frames);

 private:
  std::FILE* file_ = nullptr;
  std::string last_;
  long lines_ = 0;
};

}  // namespace pontata
