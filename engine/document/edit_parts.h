// What the edits have in common: finding, checking, and the copy that carries one change.
#pragma once

#include <memory>
#include <string>

#include "engine/document/edits.h"

namespace pontata {

Result<const WallItem*> item_of(const Document& doc, WallId wall);
Result<const Giornata*> giornata_of(const Document& doc, GiornataId id);

Problem bad_text(const std::string& what, const std::string& text);
Outcome check_wall_name(const Document& doc, const std::string& name);  // not empty, readable, not yet used
Outcome check_giornata_name(const std::string& name);                   // may be empty
inline constexpr std::size_t kLongestNote = 1000;                       // bytes
Outcome check_note(const std::string& note);                            // one line; may be empty

// Refuses a wall with a picture that was laid but could not be read; a wall without picture passes.
Outcome check_pictures(const WallItem& item);

// The wall's pictures that can be read, and the walls that may stand before it where one of them is seen from an eye.
DrapeInput drape_input(const Document& doc, const WallItem& item);

std::string absolute_path(const std::string& path);

// The document with `item` in place of the wall of its id.
std::shared_ptr<Document> with_wall(const Document& doc, std::shared_ptr<const WallItem> item);
// The same with another network of it; giornate whose printed cartoon no longer fits are flagged (giornata_records.h).
std::shared_ptr<Document> with_network(const Document& doc, const WallItem& item, Network network);

// add_zone (edits.h) of rings that lie on the wall, of which the first counts for the others too.
Result<Edited> add_zone(const Document& doc, WallId wall, ZoneKind kind, std::vector<Ring> rings,
                        const std::string& name, std::optional<double> rate, Subject subject = Subject::none);
// All is the same of the two zones.
bool same_zone(const Zone& a, const Zone& b);

// The least number no giornata bears, nor one taken away that a cartoon was printed of.
int next_number(const Document& doc);
// The id the next giornata gets; ids are never used again.
GiornataId next_giornata(const Document& doc);

}  // namespace pontata
