#include "engine/cartoon/page_text.h"

#include <cairo.h>
#include <fontconfig/fontconfig.h>

namespace pontata {
namespace {

bool has_font() {
  FcPattern* wanted = FcNameParse(reinterpret_cast<const FcChar8*>(kSheetFont));
  FcConfigSubstitute(nullptr, wanted, FcMatchPattern);
  FcDefaultSubstitute(wanted);
  FcResult result = FcResultNoMatch;
  FcPattern* found = FcFontMatch(nullptr, wanted, &result);
  FcChar8* family = nullptr;
  const bool same = found && FcPatternGetString(found, FC_FAMILY, 0, &family) == FcResultMatch &&
                    std::string_view(reinterpret_cast<const char*>(family)) == kSheetFont;
  if (found) FcPatternDestroy(found);
  FcPatternDestroy(wanted);
  return same;
}

}  // namespace

Outcome check_sheet_font() {
  if (has_font()) return Done{};
  return Problem{"the font DejaVu Sans, in which sheets are lettered, is not installed", "",
                 "Install the package fonts-dejavu-core."};
}

void set_letters_unhinted(cairo_t* cr) {
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(cr, options);
  cairo_font_options_destroy(options);
}

void set_sheet_font(cairo_t* cr, const TextStyle& style) {
  cairo_select_font_face(cr, kSheetFont, CAIRO_FONT_SLANT_NORMAL,
                         style.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(cr, style.size_mm);
}

double width_of(cairo_t* cr, std::string_view words, const TextStyle& style) {
  set_sheet_font(cr, style);
  cairo_text_extents_t extents;
  cairo_text_extents(cr, std::string(words).c_str(), &extents);
  return extents.x_advance;
}

TextRuler::TextRuler() {
  cairo_surface_t* nothing = cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1);
  cr_ = std::shared_ptr<cairo_t>(cairo_create(nothing), cairo_destroy);
  cairo_surface_destroy(nothing);
  set_letters_unhinted(cr_.get());
}

double TextRuler::width(std::string_view words, const TextStyle& style) const {
  return width_of(cr_.get(), printable(words), style);
}

std::string Pages::fitted(std::string_view words, const TextStyle& style, double width_mm) const {
  std::string out = printable(words);
  if (text_width(out, style) <= width_mm) return out;
  while (!out.empty() && text_width(out + "…", style) > width_mm) {
    while (out.size() > 1 && (static_cast<unsigned char>(out.back()) & 0xC0) == 0x80) out.pop_back();
    out.pop_back();
  }
  return out + "…";
}

std::string printable(std::string_view words) {
  std::string out;
  for (std::size_t i = 0; i < words.size();) {
    const auto c = static_cast<unsigned char>(words[i]);
    const std::size_t length = c < 0x80 ? 1 : c >= 0xF0 && c < 0xF5 ? 4 : c >= 0xE0 ? 3 : c >= 0xC2 ? 2 : 0;
    bool good = length > 0 && c < 0xF5 && i + length <= words.size();
    for (std::size_t k = 1; good && k < length; ++k) good = (static_cast<unsigned char>(words[i + k]) & 0xC0) == 0x80;
    if (good && length == 3) {
      const auto d = static_cast<unsigned char>(words[i + 1]);
      good = !(c == 0xE0 && d < 0xA0) && !(c == 0xED && d >= 0xA0);  // overlong, surrogates
    }
    if (good && length == 4) {
      const auto d = static_cast<unsigned char>(words[i + 1]);
      good = !(c == 0xF0 && d < 0x90) && !(c == 0xF4 && d >= 0x90);
    }
    if (!good)
      out += '?', ++i;
    else if (c < 0x20 || c == 0x7F)
      out += ' ', ++i;
    else
      out += words.substr(i, length), i += length;
  }
  return out;
}

}  // namespace pontata
