// The parts of the Design page, each its own file. They hold what is typed.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>

#include "editor/stages/stage.h"
#include "engine/document/picture_edits.h"

namespace pontata {

// How a picture lies, in a few words: "3.200 × 2.133 m", "by 7 points", "seen from a place".
std::string lay_words(const ChartedWall& wall, const PlacedPicture& picture);

// A tooltip in lines of readable length for the last item.
void picture_tip(const char* text);

// The wall's pictures, the topmost first; which one is chosen, and its order.
class PictureList {
 public:
  void draw(Workbench& bench, const WallItem& item);

 private:
  void row(Workbench& bench, const WallItem& item, const PlacedRef& picture);
  void order_buttons(Workbench& bench, const WallItem& item);

  std::map<PlacedRef, std::string> words_;  // of the pictures on the wall now
};

// Name, file, fade, and which part of the chosen picture shows.
class PictureFacts {
 public:
  void draw(Workbench& bench, const PlacedRef& picture);

 private:
  void name_field(Workbench& bench, const PlacedPicture& picture);
  void file(Workbench& bench, const PlacedPicture& picture);
  void fade(Workbench& bench, const PlacedPicture& picture);
  void crop(Workbench& bench, const PlacedPicture& picture);

  PlacedRef followed_;
  std::string name_;
  std::optional<float> fading_;  // while the slider is held, percent
  std::array<std::string, 4> crop_;
};

// By size and place.
class SizeForm {
 public:
  void draw(Workbench& bench, const WallItem& item, const PlacedRef& picture);

 private:
  void follow(const BySize& size);
  Result<BySize> typed() const;
  void fields(Workbench& bench);
  void align(Workbench& bench, const WallItem& item, const PlacedRef& picture);
  void lay(Workbench& bench, const PlacedPicture& picture, const BySize& size);

  PlacedRef followed_;
  BySize::Lay lay_ = BySize::Lay::unrolled;
  std::string width_, u_, v_, turn_;
  PictureId beside_;  // which it is brought beside
  Align::Side side_ = Align::Side::right_of;
};

// A design made to be seen from one place.
class EyeForm {
 public:
  void draw(Workbench& bench, const PlacedRef& picture);

 private:
  void follow(const PlacedPicture& picture);
  void take_view(const Workbench& bench, const PlacedPicture& picture);
  Result<FromEye> typed() const;

  PlacedRef followed_;
  std::string eye_ = "0 0 1.6m", look_ = "0 1 1.6m", up_ = "0 0 1", angle_ = "60";
};

// How the chosen picture lies: one of the ways, each with its form.
class LayForms {
 public:
  void draw(Workbench& bench, const WallItem& item, const PlacedRef& picture);

 private:
  enum class Way { size, points, eye };
  void points(Workbench& bench, const PlacedRef& picture);

  PlacedRef followed_;
  Way way_ = Way::size;
  SizeForm size_;
  EyeForm eye_;
  DocumentRef told_of_;  // whose report is kept
  std::optional<FitReport> told_;
};

}  // namespace pontata
