// Pages counted, and only some of them drawn.
#pragma once

#include <optional>

#include "engine/cartoon/page.h"
#include "engine/cartoon/page_text.h"

namespace pontata {

struct PageTally {
  int pages = 0;
  double paper_m2 = 0;
  double length_m = 0;  // of all pages' heights: what is cut from a roll
};

// Passes all pages on, or one, or none, and counts all of them.
class SelectedPages final : public Pages {
 public:
  static SelectedPages all(Pages& to) { return {&to, std::nullopt}; }
  static SelectedPages only(Pages& to, int page) { return {&to, page}; }  // counted from 0
  static SelectedPages none() { return {nullptr, -1}; }
  const PageTally& tally() const { return tally_; }

  bool wanted() const override { return passing_; }
  void begin_page(double width_mm, double height_mm) override {
    passing_ = to_ && (!only_ || *only_ == tally_.pages);
    ++tally_.pages;
    tally_.paper_m2 += 1e-6 * width_mm * height_mm;
    tally_.length_m += 1e-3 * height_mm;
    if (passing_) to_->begin_page(width_mm, height_mm);
  }
  int pages() const override { return tally_.pages; }
  void set_layer(Layer layer) override {
    if (passing_) to_->set_layer(layer);
  }
  void path(std::span<const Vec2> points, bool closed, const Stroke& stroke) override {
    if (passing_) to_->path(points, closed, stroke);
  }
  void fill(std::span<const std::vector<Vec2>> rings, Colour colour) override {
    if (passing_) to_->fill(rings, colour);
  }
  void dots(std::span<const Vec2> centres, double diameter_mm, Colour colour) override {
    if (passing_) to_->dots(centres, diameter_mm, colour);
  }
  void text(Vec2 at, std::string_view words, const TextStyle& style) override {
    if (passing_) to_->text(at, words, style);
  }
  double text_width(std::string_view words, const TextStyle& style) const override {
    return passing_ ? to_->text_width(words, style) : ruler_.width(words, style);
  }
  void picture(const Image& image, Vec2 lower_left, Vec2 size) override {
    if (passing_) to_->picture(image, lower_left, size);
  }
  void clip_rectangle(Vec2 lower_left, Vec2 size) override {
    if (passing_) to_->clip_rectangle(lower_left, size);
  }
  void unclip() override {
    if (passing_) to_->unclip();
  }
  // Nothing: the pages behind are finished by whoever made them.
  Outcome finish() override { return Done{}; }

 private:
  SelectedPages(Pages* to, std::optional<int> only) : to_(to), only_(only) {}
  Pages* to_;
  std::optional<int> only_;
  bool passing_ = false;
  PageTally tally_;
  TextRuler ruler_;
};

}  // namespace pontata
