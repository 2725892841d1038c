// Keeps a renderer in step with the document: what changed is uploaded, nothing else.
#pragma once

#include <memory>
#include <span>

#include "editor/view/level_maker.h"
#include "editor/view/renderer.h"
#include "engine/document/document.h"
#include "engine/review/heat_line.h"

namespace pontata {

using Walls = std::vector<std::shared_ptr<const WallItem>>;
// What is shown on a wall beside its giornate.
struct ShownOnWall {
  DrapedRef draped;                                     // its pictures; null: none
  std::shared_ptr<const ContourField> contours;         // their contours as lines; null: not shown
  double squaring_m = 0;                                // side of the squares for squaring up; 0: none
  std::shared_ptr<const std::vector<HeatLine>> heat{};  // null: not shown
  std::shared_ptr<const std::vector<std::vector<ChartPoint>>> pointed{};  // lines pointed out; null: none
};
using ShownOnWallOf = std::function<ShownOnWall(WallId)>;

class WallScene {
 public:
  // `wake` is called, from another thread, when pictures or the levels of detail of a large wall are ready. Without it
  // no levels are made, every frame draws the true surface, and pictures are made at once.
  explicit WallScene(std::unique_ptr<Renderer> renderer, std::function<void()> wake = {});

  // Shows these walls of the document. The chosen wall is drawn at full strength and the others quieter; without one
  // (an id of none of them) all are at full strength. True when anything to be drawn changed.
  // Without `on_wall` the pictures are draped here, and nothing else is shown.
  bool show(const Walls& walls, const DocumentRef& document, WallId chosen_wall, std::span<const GiornataId> chosen,
            const ShownOnWallOf& on_wall = {});
  // Takes up what was made meanwhile; call once a frame. True when it has to be drawn again: pictures, not levels of
  // detail.
  bool take_made();
  void finish_made();  // waits for it

  void clear();  // ground colour over the whole bound framebuffer
  // Draws into the bound framebuffer's viewport: all walls in 3D, the chosen one (or the first) flat.
  DrawnFrame draw(const ViewFrame& frame);

  Ball ball() const;  // round all walls

 private:
  struct Entry {
    std::shared_ptr<const WallItem> item;
    std::unique_ptr<WallCanvas> canvas;
    WallRef wall;      // whose surface is loaded
    DrapedRef draped;  // that is shown or being made
    DrapedRef on_device;
    ShownTiles tiles;  // that the device holds
    bool making = false;
    std::shared_ptr<const ContourField> contours;  // whose lines are shown or being made
    double squaring_m = 0;
    WallRef squared;                                                      // the wall the squares were drawn on
    std::shared_ptr<const std::vector<HeatLine>> heat;                    // that is shown
    std::shared_ptr<const std::vector<std::vector<ChartPoint>>> pointed;  // likewise
    struct Detail {
      DrapedRef draped;
      LabelWindow window;
      bool making = false;
    };
    std::array<Detail, 2> details;  // by ViewKind
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
  bool load(Entry& entry, const std::shared_ptr<const WallItem>& item, const Document& document,
            std::span<const GiornataId> chosen);
  void load_surface(Entry& entry, const WallRef& wall);
  bool load_on_wall(Entry& entry, ShownOnWall on_wall);
  void load_squares(Entry& entry, double step_m);
  bool load_heat(Entry& entry, std::shared_ptr<const std::vector<HeatLine>> heat);
  bool load_pointed(Entry& entry, std::shared_ptr<const std::vector<std::vector<ChartPoint>>> pointed);
  bool load_contours(Entry& entry, std::shared_ptr<const ContourField> contours);
  bool load_pictures(Entry& entry, DrapedRef draped);
  void make_pictures(Entry& entry);
  bool apply(Entry& entry, MadePicture made);
  bool detail_for(Entry& entry, const ViewFrame& frame);
  void load_network(Entry& entry, const Document& document, std::span<const GiornataId> chosen);
  WallLook look_of(Entry& entry, const ViewFrame& frame);
  WallCanvas::LabelUse labels_for(Entry& entry, const ViewFrame& frame);

  std::unique_ptr<Renderer> renderer_;
  std::unique_ptr<LevelMaker> maker_;
  std::unique_ptr<PictureMaker> pictures_;
  std::vector<Entry> entries_;
  WallId chosen_wall_;
};

// Part of the chart that this view shows, and how finely its labels are wanted.
LabelWindow label_window(const ChartedWall& wall, const ViewFrame& frame);

}  // namespace pontata
