// A picture of any size on screen: the tiles of its pyramid that the view needs, as textures, made a few at a time.
#pragma once

#include <array>
#include <map>

#include "editor/view/gl_objects.h"
#include "engine/base/vec.h"
#include "engine/picture/picture_source.h"

struct ImDrawList;

namespace pontata {

class PictureTiles {
 public:
  // Draws the part of the picture that falls between `low` and `high` (px of the window); its pixel (x, y) comes to
  // origin + (x, y) * zoom. Where a tile is not ready yet a coarser one shows. True when all is as fine as the screen
  // can show; otherwise another call goes on. At most 64 MiB of textures are kept. Precondition: a current OpenGL
  // context; the list is painted before the next call.
  bool draw(ImDrawList& list, const PictureRef& picture, Vec2 origin, double zoom, Vec2 low, Vec2 high);

 private:
  using Key = std::array<int, 3>;  // level, i, j
  struct Kept {
    GlTexture texture;
    long used = 0;  // the call that last drew it
  };
  struct View {
    Vec2 origin;
    double zoom;
  };
  bool ready(const Key& key);  // in the store, made now if there is time left
  void draw_part(ImDrawList& list, const View& view, const Key& wanted, const Key& from);
  void draw_tile(ImDrawList& list, const View& view, const Key& wanted);
  void drop_oldest();

  PictureRef picture_;
  std::map<Key, Kept> kept_;
  long calls_ = 0;
  double seconds_left_ = 0;
};

// The level of the pyramid to show at this zoom (px of screen per pixel of the picture): the coarsest whose pixels are
// no larger than a pixel of the screen.
int level_for_zoom(const PictureSource& picture, double zoom);

}  // namespace pontata
