#include <algorithm>
#include <array>
#include <cmath>
#include <glm/gtc/type_ptr.hpp>
#include <stdexcept>

#include "editor/view/gl_objects.h"
#include "editor/view/picture_pyramid.h"
#include "editor/view/renderer.h"
#include "editor/view/state_colours.h"

namespace pontata {
namespace {

const void* offset(std::size_t bytes) { return reinterpret_cast<const void*>(bytes); }

void float_attribute(GLuint index, GLint count, std::size_t stride, std::size_t at) {
  glEnableVertexAttribArray(index);
  glVertexAttribPointer(index, count, GL_FLOAT, GL_FALSE, static_cast<GLsizei>(stride), offset(at));
}

struct LineStyle {
  LineLayer layer;
  Rgb core, casing;
  float core_px, casing_px;  // half widths
  float dash_m;
};
// Drawn in this order: dark core, light casing; the chosen one last.
constexpr std::array<LineStyle, kLineLayers> kStyles{{
    {LineLayer::border, rgb(0x6B6255), kCasing, 0.7f, 1.4f, 0},
    {LineLayer::detail, rgb(0x3B6B35), kCasing, 0.9f, 2.0f, 0.06f},
    {LineLayer::keep_whole, rgb(0x8A1F1F), kCasing, 1.1f, 2.4f, 0.03f},
    {LineLayer::seams, kSeamCore, kCasing, 0.9f, 2.1f, 0},
    {LineLayer::today, rgb(0x8A4A08), kCasing, 2.6f, 3.8f, 0},
    {LineLayer::chosen, kAction, kCasing, 2.1f, 4.0f, 0},
}};

class GlRenderer final : public Renderer {
 public:
  GlRenderer();
  void set_surface(const SurfaceDrawing& surface) override;
  void set_picture(const Image* image) override;
  void place_picture(const PictureFrame& frame, const Image& image) override;
  void set_lines(LineLayer layer, const LinePieces& pieces) override;
  void set_labels(const LabelMap& map) override;
  void draw(const ViewFrame& frame) override;

 private:
  void draw_surface(const ViewFrame& frame, const glm::mat4& clip);
  void draw_lines(const ViewFrame& frame, const glm::mat4& clip);
  void draw_layer(const LineStyle& style, bool casing, double scale);
  void set_state_colours();

  GlProgram surface_program_, line_program_;
  GlVertexArray surface_array_;
  GlBuffer surface_vertices_, surface_indices_;
  GLsizei index_count_ = 0;
  Vec3 origin_{0, 0, 0};
  GlTexture picture_, labels_;
  bool has_picture_ = false;
  std::array<float, 6> picture_map_{};
  LabelWindow window_;
  struct Layer {
    GlVertexArray array;
    GlBuffer pieces;
    GLsizei count = 0;
  };
  std::array<Layer, kLineLayers> layers_;
};

GlRenderer::GlRenderer()
    : surface_program_(make_program("surface.vert", "surface.frag")),
      line_program_(make_program("lines.vert", "lines.frag")),
      surface_array_(make_vertex_array()),
      surface_vertices_(make_buffer()),
      surface_indices_(make_buffer()) {
  for (Layer& layer : layers_) {
    layer.array = make_vertex_array();
    layer.pieces = make_buffer();
    glBindVertexArray(layer.array.get());
    glBindBuffer(GL_ARRAY_BUFFER, layer.pieces.get());
    float_attribute(0, 3, sizeof(LinePiece), offsetof(LinePiece, from_place));
    float_attribute(1, 3, sizeof(LinePiece), offsetof(LinePiece, to_place));
    float_attribute(2, 2, sizeof(LinePiece), offsetof(LinePiece, from_chart));
    float_attribute(3, 2, sizeof(LinePiece), offsetof(LinePiece, to_chart));
    float_attribute(4, 1, sizeof(LinePiece), offsetof(LinePiece, along));
    float_attribute(5, 3, sizeof(LinePiece), offsetof(LinePiece, facing));
    for (GLuint i = 0; i < 6; ++i) glVertexAttribDivisor(i, 1);
  }
  glBindVertexArray(surface_array_.get());
  glBindBuffer(GL_ARRAY_BUFFER, surface_vertices_.get());
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, surface_indices_.get());
  float_attribute(0, 3, sizeof(SurfaceVertex), offsetof(SurfaceVertex, place));
  float_attribute(1, 3, sizeof(SurfaceVertex), offsetof(SurfaceVertex, facing));
  float_attribute(2, 2, sizeof(SurfaceVertex), offsetof(SurfaceVertex, chart));
  set_picture(nullptr);
  set_labels({{}, {0}});
}

void GlRenderer::set_surface(const SurfaceDrawing& surface) {
  glBindVertexArray(surface_array_.get());
  fill_buffer(GL_ARRAY_BUFFER, surface_vertices_, std::span(surface.vertices), GL_STATIC_DRAW);
  fill_buffer(GL_ELEMENT_ARRAY_BUFFER, surface_indices_, std::span(surface.indices), GL_STATIC_DRAW);
  index_count_ = static_cast<GLsizei>(surface.indices.size());
  origin_ = surface.origin;
}

void GlRenderer::set_picture(const Image* image) {
  has_picture_ = image != nullptr;
  const Image white{1, 1, {255, 255, 255}};
  const Image* source = image ? image : &white;
  GLint limit = 1024;
  glGetIntegerv(GL_MAX_TEXTURE_SIZE, &limit);
  const auto reduced = reduced_to(*source, std::min(limit, 8192));
  if (reduced) source = &*reduced;
  picture_ = make_texture();
  glBindTexture(GL_TEXTURE_2D, picture_.get());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, source->width, source->height, 0, GL_RGB, GL_UNSIGNED_BYTE,
               source->rgb.data());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glGenerateMipmap(GL_TEXTURE_2D);
}

void GlRenderer::place_picture(const PictureFrame& frame, const Image& image) {
  const PictureMap m = picture_map(frame, image);
  const std::array<double, 6> values{m.per_u.x, m.per_u.y, m.per_v.x, m.per_v.y, m.at_origin.x, m.at_origin.y};
  for (std::size_t i = 0; i < 6; ++i) picture_map_[i] = static_cast<float>(values[i]);
}

void GlRenderer::set_lines(LineLayer layer, const LinePieces& pieces) {
  Layer& l = layers_[static_cast<std::size_t>(layer)];
  fill_buffer(GL_ARRAY_BUFFER, l.pieces, std::span(pieces), GL_DYNAMIC_DRAW);
  l.count = static_cast<GLsizei>(pieces.size());
}

void GlRenderer::set_labels(const LabelMap& map) {
  if (!labels_ || map.window.columns != window_.columns || map.window.rows != window_.rows) labels_ = make_texture();
  window_ = map.window;
  glBindTexture(GL_TEXTURE_2D, labels_.get());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_R8UI, window_.columns, window_.rows, 0, GL_RED_INTEGER, GL_UNSIGNED_BYTE,
               map.labels.data());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
}

void GlRenderer::set_state_colours() {
  std::array<float, 18> colours{};
  for (int state = 0; state < 5; ++state) {
    const Rgb c = state_look(static_cast<GiornataState>(state)).fill;
    const auto i = static_cast<std::size_t>(3 * (state + 1));
    colours[i] = static_cast<float>(c.r) / 255;
    colours[i + 1] = static_cast<float>(c.g) / 255;
    colours[i + 2] = static_cast<float>(c.b) / 255;
  }
  glUniform3fv(uniform(surface_program_, "state_colours"), 6, colours.data());
}

void GlRenderer::draw(const ViewFrame& frame) {
  glDisable(GL_SCISSOR_TEST);
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LEQUAL);
  glDepthMask(GL_TRUE);
  glClearColor(0.878f, 0.863f, 0.827f, 1);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  if (index_count_ == 0) return;
  const ViewSize size{static_cast<double>(frame.width), static_cast<double>(frame.height)};
  const glm::mat4 clip = frame.kind == ViewKind::flat ? frame.flat.clip(size) : frame.space.clip(size, origin_);
  draw_surface(frame, clip);
  draw_lines(frame, clip);
  glDepthMask(GL_TRUE);
}

void GlRenderer::draw_surface(const ViewFrame& frame, const glm::mat4& clip) {
  const GlProgram& p = surface_program_;
  const bool flat = frame.kind == ViewKind::flat;
  const Vec3 eye = frame.space.eye - origin_;
  glUseProgram(p.get());
  glUniformMatrix4fv(uniform(p, "clip_from_place"), 1, GL_FALSE, glm::value_ptr(clip));
  glUniform1i(uniform(p, "flat_view"), flat);
  glUniform3f(uniform(p, "eye"), static_cast<float>(eye.x), static_cast<float>(eye.y), static_cast<float>(eye.z));
  glUniformMatrix3x2fv(uniform(p, "picture_from_chart"), 1, GL_FALSE, picture_map_.data());
  glUniform1i(uniform(p, "has_picture"), has_picture_);
  glUniform1i(uniform(p, "picture"), 0);
  glUniform1i(uniform(p, "labels"), 1);
  glUniform4f(uniform(p, "label_window"), static_cast<float>(window_.low.x), static_cast<float>(window_.low.y),
              static_cast<float>(window_.size.x), static_cast<float>(window_.size.y));
  glUniform1f(uniform(p, "fill"), static_cast<float>(frame.fill));
  glUniform1f(uniform(p, "pattern_m"), static_cast<float>(frame.pattern_m));
  set_state_colours();
  glActiveTexture(GL_TEXTURE1);
  glBindTexture(GL_TEXTURE_2D, labels_.get());
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, picture_.get());
  glBindVertexArray(surface_array_.get());
  glDisable(GL_BLEND);
  glEnable(GL_CULL_FACE);
  glCullFace(GL_BACK);
  glDrawElements(GL_TRIANGLES, index_count_, GL_UNSIGNED_INT, nullptr);
  if (flat) return;
  glCullFace(GL_FRONT);  // the back: a veil that hides nothing
  glEnable(GL_BLEND);
  glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
  glDepthMask(GL_FALSE);
  glDrawElements(GL_TRIANGLES, index_count_, GL_UNSIGNED_INT, nullptr);
}

void GlRenderer::draw_lines(const ViewFrame& frame, const glm::mat4& clip) {
  const GlProgram& p = line_program_;
  const Vec3 eye = frame.space.eye - origin_;
  glUseProgram(p.get());
  glUniformMatrix4fv(uniform(p, "clip_from_place"), 1, GL_FALSE, glm::value_ptr(clip));
  glUniform1i(uniform(p, "flat_view"), frame.kind == ViewKind::flat);
  glUniform2f(uniform(p, "viewport"), static_cast<float>(frame.width), static_cast<float>(frame.height));
  glUniform3f(uniform(p, "eye"), static_cast<float>(eye.x), static_cast<float>(eye.y), static_cast<float>(eye.z));
  glUniform1f(uniform(p, "toward_eye"), static_cast<float>(2 * frame.space.near * 0.004));
  glDisable(GL_CULL_FACE);
  glEnable(GL_BLEND);
  glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  glDepthMask(GL_FALSE);
  for (const LineStyle& style : kStyles) {
    draw_layer(style, true, frame.scale);
    draw_layer(style, false, frame.scale);
  }
}

void GlRenderer::draw_layer(const LineStyle& style, bool casing, double scale) {
  const Layer& layer = layers_[static_cast<std::size_t>(style.layer)];
  if (layer.count == 0) return;
  const Rgb c = casing ? style.casing : style.core;
  const GlProgram& p = line_program_;
  glUniform4f(uniform(p, "tint"), static_cast<float>(c.r) / 255, static_cast<float>(c.g) / 255,
              static_cast<float>(c.b) / 255, 1.0f);
  glUniform1f(uniform(p, "half_width"), (casing ? style.casing_px : style.core_px) * static_cast<float>(scale));
  glUniform1f(uniform(p, "dash_m"), casing ? 0 : style.dash_m);
  glBindVertexArray(layer.array.get());
  glDrawArraysInstanced(GL_TRIANGLE_STRIP, 0, 4, layer.count);
}

}  // namespace

std::unique_ptr<Renderer> make_gl_renderer() { return std::make_unique<GlRenderer>(); }

PictureMap picture_map(const PictureFrame& frame, const Image& image) {
  const Vec2 size{image.width, image.height};
  const Vec2 at = to_pixel(frame, image, {0, 0}) / size;
  return {to_pixel(frame, image, {1, 0}) / size - at, to_pixel(frame, image, {0, 1}) / size - at, at};
}

double pattern_spacing(double metre_px, double scale) {
  return std::exp2(std::round(std::log2(11 * scale / std::max(metre_px, 1e-6))));
}

}  // namespace pontata
