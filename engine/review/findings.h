// Seam review: what is wrong with a layout before the plasterer starts, where, and what to do.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/calendar/calendar.h"
#include "engine/picture/contours.h"

namespace pontata {

enum class Severity { note, warn, decide };

struct Finding {
  std::string rule;                 // "too-large", "crosses-keep-whole", "thin-end", "off-contour", "drips-on-finished"
  Severity severity = Severity::note;
  std::vector<GiornataId> giornate;
  Vec3 at{0, 0, 0};                 // m, building
  ChartPoint chart;
  double value = 0, limit = 0;      // in the rule's unit
  std::string says, remedy;         // plain words with units
};

struct ReviewSettings {
  double tip_mm = 60;               // narrower than this is a thin end
  double tip_deg = 35;
  double contour_mm = 10;           // farther from a contour counts as off it
  double off_contour_share = 0.35;  // of a seam's length
  double splash_m = 0.5;            // sideways reach of drips and splashes below wet work
};

struct ReviewInput {
  WallRef wall;
  const Network* network = nullptr;
  std::span<const Giornata> giornate;
  std::span<const Zone> zones;
  std::shared_ptr<const ContourField> contours;  // may be null
  const WallMeasure* measure = nullptr;
  std::span<const GiornataHours> hours;
  const Plan* plan = nullptr;
};
std::vector<Finding> review(const ReviewInput& input, const ReviewSettings& settings, Progress* progress = nullptr);

std::string_view severity_name(Severity s);  // "note", "warn", "decide"

}  // namespace pontata
