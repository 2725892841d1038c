#include "engine/cartoon/page.h"

#include <cairo-pdf.h>
#include <cairo.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <numbers>
#include <optional>
#include <stdexcept>

#include "engine/cartoon/jpeg.h"
#include "engine/cartoon/page_text.h"
#include "engine/cartoon/pdf_finish.h"

namespace pontata {
namespace {

constexpr double kPoints = 72 / 25.4;  // ISO 32000-1, 8.3.2.3: a unit is 1/72 inch
constexpr int kJpegQuality = 82;
constexpr double kPi = std::numbers::pi;

cairo_status_t write_bytes(void* to, const unsigned char* data, unsigned int size) {
  return std::fwrite(data, 1, size, static_cast<std::FILE*>(to)) == size ? CAIRO_STATUS_SUCCESS
                                                                         : CAIRO_STATUS_WRITE_ERROR;
}

void copy_pixels(const Image& image, cairo_surface_t* to) {
  cairo_surface_flush(to);
  unsigned char* data = cairo_image_surface_get_data(to);
  const int stride = cairo_image_surface_get_stride(to);
  const std::uint8_t* from = image.rgb.data();
  for (int y = 0; y < image.height; ++y)
    for (int x = 0; x < image.width; ++x, from += 3) {
      const std::uint32_t dot = std::uint32_t{from[0]} << 16 | std::uint32_t{from[1]} << 8 | from[2];
      std::memcpy(data + y * stride + 4 * x, &dot, 4);
    }
  cairo_surface_mark_dirty(to);
}

// A PDF takes the JPEG alone. The bytes live until cairo lets them go.
void attach_jpeg(const Image& image, cairo_surface_t* to) {
  auto* jpeg = new std::vector<std::uint8_t>(jpeg_of(image, kJpegQuality));
  cairo_surface_set_mime_data(
      to, CAIRO_MIME_TYPE_JPEG, jpeg->data(), jpeg->size(),
      [](void* p) { delete static_cast<std::vector<std::uint8_t>*>(p); }, jpeg);
}

Image pixels_of(cairo_surface_t* from) {
  cairo_surface_flush(from);
  Image out{cairo_image_surface_get_width(from), cairo_image_surface_get_height(from), {}};
  const unsigned char* data = cairo_image_surface_get_data(from);
  const int stride = cairo_image_surface_get_stride(from);
  out.rgb.reserve(3 * static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < out.width; ++x) {
      std::uint32_t dot = 0;
      std::memcpy(&dot, data + y * stride + 4 * x, 4);
      for (const int shift : {16, 8, 0}) out.rgb.push_back(static_cast<std::uint8_t>(dot >> shift & 0xFF));
    }
  return out;
}

struct CloseFile {
  void operator()(std::FILE* f) const { std::fclose(f); }
};

}  // namespace

struct PdfPages::State {
  std::string path;
  std::unique_ptr<std::FILE, CloseFile> file;  // cairo's own pages; pdf_finish makes the document of them
  cairo_surface_t* surface = nullptr;
  cairo_t* cr = nullptr;
  int pages = 0;
  double png_dpi = 0;  // 0: a PDF
  Layer layer = Layer::frame;
  std::optional<Layer> open;         // the layer whose tag is open
  std::array<bool, kLayers> used{};  // drawn in, on any page

  double dots_per_mm() const { return png_dpi > 0 ? png_dpi / 25.4 : kPoints; }
  void begin() {
    cr = cairo_create(surface);
    set_letters_unhinted(cr);
  }
  std::string draft() const { return path + ".draft"; }
  bool to_dots() const { return png_dpi > 0; }
  // Where to draw, in the layer that was set: cairo knows no layers, so it writes tags that finish_pdf makes layers of.
  cairo_t* drawing() {
    if (to_dots() || open == layer) return cr;
    end_layer();
    cairo_tag_begin(cr, layer_tag(layer), nullptr);
    open = layer, used[static_cast<std::size_t>(layer)] = true;
    return cr;
  }
  void end_layer() {
    if (open) cairo_tag_end(cr, layer_tag(*open));
    open.reset();
  }
  void close() {
    if (cr) cairo_destroy(cr), cr = nullptr;
    if (surface) cairo_surface_destroy(surface), surface = nullptr;
    file.reset();
  }
  ~State() {
    close();
    std::error_code ignored;
    std::filesystem::remove(draft(), ignored);
  }
  void set_colour(Colour c) const { cairo_set_source_rgb(cr, c.red, c.green, c.blue); }
  void trace(std::span<const Vec2> points, bool closed) const {
    for (std::size_t i = 0; i < points.size(); ++i)
      i == 0 ? cairo_move_to(cr, points[i].x, points[i].y) : cairo_line_to(cr, points[i].x, points[i].y);
    if (closed) cairo_close_path(cr);
  }
  // Strokes the current path and drops it.
  void stroke(const Stroke& s) const {
    if (s.casing_mm > 0) {
      set_colour(kWhite);
      cairo_set_dash(cr, nullptr, 0, 0);
      cairo_set_line_width(cr, s.width_mm + 2 * s.casing_mm);
      cairo_stroke_preserve(cr);
    }
    set_colour(s.colour);
    cairo_set_dash(cr, s.dash_mm.data(), static_cast<int>(s.dash_mm.size()), 0);
    cairo_set_line_width(cr, s.width_mm);
    cairo_stroke(cr);
  }
};

PdfPages::PdfPages(std::unique_ptr<State> state) : state_(std::move(state)) {}
PdfPages::PdfPages(PdfPages&&) noexcept = default;
PdfPages& PdfPages::operator=(PdfPages&&) noexcept = default;
PdfPages::~PdfPages() = default;

Result<PdfPages> PdfPages::create(const std::string& path, const std::string& title) {
  if (const Outcome there = check_sheet_font(); !there) return there.problem();
  auto state = std::make_unique<State>();
  state->path = path;
  state->file.reset(std::fopen(state->draft().c_str(), "wb"));
  if (!state->file) return Problem{"cannot be written", path, "Choose a folder that you may write to."};
  state->surface = cairo_pdf_surface_create_for_stream(write_bytes, state->file.get(), 100, 100);
  cairo_pdf_surface_set_metadata(state->surface, CAIRO_PDF_METADATA_TITLE, printable(title).c_str());
  cairo_pdf_surface_set_metadata(state->surface, CAIRO_PDF_METADATA_CREATOR, "Pontata");
  cairo_pdf_surface_set_metadata(state->surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
  state->begin();
  return PdfPages(std::move(state));
}

Result<PdfPages> PdfPages::create_png(const std::string& path, double dpi) {
  if (const Outcome there = check_sheet_font(); !there) return there.problem();
  auto state = std::make_unique<State>();
  state->path = path;
  state->png_dpi = dpi;
  return PdfPages(std::move(state));
}

Result<PdfPages> PdfPages::create_image(double dpi) { return create_png("", dpi); }

Result<Image> PdfPages::image() const {
  if (state_->pages != 1 || !state_->surface || cairo_status(state_->cr) != CAIRO_STATUS_SUCCESS)
    return Problem{"the page is too large to be shown", "", "Choose a smaller paper, or fewer dots."};
  return pixels_of(state_->surface);
}

void PdfPages::begin_page(double width_mm, double height_mm) {
  const double scale = state_->dots_per_mm();
  ++state_->pages;
  if (state_->png_dpi > 0) {
    if (state_->pages > 1) throw std::logic_error("a PNG has one page");
    state_->surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(std::lround(width_mm * scale)),
                                                 static_cast<int>(std::lround(height_mm * scale)));
    state_->begin();
    state_->set_colour(kWhite);
    cairo_paint(state_->cr);
  } else {
    state_->end_layer();
    state_->layer = Layer::frame;
    if (state_->pages > 1) cairo_show_page(state_->cr);
    cairo_pdf_surface_set_size(state_->surface, width_mm * scale, height_mm * scale);
  }
  cairo_t* cr = state_->cr;
  cairo_identity_matrix(cr);
  cairo_translate(cr, 0, height_mm * scale);
  cairo_scale(cr, scale, -scale);
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
}

int PdfPages::pages() const { return state_->pages; }

std::string_view name_of(Layer layer) {
  constexpr std::array<std::string_view, kLayers> kNames{"frame",   "picture", "lines", "dots",
                                                         "outline", "cuts",    "marks"};
  return kNames[static_cast<std::size_t>(layer)];
}

void PdfPages::set_layer(Layer layer) { state_->layer = layer; }

void PdfPages::dots(std::span<const Vec2> centres, double diameter_mm, Colour colour) {
  if (centres.empty()) return;
  state_->drawing();
  for (const Vec2& p : centres) {
    cairo_new_sub_path(state_->cr);
    cairo_arc(state_->cr, p.x, p.y, diameter_mm / 2, 0, 2 * kPi);
    cairo_close_path(state_->cr);
  }
  state_->set_colour(colour);
  cairo_set_fill_rule(state_->cr, CAIRO_FILL_RULE_WINDING);
  cairo_fill(state_->cr);
}

void Pages::line(Vec2 a, Vec2 b, const Stroke& stroke) {
  const Vec2 ends[] = {a, b};
  path(ends, false, stroke);
}

void PdfPages::path(std::span<const Vec2> points, bool closed, const Stroke& stroke) {
  if (points.empty()) return;
  state_->drawing();
  state_->trace(points, closed);
  state_->stroke(stroke);
}

void Pages::rectangle(Vec2 lower_left, Vec2 size, const Stroke& stroke) {
  const Vec2 corners[] = {lower_left, lower_left + Vec2{size.x, 0}, lower_left + size, lower_left + Vec2{0, size.y}};
  path(corners, true, stroke);
}

void PdfPages::fill(std::span<const std::vector<Vec2>> rings, Colour colour) {
  state_->drawing();
  for (const auto& ring : rings) state_->trace(ring, true);
  state_->set_colour(colour);
  cairo_set_fill_rule(state_->cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_fill(state_->cr);
}

void Pages::fill_rectangle(Vec2 lower_left, Vec2 size, Colour colour) {
  const std::vector<Vec2> ring{lower_left, lower_left + Vec2{size.x, 0}, lower_left + size,
                               lower_left + Vec2{0, size.y}};
  fill({&ring, 1}, colour);
}

double PdfPages::text_width(std::string_view words, const TextStyle& style) const {
  return width_of(state_->cr, printable(words), style);
}

void PdfPages::text(Vec2 at, std::string_view words, const TextStyle& style) {
  const std::string line = printable(words);
  if (line.empty()) return;
  cairo_t* cr = state_->drawing();
  const double width = style.align == Align::left ? 0 : text_width(line, style);
  cairo_save(cr);
  set_sheet_font(cr, style);
  cairo_translate(cr, at.x, at.y);
  cairo_rotate(cr, style.angle_deg * kPi / 180);
  cairo_scale(cr, 1, -1);
  const double x = style.align == Align::centre ? -width / 2 : -width;
  if (style.casing_mm > 0) {
    cairo_move_to(cr, x, 0);
    cairo_text_path(cr, line.c_str());
    state_->stroke({2 * style.casing_mm, kWhite});
  }
  cairo_move_to(cr, x, 0);
  state_->set_colour(style.colour);
  cairo_show_text(cr, line.c_str());
  cairo_new_path(cr);
  cairo_restore(cr);
}

void PdfPages::picture(const Image& image, Vec2 lower_left, Vec2 size) {
  if (image.width <= 0 || image.height <= 0) return;
  cairo_surface_t* pixels = cairo_image_surface_create(CAIRO_FORMAT_RGB24, image.width, image.height);
  if (state_->to_dots())
    copy_pixels(image, pixels);
  else
    attach_jpeg(image, pixels);
  cairo_t* cr = state_->drawing();
  cairo_save(cr);
  // Without a clip cairo takes an opaque picture for a fresh start of the page, and forgets the layer's tag.
  cairo_rectangle(cr, lower_left.x, lower_left.y, size.x, size.y);
  cairo_clip(cr);
  cairo_translate(cr, lower_left.x, lower_left.y + size.y);
  cairo_scale(cr, size.x / image.width, -size.y / image.height);
  cairo_set_source_surface(cr, pixels, 0, 0);
  cairo_paint(cr);
  cairo_restore(cr);
  cairo_surface_destroy(pixels);
}

void PdfPages::clip_rectangle(Vec2 lower_left, Vec2 size) {
  cairo_save(state_->cr);
  cairo_rectangle(state_->cr, lower_left.x, lower_left.y, size.x, size.y);
  cairo_clip(state_->cr);
}

void PdfPages::unclip() { cairo_restore(state_->cr); }

Outcome PdfPages::finish() {
  const Problem cannot{"cannot be written", state_->path, "Look whether the disk is full."};
  if (state_->png_dpi > 0) {
    const bool written = state_->pages == 1 && cairo_status(state_->cr) == CAIRO_STATUS_SUCCESS &&
                         cairo_surface_write_to_png(state_->surface, state_->path.c_str()) == CAIRO_STATUS_SUCCESS;
    state_->close();
    if (!written) return cannot;
    return Done{};
  }
  state_->end_layer();
  if (state_->pages > 0) cairo_show_page(state_->cr);
  cairo_surface_finish(state_->surface);
  const bool drawn =
      cairo_status(state_->cr) == CAIRO_STATUS_SUCCESS && cairo_surface_status(state_->surface) == CAIRO_STATUS_SUCCESS;
  const bool flushed = std::fflush(state_->file.get()) == 0;
  state_->close();
  if (!drawn || !flushed) return cannot;
  const Outcome done = finish_pdf(state_->draft(), state_->path, state_->used);
  std::error_code ignored;
  std::filesystem::remove(state_->draft(), ignored);
  return done;
}

}  // namespace pontata
