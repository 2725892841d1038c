// Draws one wall into a picture: a small interface, so that window logic can be tried without a graphics device.
#pragma once

#include <glm/mat4x4.hpp>
#include <memory>

#include "editor/view/camera.h"
#include "editor/view/label_map.h"
#include "editor/view/wall_drawing.h"
#include "engine/picture/image.h"
#include "engine/picture/placement.h"

namespace pontata {

enum class ViewKind { space, flat };

struct ViewFrame {
  ViewKind kind = ViewKind::space;
  int width = 1, height = 1;  // px
  double scale = 1;           // of line widths, for sharp screens
  FlatCamera flat;            // the one of `kind` is used
  OrbitCamera space;
  double fill = 0.45;       // share of the state colour over the picture, 0..1
  double pattern_m = 0.05;  // chart m between two marks of a pattern
};

class Renderer {
 public:
  virtual ~Renderer() = default;

  virtual void set_surface(const SurfaceDrawing& surface) = 0;
  // Null takes the picture away. Larger pictures than the device holds are reduced by halves.
  virtual void set_picture(const Image* image) = 0;
  virtual void place_picture(const PictureFrame& frame, const Image& image) = 0;
  virtual void set_lines(LineLayer layer, const LinePieces& pieces) = 0;
  virtual void set_labels(const LabelMap& map) = 0;

  // Draws into the bound framebuffer, over its whole viewport, ground colour and depth included.
  virtual void draw(const ViewFrame& frame) = 0;
};

// Needs a current OpenGL 3.3 core context, as long as the renderer lives. Throws std::runtime_error when the device
// cannot do what is needed.
std::unique_ptr<Renderer> make_gl_renderer();

// Picture coordinates 0..1 (down) of chart (u, v, 1), as the three columns of a matrix.
struct PictureMap {
  Vec2 per_u, per_v, at_origin;
};
PictureMap picture_map(const PictureFrame& frame, const Image& image);

// Distance between pattern marks, in chart m, that stands about 11 px apart at this scale; steps by powers of two.
double pattern_spacing(double metre_px, double scale);

}  // namespace pontata
