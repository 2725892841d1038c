// Sheets as SVG: a file for each page, in millimetres.
#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "engine/cartoon/page.h"
#include "engine/cartoon/page_text.h"

namespace pontata {

// SVG 1.1. Width and height in mm, one user unit is 1 mm, y down from the upper left. Each layer drawn in is one group,
// named by `name_of` as its id; groups lie over each other from picture to frame, and within one things lie in the
// order they were drawn. Text stays text, in DejaVu Sans or what stands in for it; pictures are JPEG within the file;
// nothing is fetched from elsewhere.
class SvgPages final : public Pages {
 public:
  // Gives the path for the next page's file.
  using NextFile = std::function<std::string()>;
  // Refuses when the font is missing, by whose letters words are fitted.
  static Result<SvgPages> create(NextFile next, const std::string& title);

  void begin_page(double width_mm, double height_mm) override;
  int pages() const override { return pages_; }
  void set_layer(Layer layer) override { layer_ = layer; }
  void path(std::span<const Vec2> points, bool closed, const Stroke& stroke) override;
  void fill(std::span<const std::vector<Vec2>> rings, Colour colour) override;
  void dots(std::span<const Vec2> centres, double diameter_mm, Colour colour) override;
  void text(Vec2 at, std::string_view words, const TextStyle& style) override;
  double text_width(std::string_view words, const TextStyle& style) const override;
  void picture(const Image& image, Vec2 lower_left, Vec2 size) override;
  void clip_rectangle(Vec2 lower_left, Vec2 size) override;
  void unclip() override;
  // The first page that could not be written is told here.
  Outcome finish() override;

 private:
  SvgPages(NextFile next, std::string title) : next_(std::move(next)), title_(std::move(title)) {}
  struct Group {
    std::string inside;
    std::vector<int> clips;  // open in it, outermost first
  };
  void emit(const std::string& element);
  void write_page();
  std::string data_of(std::span<const Vec2> points, bool closed) const;

  NextFile next_;
  std::string title_;
  TextRuler ruler_;
  int pages_ = 0;
  Vec2 size_{0, 0};
  Layer layer_ = Layer::frame;
  std::array<Group, kLayers> groups_;
  std::string clip_paths_;
  std::vector<int> clips_;  // in force
  int clip_count_ = 0;
  std::string path_;  // of the page begun
  std::string failed_;
};

}  // namespace pontata
