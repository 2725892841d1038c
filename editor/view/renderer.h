// Draws walls into a picture: a small interface, so that window logic can be tried without a graphics device.
#pragma once

#include <glm/mat4x4.hpp>
#include <memory>
#include <span>

#include "editor/view/label_map.h"
#include "editor/view/picture_raster.h"
#include "editor/view/sight.h"
#include "editor/view/surface_levels.h"
#include "editor/view/view_frame.h"

namespace pontata {

// One wall as the device holds it. Valid as long as its renderer.
class WallCanvas {
 public:
  virtual ~WallCanvas() = default;

  virtual void set_surface(const SurfaceLevels& surface) = 0;
  // Null takes the pictures away. A raster that is not whole changes the one before. Larger ones than the device holds
  // are reduced by halves.
  virtual void set_picture(const PictureRaster* raster) = 0;
  // Shown instead within its window while a WallLook asks for it.
  virtual void set_detail(ViewKind view, const PictureDetail& detail) = 0;
  virtual void set_lines(LineLayer layer, const LinePieces& pieces) = 0;
  // The whole chart, kept; or, finer, what a view at rest shows of it.
  enum class LabelUse { whole, in_view };
  virtual void set_labels(LabelUse use, const LabelMap& map) = 0;
};

// How one wall is drawn this time.
struct WallLook {
  const WallCanvas* wall = nullptr;
  double quiet = 0;  // 0: full strength; 1: as pale as the ground
  WallCanvas::LabelUse labels = WallCanvas::LabelUse::whole;
  bool detail = false;      // the picture's detail for this view is up to date
  double pattern_m = 0.05;  // chart m between two marks of a pattern
};

// What a frame took.
struct DrawnFrame {
  std::size_t triangles = 0;
  double error_px = 0;  // how far from the true surface was allowed
  bool true_surface = true;
  bool coarse_labels = false;  // finer ones would show at rest
};

class Renderer {
 public:
  virtual ~Renderer() = default;
  virtual std::unique_ptr<WallCanvas> make_wall() = 0;

  // Ground colour and depth over the whole bound framebuffer.
  virtual void clear() = 0;
  // Into the bound framebuffer's viewport, over what is there. A wall hides what is behind it where its painted side is
  // seen; from behind it is a thin veil, so that the eye may stand outside a vault and look in.
  virtual DrawnFrame draw(const ViewFrame& frame, std::span<const WallLook> walls) = 0;
};

// Needs a current OpenGL 3.3 core context, as long as the renderer lives. Throws std::runtime_error when the device
// cannot do what is needed.
std::unique_ptr<Renderer> make_gl_renderer();

// Distance between pattern marks, in chart m, that stands about 11 px apart at this scale; steps by powers of two.
double pattern_spacing(double metre_px, double scale);

}  // namespace pontata
