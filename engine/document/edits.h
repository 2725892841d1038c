// Edits: functions from document to document, each validated or refused with a reason, each one undo step.
#pragma once

#include <span>
#include <string>

#include "engine/document/document.h"
#include "engine/seams/outline_edit.h"

namespace pontata {

struct Edited {
  DocumentRef document;
  std::string did;  // for the undo list, plain words: "Outline of giornata 7"
};

Result<Edited> add_shape_wall(const Document& doc, const std::string& name, const ShapeSpec& shape,
                              const Placement3& at, std::span<const Opening> openings = {});
Result<Edited> add_scan_wall(const Document& doc, const std::string& name, const std::string& path,
                             const std::string& unit, ScanOptions options, Progress* progress = nullptr,
                             std::span<const Opening> openings = {});
// Whether old plaster or paint lies on a scanned wall (nothing: not known). Yes puts the caution on every day sheet.
Result<Edited> set_old_plaster(const Document& doc, WallId wall, std::optional<bool> lies_here);
// A picture by size and place: add_picture, or lay_file where the wall has one of this name (picture_edits.h).
Result<Edited> drape_picture(const Document& doc, WallId wall, const std::string& path, ChartPoint at, double width_m,
                             double turn_deg, const std::string& name, Progress* progress = nullptr);

struct OutlineEdited : Edited {
  GiornataId id;
  int number = 0;  // as first given; the working order may give it another (numbering.h)
  double area_m2 = 0;
  std::vector<OutlineResult::Dropped> dropped;
  bool overlap_given_up = false;  // part of the outline lay on giornate drawn earlier
  HuggedLine line;                // as drawn; hugged_m is 0 when it was not hugged
};
// `hugged`: the points are corners of a line that follows contours; otherwise they are joined straight.
Result<OutlineEdited> draw_outline(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool hugged,
                                   const std::string& name, Progress* progress = nullptr);
// What the outline would be hugged to: the picture's contours (made when the document does not hold them yet) and
// seams. Refused where a picture was draped but cannot be read.
Result<HuggedLine> hug_line(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool closed,
                            Progress* progress = nullptr);
// The contours of a wall's pictures together; null without a picture that can be read.
std::shared_ptr<const ContourField> contours_of(const Document& doc, const WallItem& item,
                                                Progress* progress = nullptr);
// The same for a line already hugged (the window's stroke).
Result<OutlineEdited> commit_outline(const Document& doc, WallId wall, const HuggedLine& line, const std::string& name);

Result<Edited> remove_giornata(const Document& doc, GiornataId id);
// A seam across a giornata, both ends on its rim; the larger part keeps the id and number, the other gets the next.
struct DivideEdited : Edited {
  GiornataId new_id;
  int new_number = 0;  // as first given
  HuggedLine line;     // as drawn
};
Result<DivideEdited> divide(const Document& doc, GiornataId id, const std::vector<ChartPoint>& points, bool hugged,
                            Progress* progress = nullptr);
// Two giornate that share a seam become one, which keeps the first one's id, number and name.
Result<Edited> join(const Document& doc, GiornataId keep, GiornataId other);
Result<Edited> rename_giornata(const Document& doc, GiornataId id, const std::string& name);
Result<Edited> set_intonaco(const Document& doc, GiornataId id, std::optional<double> thickness_mm);
// A zone of the same kind with the same outline as one that is there is refused; so is a keep-whole one with a rate or
// a subject.
Result<Edited> add_zone(const Document& doc, WallId wall, ZoneKind kind, const std::vector<ChartPoint>& points,
                        const std::string& name, std::optional<double> rate, Subject subject = Subject::none);
Result<Edited> remove_zone(const Document& doc, ZoneId id);
// key and value as in the table of settings (settings_table.h), with rate.<zone>, old-plaster.<wall> and, of a
// giornata, giornata.<id>.mm, .name, .note and .state.
Result<Edited> set_parameter(const Document& doc, const std::string& key, const std::string& value);

}  // namespace pontata
