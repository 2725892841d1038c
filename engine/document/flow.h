// The one file that knows the whole order: what follows from a document, and what an edit makes again.
//
//   wall -> draped pictures -> contours -> network -> measures -> hours -> plan -> open edges -> plaster -> findings
//
// Each step is cached by the identity of its inputs, so asking again after an edit makes again only what changed.
#pragma once

#include <memory>
#include <span>

#include "engine/document/document.h"
#include "engine/giornate/meetings.h"
#include "engine/review/from_floor.h"
#include "engine/review/layout_figures.h"

namespace pontata {

struct WallFigures {
  WallMeasure measure;
  std::vector<GiornataHours> hours;  // by id, like measure.giornate
};

// How a giornata's plaster meets a neighbour's along the seam they share. The first of two cuts its edge in the evening
// at a slant of about 45°, foot outward on the arriccio; the next is pressed against it, flush, never over paint.
enum class LapSide {
  cut_first,  // toward work still to come, or wall that no giornata covers
  pressed,    // against work that is there
  one_wet,    // both wet on one day: no edge between them
  not_told    // both are painted, on days that nobody wrote down
};
std::string_view lap_name(LapSide side);  // "cut first", "pressed against", "wet together", "not told"
struct Lap {
  GiornataId other;  // none: wall that no giornata covers
  LapSide side = LapSide::cut_first;
  double length_m = 0;
};

struct GiornataPlan {  // one row per giornata of the whole project, in working order
  GiornataId id;
  WallId wall;
  PlannedDay day;
  std::vector<GiornataId> meets_finished;  // neighbours done on an earlier day
  double open_edge_m = 0;                  // seam length still open on the day (neighbours later, or the rest)
  Result<GiornataNeed> need = GiornataNeed{};
  std::vector<GiornataId> stays_open;  // neighbours painted later
  bool open_to_rest = false;           // meets wall that no giornata covers
  std::vector<GiornataId> one_wet;     // neighbours painted on the same day, no edge between them
  std::vector<Lap> laps;               // by neighbour, the rest last
};

class Flow {
 public:
  Flow();
  ~Flow();
  // One caller at a time; results are shared and immutable.
  // All pictures of the wall as they lie on it; null without one that can be read. What did not change since the last
  // asking is taken over.
  std::shared_ptr<const Draped> draped(const Document& doc, WallId wall);
  // Contours of the draped pictures; null without a picture.
  std::shared_ptr<const ContourField> contours(const Document& doc, WallId wall, Progress* progress = nullptr);
  // Takes over what was made elsewhere for this state of the document, so that it is not made again: the pictures on a
  // wall, and their contours where they are known (null or empty where not).
  void take_over(const Document& doc, WallId wall, DrapedRef draped, std::shared_ptr<const ContourField> contours);
  std::shared_ptr<const WallFigures> figures(const Document& doc, WallId wall);
  std::shared_ptr<const Plan> plan(const Document& doc);
  // What each wall's giornate meet on the other walls; one list per wall, in the document's order.
  std::shared_ptr<const std::vector<std::vector<MeetsWall>>> meetings(const Document& doc);
  std::shared_ptr<const std::vector<GiornataPlan>> giornate(const Document& doc);
  // With those that were accepted marked.
  std::shared_ptr<const std::vector<Finding>> findings(const Document& doc, WallId wall, Progress* progress = nullptr);
  // The wall's seams from one eye point, the other walls standing between where they do.
  std::shared_ptr<const std::vector<SeamSight>> from_floor(const Document& doc, WallId wall, const EyePoint& eye,
                                                           Progress* progress = nullptr);
  LayoutFigures layout(const Document& doc, WallId wall, Progress* progress = nullptr);

 private:
  struct Cache;
  std::unique_ptr<Cache> cache_;
};

}  // namespace pontata
