// The window's own look: plaster ground, dark text, one action colour.
#pragma once

#include <imgui.h>

#include "editor/view/state_colours.h"

namespace pontata {

// Sets the current ImGui context's style at this scale (1 = 100 %).
void apply_theme(double scale);

inline ImU32 to_im(Rgb c, int alpha = 255) { return IM_COL32(c.r, c.g, c.b, alpha); }
ImVec4 to_im4(Rgb c, float alpha = 1);

// Text in a quieter or warning colour.
void quiet_text(const char* text);
void warn_text(const char* text);
void heading(const char* text);

// A button that stands out: the step most likely wanted.
bool action_button(const char* label, float width = 0);

}  // namespace pontata
