#include "editor/view/fonts.h"

#include <fontconfig/fontconfig.h>
#include <imgui.h>

#include <cmath>
#include <string>

namespace pontata {
namespace {

// Latin with its extensions, Greek (a few measures), dashes and quotes, superscripts, arrows, signs, shapes, a tick.
constexpr ImWchar kGlyphs[] = {0x0020, 0x024F, 0x0370, 0x03FF, 0x1E00, 0x1EFF, 0x2010, 0x2044, 0x2070, 0x209F, 0x20AC,
                               0x20AC, 0x2190, 0x21FF, 0x2200, 0x226F, 0x25A0, 0x25FF, 0x2713, 0x2717, 0};

std::string font_file(const char* family_and_style) {
  std::string file;
  FcPattern* pattern = FcNameParse(reinterpret_cast<const FcChar8*>(family_and_style));
  if (!pattern) return file;
  FcConfigSubstitute(nullptr, pattern, FcMatchPattern);
  FcDefaultSubstitute(pattern);
  FcResult result = FcResultNoMatch;
  if (FcPattern* match = FcFontMatch(nullptr, pattern, &result)) {
    FcChar8* name = nullptr;
    if (FcPatternGetString(match, FC_FILE, 0, &name) == FcResultMatch) file = reinterpret_cast<const char*>(name);
    FcPatternDestroy(match);
  }
  FcPatternDestroy(pattern);
  return file;
}

void add(const std::string& file, double px) {
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  const auto size = static_cast<float>(std::round(px));
  ImFontConfig config;
  config.OversampleH = 2;
  config.OversampleV = 1;
  if (!file.empty() && atlas.AddFontFromFileTTF(file.c_str(), size, &config, kGlyphs)) return;
  config.SizePixels = size;
  atlas.AddFontDefault(&config);
}

}  // namespace

void add_fonts(double scale, const FontSizes& sizes) {
  ImGui::GetIO().Fonts->Clear();
  const std::string file = font_file("DejaVu Sans:style=Book");
  add(file, sizes.text * scale);
  add(file, sizes.heading * scale);
}

}  // namespace pontata
