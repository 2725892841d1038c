// Seams taken up and laid along other courses at once, with what meets what unchanged. Internal to engine/seams.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "engine/chart/chart.h"
#include "engine/seams/network_editor.h"
#include "engine/seams/seam_hold.h"
#include "engine/seams/seam_names.h"

namespace pontata {

// A stretch of seam to be laid, with the faces it is to part.
struct Course {
  std::vector<LatticePoint> points;
  FaceId left{kNone}, right{kNone};
  bool rim = false;  // part of a rim that stays where it is and only gains or loses the ends of other seams
};

struct Recourse {
  std::vector<SeamId> lifted;
  std::vector<Course> laid;
  struct Held {
    std::int64_t area = 0;             // kAreaUnit, along the course
    std::vector<LatticePoint> course;  // of the border, or of a rim that keeps its area
  };
  std::vector<Held> held;
  std::unordered_map<LatticePoint, VertexId> met;  // where a vertex that moves comes to lie

  void lay(std::vector<LatticePoint> points, FaceId left, FaceId right) {
    laid.push_back({std::move(points), left, right, false});
  }
};

// What the refusals call giornate and places.
struct MoveWords {
  const Chart* chart = nullptr;
  SeamHold hold;
  SeamNames names;

  // Why the seams of a face stay, where its giornata is held.
  std::optional<Problem> held(const Network& network, FaceId f, LatticePoint at) const;
  std::string name(GiornataId id) const;                               // "giornata 7", "the free wall"
  std::string between(const Network& network, HalfEdgeId seam) const;  // "the seam between giornata 3 and giornata 5"
};

// Lays the plan and proves that nothing else changed: seams meet only at their ends and keep half a pitch from each
// other's; about every end of what was laid the same faces follow one another as before; every face keeps its rims, and
// no island or place of another seam changed sides (the parity of each against what the face gained and lost); no
// giornata falls below 1 cm^2. Refuses with the place otherwise, and where a giornata whose rim moves is held.
// Precondition: the courses run between the ends of what was lifted. `touched`: giornate whose rim moved.
struct Relaid {
  Network network;
  std::vector<GiornataId> touched;
};
Result<Relaid> lay_anew(const Network& network, const Recourse& plan, const EdgeMeter& meter, const MoveWords& words);

// Signed area of a half-edge's seam, kAreaUnit.
std::int64_t area_along(const Network& network, HalfEdgeId h);

}  // namespace pontata
