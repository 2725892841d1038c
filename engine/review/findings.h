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
#include "engine/chart/ribs.h"
#include "engine/flatten/local_width.h"
#include "engine/picture/contours.h"

namespace pontata {

enum class Severity { note, warn, decide };

struct Finding {
  std::string rule;  // one of those below
  Severity severity = Severity::note;
  std::vector<GiornataId> giornate;
  Vec3 at{0, 0, 0};  // m, building
  ChartPoint chart;
  double value = 0, limit = 0;                       // in the rule's unit
  std::string says, remedy;                          // plain words with units
  std::vector<std::vector<ChartPoint>> stretches{};  // of seam that it is about, to be shown; empty where it is about a
                                                     // place or a whole giornata
  std::optional<std::string> accepted{};             // why it may stay (acceptance.h); nothing: open
};

// A place that the seams are looked at from.
struct EyePoint {
  std::string name;
  Vec3 at{0, 0, 0};  // m, building; the eye itself, some 1.6 m above the floor of whoever stands there
  bool operator==(const EyePoint&) const = default;
};

struct ReviewSettings {
  double tip_mm = 60;  // narrower than this is a thin end
  double tip_deg = 35;
  double contour_mm = 10;           // farther from a contour counts as off it
  double off_contour_share = 0.35;  // of a seam's length
  double splash_m = 0.5;            // sideways reach of drips and splashes below wet work
  double smooth_m = 0.3;            // a longer stretch of seam across smooth ground shows
  double smooth_round_mm = 80;      // ground with no contour so near to either side of the seam is smooth
  double meeting_mm = 20;           // seams that end on a seam from its two sides so near each other make a cross
  double line_m = 1.5;              // seams that run on in line for longer, past at least line_meetings others
  int line_meetings = 2;
  double line_deg = 12;          // of turn, over which seams are no longer in line
  double kink_deg = 70;          // a sharper turn of a seam, but for one that the picture's contour makes, is a kink
  double kink_mm = 40;           // length to either side that a kink is judged over
  double small_share = 0.25;     // of the day's hours: giornate that need less are too small
  double wide_m = 3;             // widest giornata along the deck that one painter serves; common practice, no source
  double reach_slack_m = 0.3;    // that a giornata may go beyond its deck's reach, up or down
  double rib_mm = 15;            // a seam nearer than this to a rib or arris runs along it
  double rib_share = 0.6;        // of a seam along a rib, or near it, that is let pass unsaid
  double joint_mm = 1;           // width of a joint as it shows
  double eye_arcmin = 1;         // a joint that looks wider from an eye point is resolved
  std::vector<EyePoint> eyes{};  // by name
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
//                       reaches one finished on an earlier day; limit 0. Decide. Warn where both orders are as bad, and
//                       near the crown, where the surface is within 30 degrees of level and nobody can say which way a
//                       drop goes. Splashes to the side: warn, note for neighbours. Silent without a plan.
//   gap                 m^2 of a piece that no giornata owns, from 1 mm^2; limit 0.03 m^2: larger ones are work still
//                       to be laid out, unless they are narrower than a thin end (area over half the rim). Note.
//   changed-since-cartoon  the outline changed after its cartoon was printed; value 1, limit 0. Warn.
// A hair of rest below 1 mm^2 between two giornate counts as their common seam.
//
// More rules, each by its own file (rules.h):
//   across-smooth       metres of the longest stretch across smooth ground; limit: smooth_m. Warn; decide where the
//                       zone there is one of faces. Silent without a picture.
//   four-meet           giornate that meet within meeting_mm of a place; limit 3. Warn.
//   in-line             metres that seams run on in line past line_meetings other seams or more; limit: line_m. Warn.
//   kink                degrees of turn within kink_mm to either side; limit: kink_deg. Note; silent where a contour of
//                       the picture turns likewise.
//   too-small           hours of painting; limit: small_share of the hours left. Note. Silent without a rate.
//   too-wide            metres straight across between places of its rim at one height; limit: wide_m. Warn.
//   out-of-reach        metres beyond what its deck's reach and slack allow, above or below; limit 0. Warn. Only with
//                       deck levels set.
//   crosses-deck        metres that a giornata goes on above the next higher deck; limit: reach_slack_m. Warn. Only
//                       with deck levels set.
//   along-rib           metres of seam within rib_mm of a rib over more than rib_share of its length; limit 0. Note.
//   across-rib          places where a seam crosses a rib; limit 0. Note.
//   lower-before-upper  metres that the middle of a later neighbour lies above an earlier one's; limit 0.5.
//                       Warn. Silent without a plan.
//   overlap-impossible  metres of seam between two that the plan has wet on one day; limit 0. Decide.
struct ReviewInput {
  WallRef wall;
  const Network* network = nullptr;
  std::span<const Giornata> giornate;
  std::span<const Zone> zones;
  std::shared_ptr<const ContourField> contours;  // may be null
  const WallMeasure* measure = nullptr;
  std::span<const GiornataHours> hours;
  const Plan* plan = nullptr;
  std::shared_ptr<ReviewCache> cache{};        // may be null
  DrapedRef draped{};                          // may be null; seams where no picture shows are not judged by contours
  std::shared_ptr<const WallRibs> ribs{};      // may be null: ribs are not judged
  const CalendarSettings* calendar = nullptr;  // may be null: reach and decks are not judged
};
// Sorted: decide first, then warnings, then notes; within one by rule and giornata. What is found before a Cancel is
// returned.
std::vector<Finding> review(const ReviewInput& input, const ReviewSettings& settings, Progress* progress = nullptr);

std::string_view severity_name(Severity s);  // "note", "warn", "decide"

}  // namespace pontata
