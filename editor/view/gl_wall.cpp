#include "editor/view/gl_wall.h"

#include <algorithm>

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

// All sizes of the picture, bare.
void GlWall::make_room(const PictureRaster& raster) {
  GLint limit = 1024;
  glGetIntegerv(GL_MAX_TEXTURE_SIZE, &limit);
  limit = std::min(limit, 8192);
  across_ = raster.across, up_ = raster.up, left_out_ = 0;
  while (left_out_ + 1 < RasterSquare::kLevels && (std::max(across_, up_) * DrapedTile::kSide >> left_out_) > limit)
    ++left_out_;
  picture_ = make_texture();
  glBindTexture(GL_TEXTURE_2D, picture_.get());
  for (int k = left_out_; k < RasterSquare::kLevels; ++k) {
    const GLsizei side = DrapedTile::kSide >> k;
    const std::vector<std::uint8_t> bare(static_cast<std::size_t>(4 * across_ * side) *
                                         static_cast<std::size_t>(up_ * side));
    glTexImage2D(GL_TEXTURE_2D, k - left_out_, GL_RGBA8, across_ * side, up_ * side, 0, GL_RGBA, GL_UNSIGNED_BYTE,
                 bare.data());
  }
  sample(GL_LINEAR_MIPMAP_LINEAR, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAX_LEVEL, RasterSquare::kLevels - 1 - left_out_);
  const double width = raster.spacing * across_ * DrapedTile::kSide, height = raster.spacing * up_ * DrapedTile::kSide;
  picture_map_ = {static_cast<float>(1 / width), static_cast<float>(1 / height),
                  static_cast<float>(0.5 * raster.spacing / width), static_cast<float>(0.5 * raster.spacing / height)};
}

void GlWall::set_picture(const PictureRaster* raster) {
  has_picture_ = raster != nullptr;
  if (!raster) {
    picture_ = GlTexture{};
    return;
  }
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  if (raster->whole || !picture_) make_room(*raster);
  glBindTexture(GL_TEXTURE_2D, picture_.get());
  const std::vector<std::uint8_t> bare(4 * DrapedTile::kSide * DrapedTile::kSide);
  for (const RasterSquare& square : raster->squares)
    for (int k = left_out_; k < RasterSquare::kLevels; ++k) {
      const auto& pixels = square.levels[static_cast<std::size_t>(k)];
      const GLsizei side = DrapedTile::kSide >> k;
      glTexSubImage2D(GL_TEXTURE_2D, k - left_out_, square.across * side, square.up * side, side, side, GL_RGBA,
                      GL_UNSIGNED_BYTE, pixels.empty() ? bare.data() : pixels.data());
    }
}

void GlWall::set_detail(ViewKind view, const PictureDetail& detail) {
  Detail& to = details_[static_cast<std::size_t>(view)];
  to.texture = make_texture();
  to.window = detail.window;
  glBindTexture(GL_TEXTURE_2D, to.texture.get());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, to.window.columns, to.window.rows, 0, GL_RGBA, GL_UNSIGNED_BYTE,
               detail.rgba.data());
  sample(GL_LINEAR, GL_LINEAR);
}

void GlWall::bind_picture(bool quick) const {
  glBindTexture(GL_TEXTURE_2D, picture_.get());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, quick ? GL_LINEAR_MIPMAP_NEAREST : GL_LINEAR_MIPMAP_LINEAR);
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
