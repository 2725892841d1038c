// A drawing of seams brought into the layout of a wall, as one edit.
#pragma once

#include <string>
#include <vector>

#include "engine/document/edits.h"
#include "engine/document/seam_files/drawing.h"

namespace pontata {

struct BringOptions {
  bool hug = false;       // let the lines follow the picture's contours and existing seams between their points
  bool take = false;      // overlap goes to what is brought in; otherwise it stays with what is there
  bool skip_bad = false;  // leave out what cannot be brought in, instead of refusing everything
  double snap_m = 5e-4;   // m of chart: lines nearer than this to seams that are there are brought on to them
};

struct SeamsBrought : Edited {
  struct Made {
    GiornataId id;
    std::string place;  // of its path in the drawing
    double area_m2 = 0;
    bool overlap_given_up = false;  // part of it lay on giornate that keep it
    std::vector<OutlineResult::Dropped> dropped;
  };
  std::vector<Made> made;
  struct Divided {
    GiornataId id, new_id;
    std::string place;
  };
  std::vector<Divided> divided;
  struct ZoneMade {
    ZoneId id;
    std::string place;
  };
  std::vector<ZoneMade> zones;
  std::vector<Problem> left_out;   // `where` names the path
  std::vector<std::string> notes;  // the drawing's, and what of it is no seam
};

// Outlines become giornate in the drawing's order, one that lies inside another before it (after it, when they take);
// then open lines divide every giornata they cross. A hole of a path stays what it is. A path of several parts beside
// each other becomes as many giornate. Neighbours whose lines run within snap_m of each other share their seam. A
// drawing taken out by us and not changed since, brought on to a wall without giornate, gives the same rings, point by
// point, and is not snapped. Zones of such a drawing come in with kind, name, rate and subject; one that the wall has,
// or whose name a detail zone bears, is left out, which left_out tells. So are border and openings, with a note.
//
// Refuses, naming the path, what insert_outlines and divide_giornata refuse; a drawing wholly beside the wall or too
// small to be one (wrong unit); a line that crosses no giornata, or ends more than 3.9 mm inside one. Nothing changes
// then.
Result<SeamsBrought> bring_in_seams(const Document& doc, WallId wall, const Drawing& drawing,
                                    const BringOptions& options = {}, Progress* progress = nullptr);

}  // namespace pontata
