#include "engine/picture/image.h"

#include <stb_image.h>
#include <stb_image_write.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <filesystem>
#include <fstream>
#include <memory>

#include "engine/picture/picture_file.h"

namespace pontata {

namespace {

constexpr std::int64_t kMostPixels = 120'000'000;
constexpr std::uintmax_t kMostBytes = std::uintmax_t{1} << 30;

Result<std::vector<std::uint8_t>> read_bytes(const std::string& path) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) return Problem{"there is no such file", path, "Check the name of the picture."};
  if (!std::filesystem::is_regular_file(status))
    return Problem{"this is not a file", path, "Choose a PNG or JPEG picture."};
  const auto size = std::filesystem::file_size(path, error);
  if (error) return Problem{"the file cannot be read", path, "Check that you may read it."};
  if (size > kMostBytes) return Problem{"the file is larger than 1 GiB", path, "Save the picture smaller."};
  std::vector<std::uint8_t> bytes(static_cast<std::size_t>(size));
  std::ifstream in(path, std::ios::binary);
  in.read(reinterpret_cast<char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
  if (!in) return Problem{"the file cannot be read", path, "Check that you may read it."};
  return bytes;
}

// Lays what is see-through over white, as on paper.
std::uint8_t over_white(std::uint8_t colour, std::uint8_t alpha) {
  return static_cast<std::uint8_t>((colour * alpha + 255 * (255 - alpha) + 127) / 255);
}

// Turns and mirrors pixels so that a picture with this Exif orientation stands upright.
Image upright(Image image, int orientation) {
  if (orientation == 1) return image;
  const bool quarter = orientation >= 5;
  const int w = image.width, h = image.height;
  Image out;
  out.width = quarter ? h : w;
  out.height = quarter ? w : h;
  out.rgb.resize(image.rgb.size());
  for (int y = 0; y < out.height; ++y) {
    for (int x = 0; x < out.width; ++x) {
      int sx = quarter ? y : x, sy = quarter ? x : y;
      if (orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8) sx = w - 1 - sx;
      if (orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7) sy = h - 1 - sy;
      const auto from = image.rgb.begin() + 3 * (std::ptrdiff_t{sy} * w + sx);
      std::copy(from, from + 3, out.rgb.begin() + 3 * (std::ptrdiff_t{y} * out.width + x));
    }
  }
  return out;
}

}  // namespace

Result<Image> read_image(const std::string& path) {
  auto bytes = read_bytes(path);
  if (!bytes) return bytes.problem();
  const auto file = look_at_file(*bytes);
  if (file.kind == PictureKind::other) {
    return Problem{"this is not a PNG or JPEG picture", path, "Save the picture as PNG or JPEG and choose that file."};
  }
  const Problem damaged{"the picture file is damaged or cut short", path,
                        "Copy the file again from its source, or save it again."};
  const int size = static_cast<int>(bytes->size());
  int width = 0, height = 0, channels = 0;
  if (!stbi_info_from_memory(bytes->data(), size, &width, &height, &channels) || width < 1 || height < 1)
    return damaged;
  if (std::int64_t{width} * height > kMostPixels) {
    return Problem{
        "the picture has " + std::to_string(width) + " x " + std::to_string(height) + " pixels, more than 120 million",
        path, "Save it smaller: one pixel a millimetre on the wall is enough."};
  }
  if (!file.whole) return damaged;
  const bool see_through = channels == 2 || channels == 4;
  const std::size_t step = see_through ? 4 : 3;
  const std::unique_ptr<stbi_uc, void (*)(void*)> pixels(
      stbi_load_from_memory(bytes->data(), size, &width, &height, &channels, static_cast<int>(step)), stbi_image_free);
  if (!pixels) return damaged;
  Image image{width, height, {}};
  const auto count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  image.rgb.resize(3 * count);
  if (!see_through) {
    std::copy_n(pixels.get(), 3 * count, image.rgb.begin());
  } else {
    for (std::size_t k = 0; k < count; ++k) {
      const stbi_uc* p = pixels.get() + 4 * k;
      for (std::size_t c = 0; c < 3; ++c) image.rgb[3 * k + c] = over_white(p[c], p[3]);
    }
  }
  return upright(std::move(image), file.orientation);
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
