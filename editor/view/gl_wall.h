// One wall's surface, picture, labels and lines as OpenGL objects.
#pragma once

#include "editor/view/gl_objects.h"
#include "editor/view/renderer.h"

namespace pontata {

class GlWall final : public WallCanvas {
 public:
  GlWall();
  void set_surface(const SurfaceLevels& surface) override;
  void set_picture(const PictureRaster* raster) override;
  void set_detail(ViewKind view, const PictureDetail& detail) override;
  void set_lines(LineLayer layer, const LinePieces& pieces) override;
  void set_labels(LabelUse use, const LabelMap& map) override;

  std::span<const SurfaceLevel> levels() const { return levels_; }
  const Vec3& origin() const { return origin_; }
  bool has_picture() const { return has_picture_; }
  // Texture coordinates of chart (u, v): its place times the first two, plus the others.
  const std::array<float, 4>& picture_map() const { return picture_map_; }
  // `quick`: between two sizes of the picture the nearer is taken, not a blend of both.
  void bind_picture(bool quick) const;
  struct Detail {
    GlTexture texture;
    LabelWindow window;
  };
  const Detail& detail(ViewKind view) const { return details_[static_cast<std::size_t>(view)]; }

  struct Labels {
    GlTexture texture;
    LabelWindow window;
    unsigned states = 0;  // as LabelMap::states
  };
  const Labels& labels(LabelUse use) const { return labels_[static_cast<std::size_t>(use)]; }

  // Draws the level's pieces that `wanted` says yes to; the number of their triangles.
  template <class Wanted>
  std::size_t draw_pieces(std::size_t level, const Wanted& wanted) const {
    runs_.clear();
    for (const SurfacePiece& piece : levels_[level].pieces)
      if (wanted(piece)) add_run(piece);
    return draw_runs();
  }
  bool has_lines(LineLayer layer) const { return layers_[static_cast<std::size_t>(layer)][0].count > 0; }
  // `fewer`: joined to longer pieces, true to kFewerLinesM.
  void draw_lines(LineLayer layer, bool fewer) const;
  static constexpr double kFewerLinesM = 0.002, kStraightM = 1e-5;

 private:
  struct Run {
    std::uint32_t first, count;
  };
  void add_run(const SurfacePiece& piece) const;
  std::size_t draw_runs() const;

  GlVertexArray surface_;
  GlBuffer vertices_, indices_;
  std::vector<SurfaceLevel> levels_;
  Vec3 origin_{0, 0, 0};
  GlTexture picture_;
  bool has_picture_ = false;
  std::array<float, 4> picture_map_{};
  int across_ = 0, up_ = 0, left_out_ = 0;  // squares; finest copies that the device cannot hold
  void make_room(const PictureRaster& raster);
  std::array<Detail, 2> details_;
  std::array<Labels, 2> labels_;
  struct LineBuffer {
    GlVertexArray array;
    GlBuffer pieces;
    std::size_t count = 0;
    void set_up();
  };
  using Layer = std::array<LineBuffer, 2>;  // as they are, and fewer
  std::array<Layer, kLineLayers> layers_;
  mutable std::vector<Run> runs_;  // room for draw_pieces
};

}  // namespace pontata
