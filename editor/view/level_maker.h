// Makes levels of detail on a thread of its own, one wall after the other.
#pragma once

#include <memory>

#include "editor/view/making_thread.h"
#include "editor/view/surface_levels.h"

namespace pontata {

struct LevelJob {
  WallRef wall;
  std::shared_ptr<const SurfaceDrawing> surface;
};
struct MadeLevels {
  WallRef wall;
  SurfaceLevels levels;
};
using LevelMaker = MakingThread<LevelJob, MadeLevels>;

inline MadeLevels make_levels(const LevelJob& job, const std::atomic<bool>& stop) {
  return {job.wall, make_levels(*job.surface, stop)};
}

}  // namespace pontata
