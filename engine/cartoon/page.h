// PDF pages drawn in millimetres, origin at the lower left of the page, y up. The same calls give the same bytes.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "engine/base/result.h"
#include "engine/base/vec.h"
#include "engine/picture/image.h"

namespace pontata {

struct Colour {
  double red = 0, green = 0, blue = 0;  // 0..1
  bool operator==(const Colour&) const = default;
};
inline constexpr Colour kBlack{0, 0, 0}, kWhite{1, 1, 1}, kGrey{0.45, 0.45, 0.45};

struct Stroke {
  double width_mm = 0.25;
  Colour colour = kBlack;
  std::vector<double> dash_mm{};  // on, off, ...; empty: one line
  double casing_mm = 0;           // a white line this much wider on either side goes underneath
};

enum class Align { left, centre, right };

struct TextStyle {
  double size_mm = 3;  // height of the em
  bool bold = false;
  Align align = Align::left;
  double angle_deg = 0;  // counter-clockwise
  Colour colour = kBlack;
  double casing_mm = 0;  // white round the letters, so that they read over a picture
};

// What a drawn thing is, so that a reader may hide it and a cutter pick it out. Formats with layers keep them apart.
enum class Layer { frame, picture, lines, dots, outline, cuts, marks };
inline constexpr std::size_t kLayers = 7;
// "picture", "lines", ... as layers are named in every format.
std::string_view name_of(Layer layer);

// Pages that can be drawn on, whatever file they end up in.
class Pages {
 public:
  virtual ~Pages() = default;
  // Ends the page before and starts one. Sides below 5.08 m (ISO 32000-1, annex C: 14,400 units).
  virtual void begin_page(double width_mm, double height_mm) = 0;
  virtual int pages() const = 0;
  // Whether what is drawn on this page goes anywhere; what is costly to make may be left out when it does not.
  virtual bool wanted() const { return true; }
  // What follows belongs to this layer, until the next call; each page begins with Layer::frame. Clips may span
  // calls.
  virtual void set_layer(Layer layer) = 0;

  virtual void path(std::span<const Vec2> points, bool closed, const Stroke& stroke) = 0;
  virtual void fill(std::span<const std::vector<Vec2>> rings, Colour colour) = 0;  // even-odd
  // Round dots of one size.
  virtual void dots(std::span<const Vec2> centres, double diameter_mm, Colour colour) = 0;
  virtual void text(Vec2 at, std::string_view words, const TextStyle& style) = 0;  // UTF-8; `at` is on the baseline
  virtual double text_width(std::string_view words, const TextStyle& style) const = 0;  // mm
  // Kept as a JPEG; formats without pictures leave it out.
  virtual void picture(const Image& image, Vec2 lower_left, Vec2 size) = 0;
  // What follows is drawn only inside; ends with unclip. Clips may be nested.
  virtual void clip_rectangle(Vec2 lower_left, Vec2 size) = 0;
  virtual void unclip() = 0;
  // Writes the file. Nothing may be drawn afterwards.
  virtual Outcome finish() = 0;

  void line(Vec2 a, Vec2 b, const Stroke& stroke);
  void rectangle(Vec2 lower_left, Vec2 size, const Stroke& stroke);
  void fill_rectangle(Vec2 lower_left, Vec2 size, Colour colour);
  // `words`, shortened with an ellipsis to fit `width_mm`.
  std::string fitted(std::string_view words, const TextStyle& style, double width_mm) const;
};

// A document of pages in one file. Text is DejaVu Sans, embedded; the file asks viewers to print without scaling and
// carries no dates. Layers that were drawn in become optional content (ISO 32000-1, 8.11), all shown at first; a
// document that only has a frame has none.
class PdfPages final : public Pages {
 public:
  // Refuses when the file cannot be made or the font is missing.
  static Result<PdfPages> create(const std::string& path, const std::string& title);
  // The same drawing as a PNG of one page, `dpi` dots an inch. A second page is a broken precondition.
  static Result<PdfPages> create_png(const std::string& path, double dpi);
  // The same drawing in memory, no file: `image` gives it once the page is drawn.
  static Result<PdfPages> create_image(double dpi);
  Result<Image> image() const;
  PdfPages(PdfPages&&) noexcept;
  PdfPages& operator=(PdfPages&&) noexcept;
  ~PdfPages() override;

  void begin_page(double width_mm, double height_mm) override;
  int pages() const override;
  void set_layer(Layer layer) override;
  void path(std::span<const Vec2> points, bool closed, const Stroke& stroke) override;
  void fill(std::span<const std::vector<Vec2>> rings, Colour colour) override;
  void dots(std::span<const Vec2> centres, double diameter_mm, Colour colour) override;
  void text(Vec2 at, std::string_view words, const TextStyle& style) override;
  double text_width(std::string_view words, const TextStyle& style) const override;
  void picture(const Image& image, Vec2 lower_left, Vec2 size) override;
  void clip_rectangle(Vec2 lower_left, Vec2 size) override;
  void unclip() override;
  Outcome finish() override;

 private:
  struct State;
  explicit PdfPages(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

// Valid UTF-8 in one line: broken bytes become '?', control characters spaces.
std::string printable(std::string_view words);

}  // namespace pontata
