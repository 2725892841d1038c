// Edits of seams that are there already, each validated or refused with a reason, each one undo step. Places are chart
// metres; a held giornata (held_seams) is never changed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/document/edits.h"

namespace pontata {

struct SeamsEdited : Edited {
  std::vector<GiornataId> touched;  // giornate whose rim moved
  double most_m = 0;                // farthest that a place moved, m on the surface
  HuggedLine line;                  // the stretch as it lies now; hugged_m is 0 when it was not hugged
};

// See engine/seams/seam_moves.h for what each does and refuses.
Result<SeamsEdited> nudge(const Document& doc, WallId wall, ChartPoint from, Vec2 by, double reach_m);
Result<SeamsEdited> redraw(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool hugged,
                           Progress* progress = nullptr);
Result<SeamsEdited> commit_redraw(const Document& doc, WallId wall, const HuggedLine& line);
Result<SeamsEdited> move_node(const Document& doc, WallId wall, ChartPoint at, ChartPoint to);
Result<SeamsEdited> add_node(const Document& doc, WallId wall, ChartPoint at);
Result<SeamsEdited> remove_node(const Document& doc, WallId wall, ChartPoint at);

// An outline whose overlap goes to what is drawn (engine/seams/bite.h): a new giornata, or one that is there (`into`).
struct BiteEdited : OutlineEdited {
  struct Taken {
    GiornataId from;
    double area_m2 = 0;
  };
  std::vector<Taken> taken;
  std::vector<GiornataId> parts;  // pieces cut off that became giornate of their own
};
struct BiteChoice {
  std::optional<GiornataId> into;
  std::string name;  // of a new giornata
};
Result<BiteEdited> draw_over(const Document& doc, WallId wall, const std::vector<ChartPoint>& points, bool hugged,
                             const BiteChoice& choice = {}, Progress* progress = nullptr);
Result<BiteEdited> commit_over(const Document& doc, WallId wall, const HuggedLine& line, const BiteChoice& choice = {});

// What is to change of a zone; what is not given stays.
struct ZoneChange {
  std::optional<ZoneKind> kind;
  std::optional<std::string> name;
  std::optional<std::optional<double>> rate_m2_per_h;
  std::optional<std::vector<ChartPoint>> points;  // a new outline
  std::optional<Subject> subject = std::nullopt;
};
// A detail zone made keep-whole loses its rate and its subject. Refuses what add_zone refuses, and a change of nothing.
Result<Edited> change_zone(const Document& doc, ZoneId id, const ZoneChange& change);

// The corners of a zone's outline as add_zone would take them: over the cuts of the chart where it crosses some. Empty
// where it cannot be told from its parts. O(1) for a zone in one part.
std::vector<ChartPoint> zone_corners(const WallItem& item, const Zone& zone);

// For several giornate at once.
Result<Edited> set_intonaco(const Document& doc, std::span<const GiornataId> ids, std::optional<double> thickness_mm);
Result<Edited> set_state(const Document& doc, std::span<const GiornataId> ids, GiornataState state);
Result<Edited> set_note(const Document& doc, GiornataId id, const std::string& note);
// The first keeps id, number, name and note; together they must be one piece. Refuses held ones.
Result<Edited> join(const Document& doc, std::span<const GiornataId> ids);

}  // namespace pontata
