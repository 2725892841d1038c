#include "engine/cartoon/svg_pages.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>

#include "engine/base/text.h"
#include "engine/cartoon/jpeg.h"

namespace pontata {
namespace {

constexpr int kJpegQuality = 82;

// From the lowest to the topmost.
constexpr std::array<Layer, kLayers> kOrder{Layer::picture, Layer::lines, Layer::dots, Layer::outline,
                                            Layer::cuts,    Layer::marks, Layer::frame};

std::string mm(double value) { return short_decimal(value, 4); }

std::string hex(Colour c) {
  const auto part = [](double x) { return static_cast<int>(std::lround(255 * std::clamp(x, 0.0, 1.0))); };
  return fmt::format("#{:02x}{:02x}{:02x}", part(c.red), part(c.green), part(c.blue));
}

std::string base64(const std::vector<std::uint8_t>& bytes) {  // RFC 4648, 4
  constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k) three = three << 8 | (i + k < bytes.size() ? bytes[i + k] : 0u);
    for (std::size_t k = 0; k < 4; ++k) out += i + k <= bytes.size() ? kLetters[three >> (18 - 6 * k) & 63u] : '=';
  }
  return out;
}

std::string stroked(const std::string& data, double width, Colour colour, const std::vector<double>& dashes) {
  std::string dashed;
  for (const double d : dashes) dashed += (dashed.empty() ? " stroke-dasharray=\"" : " ") + mm(d);
  if (!dashed.empty()) dashed += '"';
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{}/>\n", data, hex(colour),
                     mm(width), dashed);
}

}  // namespace

Result<SvgPages> SvgPages::create(NextFile next, const std::string& title) {
  if (const Outcome there = check_sheet_font(); !there) return there.problem();
  return SvgPages(std::move(next), printable(title));
}

void SvgPages::begin_page(double width_mm, double height_mm) {
  write_page();
  ++pages_;
  size_ = {width_mm, height_mm};
  path_ = next_();
}

// Into the layer's group, within the clips in force.
void SvgPages::emit(const std::string& element) {
  Group& g = groups_[static_cast<std::size_t>(layer_)];
  const auto [here, there] = std::mismatch(g.clips.begin(), g.clips.end(), clips_.begin(), clips_.end());
  const auto kept = here - g.clips.begin();
  while (std::ssize(g.clips) > kept) g.inside += "</g>\n", g.clips.pop_back();
  for (auto it = clips_.begin() + kept; it != clips_.end(); ++it) {
    g.inside += fmt::format("<g clip-path=\"url(#clip{})\">\n", *it);
    g.clips.push_back(*it);
  }
  g.inside += element;
}

std::string SvgPages::data_of(std::span<const Vec2> points, bool closed) const {
  std::string out;
  for (const Vec2& p : points) out += (out.empty() ? "M" : "L") + mm(p.x) + " " + mm(size_.y - p.y);
  return closed ? out + "Z" : out;
}

void SvgPages::path(std::span<const Vec2> points, bool closed, const Stroke& s) {
  if (points.empty()) return;
  const std::string data = data_of(points, closed);
  if (s.casing_mm > 0) emit(stroked(data, s.width_mm + 2 * s.casing_mm, kWhite, {}));
  emit(stroked(data, s.width_mm, s.colour, s.dash_mm));
}

void SvgPages::fill(std::span<const std::vector<Vec2>> rings, Colour colour) {
  std::string data;
  for (const auto& ring : rings) data += data_of(ring, true);
  if (!data.empty()) emit(fmt::format("<path d=\"{}\" fill=\"{}\" fill-rule=\"evenodd\"/>\n", data, hex(colour)));
}

void SvgPages::dots(std::span<const Vec2> centres, double diameter_mm, Colour colour) {
  if (centres.empty()) return;
  std::string out = fmt::format("<g fill=\"{}\">\n", hex(colour));
  for (const Vec2& p : centres)
    out += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", mm(p.x), mm(size_.y - p.y), mm(diameter_mm / 2));
  emit(out + "</g>\n");
}

void SvgPages::text(Vec2 at, std::string_view words, const TextStyle& style) {
  const std::string line = printable(words);
  if (line.empty()) return;
  const char* anchor = style.align == Align::left ? "start" : style.align == Align::centre ? "middle" : "end";
  const auto element = [&](const std::string& look) {
    return fmt::format(
        "<text transform=\"translate({} {}){}\" font-family=\"'{}', 'Bitstream Vera Sans', sans-serif\" "
        "font-size=\"{}\"{} text-anchor=\"{}\" xml:space=\"preserve\" {}>{}</text>\n",
        mm(at.x), mm(size_.y - at.y), style.angle_deg == 0 ? "" : fmt::format(" rotate({})", mm(-style.angle_deg)),
        kSheetFont, mm(style.size_mm), style.bold ? " font-weight=\"bold\"" : "", anchor, look, xml_escaped(line));
  };
  if (style.casing_mm > 0)  // white letters underneath, which no one reads twice
    emit(element(fmt::format("fill=\"#ffffff\" stroke=\"#ffffff\" stroke-width=\"{}\" aria-hidden=\"true\"",
                             mm(2 * style.casing_mm))));
  emit(element("fill=\"" + hex(style.colour) + "\""));
}

double SvgPages::text_width(std::string_view words, const TextStyle& style) const { return ruler_.width(words, style); }

void SvgPages::picture(const Image& image, Vec2 lower_left, Vec2 size) {
  if (image.width <= 0 || image.height <= 0) return;
  emit(
      fmt::format("<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\" "
                  "xlink:href=\"data:image/jpeg;base64,{}\"/>\n",
                  mm(lower_left.x), mm(size_.y - lower_left.y - size.y), mm(size.x), mm(size.y),
                  base64(jpeg_of(image, kJpegQuality))));
}

void SvgPages::clip_rectangle(Vec2 lower_left, Vec2 size) {
  clips_.push_back(++clip_count_);
  clip_paths_ +=
      fmt::format("<clipPath id=\"clip{}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath>\n",
                  clip_count_, mm(lower_left.x), mm(size_.y - lower_left.y - size.y), mm(size.x), mm(size.y));
}

void SvgPages::unclip() { clips_.pop_back(); }

void SvgPages::write_page() {
  if (pages_ == 0) return;
  std::ofstream out(path_, std::ios::binary);
  out << fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" version=\"1.1\" "
      "width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\">\n<title>{2}</title>\n",
      mm(size_.x), mm(size_.y), xml_escaped(title_));
  if (!clip_paths_.empty()) out << "<defs>\n" << clip_paths_ << "</defs>\n";
  for (const Layer layer : kOrder) {
    Group& g = groups_[static_cast<std::size_t>(layer)];
    if (g.inside.empty()) continue;
    out << "<g id=\"" << name_of(layer) << "\" stroke-linejoin=\"round\">\n" << g.inside;
    for (std::size_t i = 0; i < g.clips.size(); ++i) out << "</g>\n";
    out << "</g>\n";
  }
  out << "</svg>\n";
  if (!out.flush() && failed_.empty()) failed_ = path_;
  groups_ = {}, clip_paths_.clear(), clips_.clear(), clip_count_ = 0, layer_ = Layer::frame;
}

Outcome SvgPages::finish() {
  write_page();
  if (!failed_.empty()) return Problem{"cannot be written", failed_, "Look whether the disk is full."};
  return Done{};
}

}  // namespace pontata
