// Letters on pages: the one font, its widths, words made fit for a line.
#pragma once

#include <memory>
#include <string>

#include "engine/cartoon/page.h"

typedef struct _cairo cairo_t;

namespace pontata {

inline constexpr const char* kSheetFont = "DejaVu Sans";
inline constexpr double kCapitals = 0.729;  // height of its capitals to the em, from the font's own tables

// Refuses when the font is not installed.
Outcome check_sheet_font();

// Letters are set by their own shape, not fitted to dots, so that every size measures alike.
void set_letters_unhinted(cairo_t* cr);
void set_sheet_font(cairo_t* cr, const TextStyle& style);
// mm, when `cr` draws in mm.
double width_of(cairo_t* cr, std::string_view words, const TextStyle& style);

// Measures words where there is no page.
class TextRuler {
 public:
  TextRuler();
  double width(std::string_view words, const TextStyle& style) const;  // mm

 private:
  std::shared_ptr<cairo_t> cr_;
};

}  // namespace pontata
