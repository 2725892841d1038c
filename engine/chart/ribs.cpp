#include "engine/chart/ribs.h"

namespace pontata {

std::shared_ptr<const WallRibs> find_ribs(const ChartedWall&, double) { return std::make_shared<const WallRibs>(); }

}  // namespace pontata
