// Seam review: what is wrong with a layout before the plasterer starts, where, and what to do.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/calendar/calendar.h"
#include "engine/flatten/local_width.h"
#include "engine/picture/contours.h"

namespace pontata {

enum class Severity { note, warn, decide };

struct Finding {
  std::string rule;  // "too-large", "crosses-keep-whole", "thin-end", "off-contour", "drips-on-finished", "gap",
                     // "changed-since-cartoon"
  Severity severity = Severity::note;
  std::vector<GiornataId> giornate;
  Vec3 at{0, 0, 0};  // m, building
  ChartPoint chart;
  double value = 0, limit = 0;  // in the rule's unit
  std::string says, remedy;     // plain words with units
};

struct ReviewSettings {
  double tip_mm = 60;  // narrower than this is a thin end
  double tip_deg = 35;
  double contour_mm = 10;           // farther from a contour counts as off it
  double off_contour_share = 0.35;  // of a seam's length
  double splash_m = 0.5;            // sideways reach of drips and splashes below wet work
};

// What the last review found that is dear to find again (patches laid flat); kept by the caller between reviews. An
// entry is used only while wall, outline and limits are exactly the same, so that a stale one cannot change a finding.
struct ReviewCache {
  struct Thin {
    WallRef wall;
    std::vector<Ring> rings;
    double tip_mm = 0, tip_deg = 0;
    std::optional<ThinPlace> place;
    bool everywhere = false;  // nowhere wider than at this place
  };
  std::map<GiornataId, Thin> thin;
};

// Rules and their values:
//   too-large           hours of painting; limit: hours the plaster leaves. Decide. Silent without a rate.
//   crosses-keep-whole  metres of seam inside the zone, per zone and pair of giornate; limit 0. Decide. A seam on the
//                       zone's rim, or within 1 mm of it, does not enter.
//   thin-end            millimetres across, or degrees of a tip; limit: tip_mm, tip_deg. Warn. A giornata whose widest
//                       inscribed disc is narrower than tip_mm is thin everywhere: millimetres of that disc.
//   off-contour         share of a seam's surface length off every contour; limit: off_contour_share. Warn. Seams
//                       shorter than 0.1 m, or off by less, and the wall's border are left out. Silent without a
//                       picture.
//   drips-on-finished   metres of edge, measured across the fall, or spots of the later giornata from which water
//   reaches
//                       one finished on an earlier day; limit 0. Decide. Warn where both orders are as bad, and near
//                       the crown, where the surface is within 30 degrees of level and nobody can say which way a drop
//                       goes. Splashes to the side: warn, note for neighbours. Silent without a plan.
//   gap                 m^2 of a piece that no giornata owns, from 1 mm^2; limit 0.03 m^2: larger ones are work still
//   to
//                       be laid out. Note.
//   changed-since-cartoon  the outline changed after its cartoon was printed; value 1, limit 0. Warn.
// A hair of rest below 1 mm^2 between two giornate counts as their common seam.
struct ReviewInput {
  WallRef wall;
  const Network* network = nullptr;
  std::span<const Giornata> giornate;
  std::span<const Zone> zones;
  std::shared_ptr<const ContourField> contours;  // may be null
  const WallMeasure* measure = nullptr;
  std::span<const GiornataHours> hours;
  const Plan* plan = nullptr;
  std::shared_ptr<ReviewCache> cache{};  // may be null
  DrapedRef draped{};                    // may be null; seams where no picture shows are not judged by contours
};
// Sorted: decide first, then warnings, then notes; within one by rule and giornata. What is found before a Cancel is
// returned.
std::vector<Finding> review(const ReviewInput& input, const ReviewSettings& settings, Progress* progress = nullptr);

std::string_view severity_name(Severity s);  // "note", "warn", "decide"

}  // namespace pontata
