#include "editor/view/gl_wall.h"

#include <algorithm>

#include "editor/view/picture_pyramid.h"

namespace pontata {
namespace {

const void* offset(std::size_t bytes) { return reinterpret_cast<const void*>(bytes); }

void float_attribute(GLuint index, GLint count, std::size_t stride, std::size_t at) {
  glEnableVertexAttribArray(index);
  glVertexAttribPointer(index, count, GL_FLOAT, GL_FALSE, static_cast<GLsizei>(stride), offset(at));
}

void sample(GLint smaller, GLint larger) {
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, smaller);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, larger);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
}

}  // namespace

void GlWall::LineBuffer::set_up() {
  array = make_vertex_array();
  pieces = make_buffer();
  glBindVertexArray(array.get());
  glBindBuffer(GL_ARRAY_BUFFER, pieces.get());
  float_attribute(0, 3, sizeof(LinePiece), offsetof(LinePiece, from_place));
  float_attribute(1, 3, sizeof(LinePiece), offsetof(LinePiece, to_place));
  float_attribute(2, 2, sizeof(LinePiece), offsetof(LinePiece, from_chart));
  float_attribute(3, 2, sizeof(LinePiece), offsetof(LinePiece, to_chart));
  float_attribute(4, 1, sizeof(LinePiece), offsetof(LinePiece, along));
  float_attribute(5, 3, sizeof(LinePiece), offsetof(LinePiece, facing));
  for (GLuint i = 0; i < 6; ++i) glVertexAttribDivisor(i, 1);
}

GlWall::GlWall() : surface_(make_vertex_array()), vertices_(make_buffer()), indices_(make_buffer()) {
  for (Layer& layer : layers_)
    for (LineBuffer& buffer : layer) buffer.set_up();
  glBindVertexArray(surface_.get());
  glBindBuffer(GL_ARRAY_BUFFER, vertices_.get());
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_.get());
  float_attribute(0, 3, sizeof(SurfaceVertex), offsetof(SurfaceVertex, place));
  float_attribute(1, 3, sizeof(SurfaceVertex), offsetof(SurfaceVertex, facing));
  float_attribute(2, 2, sizeof(SurfaceVertex), offsetof(SurfaceVertex, chart));
}

void GlWall::set_surface(const SurfaceLevels& surface) {
  glBindVertexArray(surface_.get());
  fill_buffer(GL_ARRAY_BUFFER, vertices_, std::span(surface.drawing.vertices), GL_STATIC_DRAW);
  fill_buffer(GL_ELEMENT_ARRAY_BUFFER, indices_, std::span(surface.drawing.indices), GL_STATIC_DRAW);
  levels_ = surface.levels;
  origin_ = surface.drawing.origin;
}

void GlWall::set_picture(const Image* image) {
  has_picture_ = image != nullptr;
  picture_ = GlTexture{};
  if (!image) return;
  GLint limit = 1024;
  glGetIntegerv(GL_MAX_TEXTURE_SIZE, &limit);
  const auto reduced = reduced_to(*image, std::min(limit, 8192));
  const Image& source = reduced ? *reduced : *image;
  picture_ = make_texture();
  glBindTexture(GL_TEXTURE_2D, picture_.get());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, source.width, source.height, 0, GL_RGB, GL_UNSIGNED_BYTE, source.rgb.data());
  sample(GL_LINEAR_MIPMAP_LINEAR, GL_LINEAR);
  glGenerateMipmap(GL_TEXTURE_2D);
}

void GlWall::bind_picture(bool quick) const {
  glBindTexture(GL_TEXTURE_2D, picture_.get());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, quick ? GL_LINEAR_MIPMAP_NEAREST : GL_LINEAR_MIPMAP_LINEAR);
}

void GlWall::place_picture(const PictureFrame& frame, const Image& image) {
  const PictureMap m = pontata::picture_map(frame, image);
  const std::array<double, 6> values{m.per_u.x, m.per_u.y, m.per_v.x, m.per_v.y, m.at_origin.x, m.at_origin.y};
  for (std::size_t i = 0; i < 6; ++i) picture_map_[i] = static_cast<float>(values[i]);
}

void GlWall::set_lines(LineLayer layer, const LinePieces& pieces) {
  Layer& l = layers_[static_cast<std::size_t>(layer)];
  for (const bool coarse : {false, true}) {
    const LinePieces all = merged(pieces, coarse ? kFewerLinesM : kStraightM);
    fill_buffer(GL_ARRAY_BUFFER, l[coarse].pieces, std::span(all), GL_DYNAMIC_DRAW);
    l[coarse].count = all.size();
  }
}

void GlWall::set_labels(LabelUse use, const LabelMap& map) {
  Labels& l = labels_[static_cast<std::size_t>(use)];
  if (!l.texture || map.window.columns != l.window.columns || map.window.rows != l.window.rows)
    l.texture = make_texture();
  l.window = map.window;
  l.states = map.states;
  glBindTexture(GL_TEXTURE_2D, l.texture.get());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  // Coarser copies, so that a view from afar reads few and near bytes; labels are not blended.
  LabelMap copy;
  const LabelMap* level = &map;
  for (GLint k = 0;; ++k) {
    glTexImage2D(GL_TEXTURE_2D, k, GL_R8UI, level->window.columns, level->window.rows, 0, GL_RED_INTEGER,
                 GL_UNSIGNED_BYTE, level->labels.data());
    if (level->window.columns == 1 && level->window.rows == 1) break;
    copy = halved(*level);
    level = &copy;
  }
  sample(GL_NEAREST_MIPMAP_NEAREST, GL_NEAREST);
}

void GlWall::add_run(const SurfacePiece& piece) const {
  if (!runs_.empty() && runs_.back().first + runs_.back().count == piece.first)
    runs_.back().count += piece.count;
  else
    runs_.push_back({piece.first, piece.count});
}

std::size_t GlWall::draw_runs() const {
  glBindVertexArray(surface_.get());
  std::size_t drawn = 0;
  for (const Run& run : runs_) {
    glDrawElements(GL_TRIANGLES, static_cast<GLsizei>(run.count), GL_UNSIGNED_INT,
                   offset(run.first * sizeof(std::uint32_t)));
    drawn += run.count / 3;
  }
  return drawn;
}

void GlWall::draw_lines(LineLayer layer, bool fewer) const {
  const LineBuffer& l = layers_[static_cast<std::size_t>(layer)][fewer];
  glBindVertexArray(l.array.get());
  glDrawArraysInstanced(GL_TRIANGLE_STRIP, 0, 4, static_cast<GLsizei>(l.count));
}

}  // namespace pontata
