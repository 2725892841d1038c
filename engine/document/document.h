// The document: one value that holds the whole project. Edits make new values (edits.h); heavy parts are shared.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/calendar/calendar.h"
#include "engine/cartoon/print_choice.h"
#include "engine/chart/charted_wall.h"
#include "engine/document/job.h"
#include "engine/giornate/giornata.h"
#include "engine/picture/contours.h"
#include "engine/plaster/mortar.h"
#include "engine/review/findings.h"
#include "engine/seams/hug.h"
#include "engine/seams/network.h"
#include "engine/seams/seam_hold.h"

namespace pontata {

struct ScanSource {
  std::string path;    // as given; stored relative to the project file
  std::string sha256;  // of the file when it was brought in
  ScanOptions options;
  std::string unit = "m";
  std::optional<bool> old_plaster;  // old plaster or paint lies here; nothing: not asked yet
};

struct WallItem {
  WallId id;
  std::string name;
  std::optional<ShapeSpec> shape;  // one of shape and scan
  std::optional<ScanSource> scan;
  Placement3 placement;
  std::vector<Opening> openings;
  WallRef wall;  // built from the source, openings cut out
  Network network;
  std::vector<Zone> zones;
  std::vector<PlacedRef> pictures;  // the lowest first

  const PlacedPicture* picture(PictureId picture_id) const;
  const PlacedPicture* picture_named(std::string_view picture_name) const;
};

// Squares in the wall's metres, for carrying a design over by eye (squaring up).
struct SquaringSettings {
  double step_m = 0;  // 0: none
};

struct CartoonSettings {
  std::string paper = "roll914";
  double overlap_mm = 15;
  int picture_dpi = 100;
  double relief_mm = 1.5;
  PrintChoice print;
  double lines_step_m = 1;  // between the level and plumb lines snapped on the wall
  PlanChoice plan;
};

struct Settings {
  PlasterSettings plaster;
  CalendarSettings calendar;
  ReviewSettings review;
  HugOptions hug;
  ContourSettings contours;
  SquaringSettings squaring;
  CartoonSettings cartoon;
};

struct Document {
  std::vector<std::shared_ptr<const WallItem>> walls;  // in the order they were added
  std::vector<Giornata> giornate;                      // index id - 1; removed ones stay with alive = false
  Settings settings;
  JobRef written;               // what the people on the job write down; null: nothing yet
  bool numbers_frozen = false;  // a cartoon was printed: giornate keep their numbers (giornata_records.h)
  std::uint32_t next_wall = 1, next_zone = 1, next_picture = 1;

  const WallItem* wall_named(std::string_view name) const;
  const WallItem* wall(WallId id) const;
  const Giornata* giornata(GiornataId id) const;  // alive ones only
  const Job& job() const;                         // `written`, or an empty one
};
using DocumentRef = std::shared_ptr<const Document>;

}  // namespace pontata
