// Paints ImGui's draw lists with our own few OpenGL calls.
#pragma once

#include "editor/view/gl_objects.h"

struct ImDrawData;

namespace pontata {

class GuiPainter {
 public:
  // Precondition: a current OpenGL context and a current ImGui context whose fonts have been added.
  GuiPainter();
  // Uploads the font page again after the fonts changed.
  void load_fonts();
  // Into the bound framebuffer, whose size is the draw data's in px; y down.
  void paint(const ImDrawData& data);

 private:
  GlProgram program_;
  GlVertexArray array_;
  GlBuffer vertices_, indices_;
  GlTexture fonts_;
};

}  // namespace pontata
