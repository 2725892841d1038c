#include "engine/picture/image.h"

#include <stb_image_write.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <fstream>

#include "engine/picture/colour_profile.h"
#include "engine/picture/picture_decoder.h"
#include "engine/picture/tile_pyramid.h"

namespace pontata {

namespace {

constexpr std::int64_t kMostPixels = 120'000'000;

// Lays what is see-through over white, as on paper.
std::uint8_t over_white(std::uint8_t colour, std::uint8_t alpha) {
  return static_cast<std::uint8_t>((colour * alpha + 255 * (255 - alpha) + 127) / 255);
}

// Row `y` as stored, red, green, blue and opacity, to where it stands upright.
void put_row(const Turn& turn, int y, const std::uint8_t* rgba, Image& image) {
  const int along = turn.flip_y ? turn.height - 1 - y : y;
  for (int k = 0; k < turn.width; ++k, rgba += 4) {
    const int across = turn.flip_x ? turn.width - 1 - k : k;
    const std::ptrdiff_t x = turn.quarter ? along : across, up = turn.quarter ? across : along;
    auto* to = image.rgb.data() + 3 * (up * image.width + x);
    for (int c = 0; c < 3; ++c) to[c] = over_white(rgba[c], rgba[3]);
  }
}

}  // namespace

Result<Image> read_image(const std::string& path) {
  auto opened = open_decoder(path, kMostPixels);
  if (!opened) return opened.problem();
  PictureDecoder& decoder = **opened;
  const PictureHead& head = decoder.head();
  auto colours = ToSrgb::make(head);
  if (!colours) return colours.problem();
  if (decoder.prepares())
    if (const auto prepared = decoder.prepare(nullptr, 1); !prepared) return prepared.problem();
  const Turn turn(head.width, head.height, head.orientation);
  const PictureSize size = turn.upright();
  Image image{size.width, size.height, {}};
  image.rgb.resize(3 * static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height));
  std::vector<std::uint8_t> row(head.row_bytes()), rgba(4 * static_cast<std::size_t>(head.width));
  for (int y = 0; y < head.height; ++y) {
    if (const auto got = decoder.next_row(row); !got) return got.problem();
    colours->row(row.data(), rgba.data());
    put_row(turn, y, rgba.data(), image);
  }
  if (const auto finished = decoder.finish(); !finished) return finished.problem();
  return image;
}

std::string png_text(const Image& image) {
  std::string text;
  const auto sink = [](void* to, void* data, int size) {
    static_cast<std::string*>(to)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
  };
  if (image.width > 0 && image.height > 0)
    stbi_write_png_to_func(sink, &text, image.width, image.height, 3, image.rgb.data(), 3 * image.width);
  return text;
}

Outcome write_png(const Image& image, const std::string& path) {
  if (image.width < 1 || image.height < 1) return Problem{"the picture is empty", path, ""};
  std::ofstream out(path, std::ios::binary);
  const auto sink = [](void* to, void* data, int size) {
    static_cast<std::ofstream*>(to)->write(static_cast<const char*>(data), size);
  };
  const bool coded =
      out && stbi_write_png_to_func(sink, &out, image.width, image.height, 3, image.rgb.data(), 3 * image.width);
  out.close();
  if (!coded || !out)
    return Problem{"the picture cannot be written", path,
                   "Check that the folder exists, may be written to and has room."};
  return Done{};
}

Vec3 sample(const Image& image, double x, double y) {
  const double fx = std::clamp(x - 0.5, 0.0, image.width - 1.0), fy = std::clamp(y - 0.5, 0.0, image.height - 1.0);
  const int x0 = static_cast<int>(fx), y0 = static_cast<int>(fy);
  const int x1 = std::min(x0 + 1, image.width - 1), y1 = std::min(y0 + 1, image.height - 1);
  const auto at = [&](int px, int py) {
    const auto k =
        3 * (static_cast<std::size_t>(py) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(px));
    return Vec3(image.rgb[k], image.rgb[k + 1], image.rgb[k + 2]) / 255.0;
  };
  const double tx = fx - x0, ty = fy - y0;
  return (at(x0, y0) * (1 - tx) + at(x1, y0) * tx) * (1 - ty) + (at(x0, y1) * (1 - tx) + at(x1, y1) * tx) * ty;
}

}  // namespace pontata
