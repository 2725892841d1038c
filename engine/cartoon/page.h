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

// A document of pages in one file. Text is DejaVu Sans, embedded; the file asks viewers to print without scaling and
// carries no dates.
class PdfPages {
 public:
  // Refuses when the file cannot be made or the font is missing.
  static Result<PdfPages> create(const std::string& path, const std::string& title);
  // The same drawing as a PNG of one page, `dpi` dots an inch. A second page is a broken precondition.
  static Result<PdfPages> create_png(const std::string& path, double dpi);
  PdfPages(PdfPages&&) noexcept;
  PdfPages& operator=(PdfPages&&) noexcept;
  ~PdfPages();

  // Ends the page before and starts one. Sides below 5.08 m (ISO 32000-1, annex C: 14,400 units).
  void begin_page(double width_mm, double height_mm);
  int pages() const;

  void line(Vec2 a, Vec2 b, const Stroke& stroke);
  void path(std::span<const Vec2> points, bool closed, const Stroke& stroke);
  void rectangle(Vec2 lower_left, Vec2 size, const Stroke& stroke);
  void fill(std::span<const std::vector<Vec2>> rings, Colour colour);  // even-odd
  void fill_rectangle(Vec2 lower_left, Vec2 size, Colour colour);
  void text(Vec2 at, std::string_view words, const TextStyle& style);       // UTF-8; `at` is on the baseline
  double text_width(std::string_view words, const TextStyle& style) const;  // mm
  // `words`, shortened with an ellipsis to fit `width_mm`.
  std::string fitted(std::string_view words, const TextStyle& style, double width_mm) const;
  // Kept as a JPEG.
  void picture(const Image& image, Vec2 lower_left, Vec2 size);

  // What follows is drawn only inside; ends with unclip. Clips may be nested.
  void clip_rectangle(Vec2 lower_left, Vec2 size);
  void unclip();

  // Writes the file. Nothing may be drawn afterwards.
  Outcome finish();

 private:
  struct State;
  explicit PdfPages(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

// Valid UTF-8 in one line: broken bytes become '?', control characters spaces.
std::string printable(std::string_view words);

}  // namespace pontata
