// The cartoon: every giornata at true size over as many sheets as needed, as PDF, SVG or DXF, with a key plan and day
// sheets as PDF.
//
// Lies left of document/: it takes plain inputs (CartoonInput), which document/flow fills.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/calendar/calendar.h"
#include "engine/cartoon/print_choice.h"
#include "engine/flatten/flattening.h"
#include "engine/picture/draped.h"
#include "engine/picture/squares.h"
#include "engine/plaster/mortar.h"
#include "engine/plaster/putty.h"
#include "engine/seams/network.h"

namespace pontata {

struct Paper {
  std::string name;
  double width_mm = 0, height_mm = 0;  // a roll: its width, and its greatest sheet length as height
  bool roll = false;
};
// A4 A3 A2 A1 A0 (ISO 216) roll610 roll914 (trade sizes).
Result<Paper> paper_named(std::string_view name);

struct CartoonGiornata {
  GiornataId id;
  int number = 0;
  std::string part{};  // "a", "b", ... of one split after its cartoon was printed
  std::string name;
  std::string note{};
  GiornataMeasure measure;
  PlannedDay day;
  GiornataNeed need;
  std::vector<GiornataId> meets_finished;
  std::vector<GiornataId> stays_open;
  bool open_to_rest = false;
  std::vector<GiornataId> one_wet{};     // neighbours painted the same day, no edge between them
  std::vector<std::string> meets_walls;  // "meets wall apse here: 1.20 m (giornata 7)", one line a wall
  std::vector<Ring> rings;
};
struct CartoonWall {
  std::string name;
  WallRef wall;
  const Network* network = nullptr;
  DrapedRef draped;       // its pictures; may be null
  double squaring_m = 0;  // side of the squares for squaring up; 0: none
  std::shared_ptr<const std::vector<std::vector<ChartPoint>>> contours{};  // of the pictures, as lines; may be null
  std::vector<Zone> zones{};
  double lines_step_m = 1;              // between the lines snapped on the wall
  std::optional<double> springing_m{};  // height in the building, where the wall's shape tells it
  std::vector<CartoonGiornata> giornate{};
  bool old_plaster = false;  // old plaster or paint lies here: the caution stands on every day sheet
};
struct CartoonInput {
  std::string project;  // file name without folder
  std::vector<CartoonWall> walls;
  CalendarSettings calendar;
  PlasterSettings plaster;
  std::vector<PuttyBatch> putty{};  // tubs noted on the job
  std::vector<GiornataId> only;  // empty: all
  bool trial = false;            // the sheets say that this is a trial print: numbers may still change
  PlanChoice plan{};
};
enum class CartoonFormat { pdf, svg, dxf };

struct CartoonOptions {
  Paper paper;
  double overlap_mm = 15;
  int picture_dpi = 100;
  double relief_mm = 1.5;  // a pattern that is off by more is cut
  CartoonFormat format = CartoonFormat::pdf;
  PrintChoice print{};
  // Whether a file may be written over; asked for each before the first appears. Empty: all may.
  std::function<Outcome(const std::string& path)> may_write{};
};

struct CartoonReport {
  struct Row {
    GiornataId id;
    int number = 0;
    std::string part{};
    int sheets = 0;
    double paper_m2 = 0;
    double roll_m = 0;  // cut from a roll; 0 on sheets
    double max_strain = 0;
    std::optional<double> least_strain;
    double misfit_mm = 0;
    int relief_cuts = 0;
    double seam_mismatch_mm = 0;
    double worst_line_mm = 0;  // greatest |printed - surface| length of a straight line on the paper
    // Of the printed pattern (engine/flatten/flattening.h).
    double most_stretched = 0, most_shrunk = 0, mean_strain = 0, outline_mm_per_m = 0;
  };
  int sheets = 0;
  double paper_m2 = 0, roll_m = 0;  // of all sheets
  int incision_sheets = 0;          // of the incision copy, among `sheets`
  int sinopia_sheets = 0;           // without their title pages, among `sheets`
  std::vector<Row> giornate;
  std::vector<std::string> files;  // written, in order
};

// Writes into folder `out` (made when missing) the sheets of all giornate in working order, key-plan.pdf and
// key-plan.png, day-sheets.pdf, book.pdf; and where they are asked for incision.pdf and sinopia-N.pdf for each pontata
// N (in other formats incision-giornata-7-1.svg, sinopia-2-giornata-7-1.svg and so on). Sheets are cartoon.pdf; or
// giornata-7-1.svg, giornata-7-2.svg, ..., one a sheet; or giornata-7.dxf, one a giornata: a cutter's own program knows
// its bed and pages what is larger, so patterns are whole there, whatever the paper. Files appear only when all of them
// were made; then SVG sheets that an earlier, longer print of the same giornate left are gone. Patterns are made, drawn
// and dropped one by one. Same input, same bytes.
Result<CartoonReport> write_cartoon(const CartoonInput& input, const std::string& out, const CartoonOptions& options,
                                    Progress* progress = nullptr);

}  // namespace pontata
