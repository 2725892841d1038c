// Owners of OpenGL objects: made with a current context, freed with it. Core profile 3.3 through libepoxy.
#pragma once

#include <epoxy/gl.h>

#include <initializer_list>
#include <span>
#include <string_view>
#include <utility>

namespace pontata {

// A name that is freed once; `Free` is a function object taking the name.
template <class Free>
class GlName {
 public:
  GlName() = default;
  explicit GlName(GLuint name) : name_(name) {}
  GlName(GlName&& o) noexcept : name_(std::exchange(o.name_, 0)) {}
  GlName& operator=(GlName&& o) noexcept {
    std::swap(name_, o.name_);
    return *this;
  }
  ~GlName() {
    if (name_) Free{}(name_);
  }
  GLuint get() const { return name_; }
  explicit operator bool() const { return name_ != 0; }

 private:
  GLuint name_ = 0;
};
struct FreeProgram {
  void operator()(GLuint n) const { glDeleteProgram(n); }
};
struct FreeBuffer {
  void operator()(GLuint n) const { glDeleteBuffers(1, &n); }
};
struct FreeVertexArray {
  void operator()(GLuint n) const { glDeleteVertexArrays(1, &n); }
};
struct FreeTexture {
  void operator()(GLuint n) const { glDeleteTextures(1, &n); }
};
struct FreeFramebuffer {
  void operator()(GLuint n) const { glDeleteFramebuffers(1, &n); }
};
struct FreeRenderbuffer {
  void operator()(GLuint n) const { glDeleteRenderbuffers(1, &n); }
};
using GlProgram = GlName<FreeProgram>;
using GlBuffer = GlName<FreeBuffer>;
using GlVertexArray = GlName<FreeVertexArray>;
using GlTexture = GlName<FreeTexture>;
using GlFramebuffer = GlName<FreeFramebuffer>;
using GlRenderbuffer = GlName<FreeRenderbuffer>;

// Program from two shaders of assets/shaders, each with `defines` (whole lines) after its version line. Throws
// std::runtime_error with the driver's log.
GlProgram make_program(std::string_view vertex, std::string_view fragment, std::string_view defines = "");
GLint uniform(const GlProgram& program, const char* name);

GlBuffer make_buffer();
GlVertexArray make_vertex_array();
GlTexture make_texture();

// Fills the buffer bound to `target`.
template <class T>
void fill_buffer(GLenum target, const GlBuffer& buffer, std::span<const T> data, GLenum usage) {
  glBindBuffer(target, buffer.get());
  glBufferData(target, static_cast<GLsizeiptr>(data.size_bytes()), data.empty() ? nullptr : data.data(), usage);
}

// A colour picture that can be drawn into and shown as a texture; 8-bit RGBA, with depth.
class DrawTarget {
 public:
  // Makes or remakes it for this size (px, at least 1 each). True when its contents were lost.
  bool resize(int width, int height);
  void bind() const;  // and sets the viewport
  GLuint texture() const { return colour_.get(); }
  int width() const { return width_; }
  int height() const { return height_; }

 private:
  GlFramebuffer frame_;
  GlTexture colour_;
  GlRenderbuffer depth_;
  int width_ = 0, height_ = 0;
};

}  // namespace pontata
