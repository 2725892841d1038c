// Keeps a renderer in step with the document: what changed is uploaded, nothing else.
#pragma once

#include <memory>
#include <span>

#include "editor/view/level_maker.h"
#include "editor/view/renderer.h"
#include "engine/document/document.h"

namespace pontata {

using Walls = std::vector<std::shared_ptr<const WallItem>>;

class WallScene {
 public:
  // `wake` is called, from another thread, when the levels of detail of a large wall are ready. Without it none are
  // made and every frame draws the true surface.
  explicit WallScene(std::unique_ptr<Renderer> renderer, std::function<void()> wake = {});

  // Shows these walls of the document. The chosen wall is drawn at full strength and the others quieter; without one
  // (an id of none of them) all are at full strength. True when anything to be drawn changed.
  bool show(const Walls& walls, const DocumentRef& document, WallId chosen_wall, GiornataId chosen);
  // Takes up levels of detail that are ready; call once a frame. Nothing has to be drawn again for them.
  void take_levels();
  void finish_levels();  // waits for them

  void clear();  // ground colour over the whole bound framebuffer
  // Draws into the bound framebuffer's viewport: all walls in 3D, the chosen one (or the first) flat.
  DrawnFrame draw(const ViewFrame& frame);

  Ball ball() const;  // round all walls

 private:
  struct Entry {
    std::shared_ptr<const WallItem> item;
    std::unique_ptr<WallCanvas> canvas;
    WallRef wall;                          // whose surface is loaded
    std::vector<PlacedRef> pictures;  // that are loaded
    Ball ball;
    struct Shown {
      GiornataId id;
      GiornataState state;
      bool chosen;
      bool operator==(const Shown&) const = default;
    };
    std::vector<Shown> giornate;  // that are loaded
    std::vector<LabelledFace> faces;
    Vec3 origin{0, 0, 0};
    LabelWindow whole, in_view;
    bool in_view_valid = false;
  };
  bool load(Entry& entry, const std::shared_ptr<const WallItem>& item, const Document& document, GiornataId chosen);
  void load_surface(Entry& entry, const WallRef& wall);
  void load_picture(Entry& entry, const Document& document);
  void load_network(Entry& entry, const Document& document, GiornataId chosen);
  WallLook look_of(Entry& entry, const ViewFrame& frame);
  WallCanvas::LabelUse labels_for(Entry& entry, const ViewFrame& frame);

  std::unique_ptr<Renderer> renderer_;
  std::unique_ptr<LevelMaker> maker_;
  std::vector<Entry> entries_;
  WallId chosen_wall_;
};

// Part of the chart that this view shows, and how finely its labels are wanted.
LabelWindow label_window(const ChartedWall& wall, const ViewFrame& frame);

}  // namespace pontata
