// Lays a snapped line into a network: the seams it touches take their new courses, and the parts of the line that run
// where seams are wanted become seams. Internal to engine/seams.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "engine/seams/network_editor.h"
#include "engine/seams/network_snap.h"

namespace pontata {

using Stretch = std::pair<LatticePoint, LatticePoint>;  // directed
using Courses = std::map<SeamId, std::vector<LatticePoint>>;

// The line's stretches, each once in the direction it is mostly run; what is run as often back as forth is left out.
std::vector<Stretch> net_stretches(const std::vector<LatticePoint>& line, bool closed);

struct LaidLine {
  NetworkEditor editor;            // not settled yet
  std::vector<Stretch> fresh;      // new seams, all inside wanted faces
  std::vector<Stretch> shared;     // existing seams the line runs along, with a wanted face on a side
  std::set<GiornataId> elsewhere;  // owners of faces not wanted that part of the line lay in or had on its left
};

// Says for a face of the network before whether seams are wanted inside it.
using Wanted = std::function<bool(FaceId)>;

// nullopt on a contradiction between line and seams.
std::optional<LaidLine> lay_line(const Network& network, const EdgeMeter& meter, const Courses& courses,
                                 const std::vector<Stretch>& stretches, const Wanted& wanted);

// Lays only `fresh` and `shared` of `full` again, so that seams which nothing new meets keep their course. Gives `full`
// back where that is not possible.
LaidLine lay_lean(const Network& network, const EdgeMeter& meter, const Courses& courses, LaidLine full,
                  const Wanted& wanted);

}  // namespace pontata
