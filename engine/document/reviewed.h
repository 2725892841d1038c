// What a review told, in words for people, and for how long it holds.
#pragma once

#include <span>
#include <string>

#include "engine/document/document.h"
#include "engine/review/from_floor.h"

namespace pontata {

// "giornata 3", "giornate 3 and 5", by their labels; empty for none.
std::string giornate_in_words(const Document& doc, std::span<const GiornataId> giornate);
// "off the picture's contours, giornate 3 and 5".
std::string finding_in_words(const Document& doc, const std::string& rule, std::span<const GiornataId> giornate);
// "between giornate 3 and 5", "between giornata 5 and the rest of the wall".
std::string parted_in_words(const Document& doc, const WorstStretch& stretch);

// The settings that findings rest on, as text; how seams look from the floor is none of theirs.
std::string findings_text(Settings settings);

// A review of `a` holds for `b` too: they differ in nothing that a review reads, but perhaps in what is accepted.
// O(giornate + settings) where they are not the same document.
bool reviewed_alike(const Document& a, const Document& b);

}  // namespace pontata
