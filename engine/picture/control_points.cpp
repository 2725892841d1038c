#include "engine/picture/control_points.h"

namespace pontata {

Result<Fitted> fit_picture(const ChartedWall&, PictureSize, std::span<const ControlPoint>, const FitOptions&) {
  return Problem{"setting a picture by points is not ready", "the points", "Lay it by size and place."};
}

std::vector<std::string> in_words(const FitReport& report) { return report.warnings; }

}  // namespace pontata
