// Sheets as one DXF drawing, for plotters and cutters.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/base/dxf_file.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/page_text.h"

namespace pontata {

// DXF of AC1015 in millimetres. Pages lie side by side, 100 mm apart. Layers are named by `name_of`, each in a colour
// of its own, so that a cutter can give each its tool. Lines are LWPOLYLINE, closed ones closed; dots are CIRCLE of
// their true size; words are TEXT as high as printed. There are no pictures, no fillings (black ones become their
// outlines), nothing white. What a clip parts is cut there.
class DxfPages final : public Pages {
 public:
  // Refuses when the font is missing, by whose letters words are fitted.
  static Result<DxfPages> create(const std::string& path);

  void begin_page(double width_mm, double height_mm) override;
  int pages() const override { return pages_; }
  void set_layer(Layer layer) override { layer_ = layer; }
  void path(std::span<const Vec2> points, bool closed, const Stroke& stroke) override;
  void fill(std::span<const std::vector<Vec2>> rings, Colour colour) override;
  void dots(std::span<const Vec2> centres, double diameter_mm, Colour colour) override;
  void text(Vec2 at, std::string_view words, const TextStyle& style) override;
  double text_width(std::string_view words, const TextStyle& style) const override;
  void picture(const Image&, Vec2, Vec2) override {}
  void clip_rectangle(Vec2 lower_left, Vec2 size) override;
  void unclip() override { clips_.pop_back(); }
  Outcome finish() override;

 private:
  explicit DxfPages(std::string path);
  struct Box {
    Vec2 low, high;
  };
  bool shows(Vec2 p) const;
  void polyline(std::span<const Vec2> points, bool closed, std::string_view line_type);

  std::string path_;
  TextRuler ruler_;
  DxfFrame frame_;
  DxfGroups groups_;
  unsigned model_ = 0;
  int pages_ = 0;
  Layer layer_ = Layer::frame;
  double left_ = 0, next_left_ = 0;  // of the page, of the next one
  Vec2 high_{0, 0};
  std::vector<Box> clips_;  // each within the one before
};

}  // namespace pontata
