#include "editor/view/gui_painter.h"

#include <imgui.h>

#include <cstddef>

namespace pontata {
namespace {

const void* offset(std::size_t bytes) { return reinterpret_cast<const void*>(bytes); }

// Texture handles travel through ImGui as pointers.
GLuint texture_name(ImTextureID id) { return static_cast<GLuint>(reinterpret_cast<std::uintptr_t>(id)); }

void set_state(const ImDrawData& data, const GlProgram& program) {
  glDisable(GL_CULL_FACE);
  glDisable(GL_DEPTH_TEST);
  glEnable(GL_BLEND);
  glBlendEquation(GL_FUNC_ADD);
  glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  glEnable(GL_SCISSOR_TEST);
  glUseProgram(program.get());
  glActiveTexture(GL_TEXTURE0);
  glUniform1i(uniform(program, "page"), 0);
  glUniform4f(uniform(program, "screen"), data.DisplayPos.x, data.DisplayPos.y, data.DisplaySize.x, data.DisplaySize.y);
}

void draw_command(const ImDrawData& data, const ImDrawCmd& command) {
  const float left = command.ClipRect.x - data.DisplayPos.x, top = command.ClipRect.y - data.DisplayPos.y;
  const float right = command.ClipRect.z - data.DisplayPos.x, bottom = command.ClipRect.w - data.DisplayPos.y;
  if (right <= left || bottom <= top) return;
  glScissor(static_cast<GLint>(left), static_cast<GLint>(data.DisplaySize.y - bottom),
            static_cast<GLsizei>(right - left), static_cast<GLsizei>(bottom - top));
  glBindTexture(GL_TEXTURE_2D, texture_name(command.GetTexID()));
  glDrawElementsBaseVertex(GL_TRIANGLES, static_cast<GLsizei>(command.ElemCount),
                           sizeof(ImDrawIdx) == 2 ? GL_UNSIGNED_SHORT : GL_UNSIGNED_INT,
                           offset(command.IdxOffset * sizeof(ImDrawIdx)), static_cast<GLint>(command.VtxOffset));
}

}  // namespace

GuiPainter::GuiPainter()
    : program_(make_program("gui.vert", "gui.frag")),
      array_(make_vertex_array()),
      vertices_(make_buffer()),
      indices_(make_buffer()) {
  glBindVertexArray(array_.get());
  glBindBuffer(GL_ARRAY_BUFFER, vertices_.get());
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_.get());
  for (GLuint i = 0; i < 3; ++i) glEnableVertexAttribArray(i);
  const auto stride = static_cast<GLsizei>(sizeof(ImDrawVert));
  glVertexAttribPointer(0, 2, GL_FLOAT, GL_FALSE, stride, offset(offsetof(ImDrawVert, pos)));
  glVertexAttribPointer(1, 2, GL_FLOAT, GL_FALSE, stride, offset(offsetof(ImDrawVert, uv)));
  glVertexAttribPointer(2, 4, GL_UNSIGNED_BYTE, GL_TRUE, stride, offset(offsetof(ImDrawVert, col)));
  ImGui::GetIO().BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
  load_fonts();
}

void GuiPainter::load_fonts() {
  unsigned char* pixels = nullptr;
  int width = 0, height = 0;
  ImGui::GetIO().Fonts->GetTexDataAsRGBA32(&pixels, &width, &height);
  fonts_ = make_texture();
  glBindTexture(GL_TEXTURE_2D, fonts_.get());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, pixels);
  ImGui::GetIO().Fonts->SetTexID(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(fonts_.get())));
}

void GuiPainter::paint(const ImDrawData& data) {
  if (data.DisplaySize.x <= 0 || data.DisplaySize.y <= 0) return;
  set_state(data, program_);
  glBindVertexArray(array_.get());
  for (int n = 0; n < data.CmdListsCount; ++n) {
    const ImDrawList& list = *data.CmdLists[n];
    fill_buffer(GL_ARRAY_BUFFER, vertices_,
                std::span<const ImDrawVert>(list.VtxBuffer.Data, static_cast<std::size_t>(list.VtxBuffer.Size)),
                GL_STREAM_DRAW);
    fill_buffer(GL_ELEMENT_ARRAY_BUFFER, indices_,
                std::span<const ImDrawIdx>(list.IdxBuffer.Data, static_cast<std::size_t>(list.IdxBuffer.Size)),
                GL_STREAM_DRAW);
    for (const ImDrawCmd& command : list.CmdBuffer) {
      if (command.UserCallback)
        command.UserCallback(&list, &command);
      else
        draw_command(data, command);
    }
  }
  glDisable(GL_SCISSOR_TEST);
}

}  // namespace pontata
