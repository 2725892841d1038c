#include "editor/view/gl_objects.h"

#include <array>
#include <stdexcept>
#include <string>

#include "editor/view/shader_text.h"

namespace pontata {
namespace {

GLuint compile(GLenum kind, std::string_view name, std::string_view defines) {
  const std::string_view text = shader_text(name);
  const std::size_t version_end = text.find('\n') + 1;
  const std::array<std::string_view, 3> parts{text.substr(0, version_end), defines, text.substr(version_end)};
  std::array<const char*, 3> begins{};
  std::array<GLint, 3> lengths{};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    begins[i] = parts[i].data();
    lengths[i] = static_cast<GLint>(parts[i].size());
  }
  const GLuint shader = glCreateShader(kind);
  glShaderSource(shader, 3, begins.data(), lengths.data());
  glCompileShader(shader);
  GLint ok = 0;
  glGetShaderiv(shader, GL_COMPILE_STATUS, &ok);
  if (ok) return shader;
  char log[1024] = "";
  glGetShaderInfoLog(shader, sizeof log, nullptr, log);
  throw std::runtime_error(std::string(name) + ": " + log);
}

}  // namespace

GlProgram make_program(std::string_view vertex, std::string_view fragment, std::string_view defines) {
  GlProgram program(glCreateProgram());
  for (const GLuint shader :
       {compile(GL_VERTEX_SHADER, vertex, defines), compile(GL_FRAGMENT_SHADER, fragment, defines)}) {
    glAttachShader(program.get(), shader);
    glDeleteShader(shader);
  }
  glLinkProgram(program.get());
  GLint ok = 0;
  glGetProgramiv(program.get(), GL_LINK_STATUS, &ok);
  if (ok) return program;
  char log[1024] = "";
  glGetProgramInfoLog(program.get(), sizeof log, nullptr, log);
  throw std::runtime_error(std::string(vertex) + ": " + log);
}

GLint uniform(const GlProgram& program, const char* name) { return glGetUniformLocation(program.get(), name); }

GlBuffer make_buffer() {
  GLuint name = 0;
  glGenBuffers(1, &name);
  return GlBuffer(name);
}
GlVertexArray make_vertex_array() {
  GLuint name = 0;
  glGenVertexArrays(1, &name);
  return GlVertexArray(name);
}
GlTexture make_texture() {
  GLuint name = 0;
  glGenTextures(1, &name);
  return GlTexture(name);
}

bool DrawTarget::resize(int width, int height) {
  if (frame_ && width == width_ && height == height_) return false;
  width_ = width;
  height_ = height;
  colour_ = make_texture();
  glBindTexture(GL_TEXTURE_2D, colour_.get());
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
  GLuint name = 0;
  glGenRenderbuffers(1, &name);
  depth_ = GlRenderbuffer(name);
  glBindRenderbuffer(GL_RENDERBUFFER, name);
  glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, width, height);
  glGenFramebuffers(1, &name);
  frame_ = GlFramebuffer(name);
  glBindFramebuffer(GL_FRAMEBUFFER, name);
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour_.get(), 0);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depth_.get());
  if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
    throw std::runtime_error("the drawing surface could not be made");
  return true;
}

void DrawTarget::bind() const {
  glBindFramebuffer(GL_FRAMEBUFFER, frame_.get());
  glViewport(0, 0, width_, height_);
}

}  // namespace pontata
