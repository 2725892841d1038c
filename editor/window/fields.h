// Fields for text, numbers and lengths; a comma is as good as a point.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

namespace pontata {

// One line of text. True when it was changed or, with `on_enter`, when Enter was pressed.
bool text_field(const char* label, std::string& text, bool on_enter = false, float width = 0);

// Several lines. True when it was changed or, with `on_enter`, when Enter was pressed; Ctrl and Enter is a new line
// then.
bool text_box(const char* label, std::string& text, float width, float height, bool on_enter = false);

// The text, cut short behind "…" where it is wider than the room in px.
std::string fitted(const std::string& text, float room);
// On what is left of the row; where it was cut short a tooltip tells all of it.
void fitted_text(const std::string& text);

// A name before a field that takes the rest of the row, as wide as `share` of it.
void field_name(const char* name, float share = 0.42f);

// Goes on in the row where a button (or, `marked`, a tick box or one of a choice) of this word still fits.
void same_row(const char* word, float gap = -1, bool marked = false);

// True once when the user left the last item after changing it, or pressed Enter in it.
bool left_field();

// Height for a table of so many rows with its headings: as much as it needs, at most this share of the room left.
float table_height(std::size_t rows, float share);

// Text for figures on screen: fixed decimals, decimal point, unit behind a thin space; "–" when unknown.
std::string shown(double value, int decimals, const char* unit);
std::string shown(std::optional<double> value, int decimals, const char* unit);

}  // namespace pontata
