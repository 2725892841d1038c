// How a number, a whole number or a day goes on when it is dragged.
#pragma once

#include <optional>
#include <string>

namespace pontata {

enum class FieldKind { text, number, whole, date };

// The value so many steps on: a step is a twentieth of the number's own power of ten (8.0 goes by 0.05), a whole one
// for whole numbers, a day for dates; a tenth of that where `fine`. What is no number yet ("none", empty) counts from
// 0. Nothing for text, and for what is no date.
std::optional<std::string> stepped(const std::string& value, FieldKind kind, int steps, bool fine = false);

}  // namespace pontata
