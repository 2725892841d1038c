// Keeps a renderer in step with the document: what changed is uploaded, nothing else.
#pragma once

#include <memory>

#include "editor/view/renderer.h"
#include "engine/document/document.h"

namespace pontata {

class WallScene {
 public:
  explicit WallScene(std::unique_ptr<Renderer> renderer);

  // Shows this wall (null: nothing). True when anything to be drawn changed.
  bool show(std::shared_ptr<const WallItem> item, const DocumentRef& document, GiornataId chosen);
  // Draws into the bound framebuffer.
  void draw(const ViewFrame& frame);

 private:
  void load_surface();
  void load_picture();
  void load_network(const Document& document);

  std::unique_ptr<Renderer> renderer_;
  std::shared_ptr<const WallItem> item_;
  WallRef wall_;                          // whose surface is loaded
  std::shared_ptr<const Image> picture_;  // that is loaded
  DocumentRef document_;                  // whose states are drawn
  GiornataId chosen_;
  Vec3 origin_{0, 0, 0};
  std::vector<LabelledFace> faces_;
};

// Part of the chart that this view shows, and how finely its labels are wanted.
LabelWindow label_window(const ChartedWall& wall, const ViewFrame& frame);

}  // namespace pontata
