#include "engine/cartoon/squared_picture.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>

#include "engine/cartoon/page.h"
#include "engine/picture/draped.h"
#include "engine/picture/sight.h"

namespace pontata {

namespace {

constexpr int kMostPixels = 4096;  // a side
constexpr double kLonger = 380;    // mm, the picture's longer side
constexpr double kMargin = 11;     // mm, for the names
const Problem kStopped{"stopped", "", ""};

// The whole picture at the finest level of at most kMostPixels a side, over white.
Image read_whole(const PictureSource& source) {
  int level = 0;
  while (std::max(source.size_of(level).width, source.size_of(level).height) > kMostPixels) ++level;
  const PictureSize size = source.size_of(level);
  Raster raster{size.width, size.height, {}};
  raster.rgba.resize(4 * static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height));
  constexpr int n = PictureTile::kSide;
  for (int j = 0; j * n < size.height; ++j)
    for (int i = 0; i * n < size.width; ++i) {
      const auto tile = source.tile(level, i, j);
      const int width = std::min(n, size.width - i * n), height = std::min(n, size.height - j * n);
      for (int y = 0; y < height; ++y)
        std::copy_n(tile->rgba.begin() + 4 * std::ptrdiff_t{y} * n, 4 * width,
                    raster.rgba.begin() + 4 * (std::ptrdiff_t{j * n + y} * size.width + i * n));
    }
  return over_white(raster);
}

// A line of squares as it runs through the picture, pixels; a new piece wherever it leaves it or hides.
class Follower {
 public:
  Follower(const ChartedWall& wall, const PlacedPicture& picture) : wall_(wall), picture_(picture) {
    // The wall outlives this; only its own bulges are asked here, not other walls.
    if (const auto eye = eye_of(picture.lay)) sight_.emplace(WallRef(WallRef(), &wall), std::vector<WallRef>{}, *eye);
  }

  std::vector<std::vector<Vec2>> pieces(const SquareLine& line, double step_m) const {
    std::vector<std::vector<Vec2>> out;
    for (const auto& stretch : line.stretches) {
      const Vec2 from = to_vec(stretch.from), way = to_vec(stretch.to) - from;
      const int parts = std::clamp(static_cast<int>(std::ceil(24 * glm::length(way) / step_m)), 24, 4000);
      out.emplace_back();
      for (int k = 0; k <= parts; ++k) {
        const auto pixel = seen(to_chart(from + way * (1.0 * k / parts)));
        if (!pixel && !out.back().empty()) out.emplace_back();
        if (pixel) out.back().push_back(*pixel);
      }
    }
    std::erase_if(out, [](const auto& piece) { return piece.size() < 2; });
    return out;
  }

 private:
  std::optional<Vec2> seen(ChartPoint p) const {
    const auto on = wall_.chart->locate(p);
    if (!on) return std::nullopt;
    const Vec3 place = position(wall_.mesh(), *on);
    const auto pixel = pixel_at(picture_.lay, picture_.plate, picture_.size, p, place);
    if (!pixel || pixel->x < 0 || pixel->y < 0 || pixel->x > picture_.size.width || pixel->y > picture_.size.height)
      return std::nullopt;
    if (sight_ && !sight_->sees(place, normal(wall_.mesh(), *on))) return std::nullopt;
    return pixel;
  }
  const ChartedWall& wall_;
  const PlacedPicture& picture_;
  std::optional<Sight> sight_;
};

// Beside the end of a line where it leaves the picture, or on the line where it ends within.
void write_name(Pages& page, const std::string& name, Vec2 end, Vec2 before, double width, double height) {
  const Vec2 out = glm::length(end - before) > 0 ? glm::normalize(end - before) : Vec2(0, 1);
  Vec2 at = end + 4.2 * out;
  at = glm::clamp(at, Vec2(kMargin - 6.5, kMargin - 7.0), Vec2(kMargin + width + 6.5, kMargin + height + 6.0));
  page.text(at - Vec2(0, 1.4), name, {4, true, Align::centre, 0, kBlack, 0.7});
}

std::string ending(const std::string& path) {
  std::string end = std::filesystem::path(path).extension().string();
  for (char& c : end) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return end;
}

struct Sheet {
  double per_pixel = 1;  // mm
  Vec2 size{0, 0};       // of the picture, mm
  Vec2 operator()(Vec2 pixel) const { return {kMargin + pixel.x * per_pixel, kMargin + size.y - pixel.y * per_pixel}; }
};

bool draw_lines(Pages& page, const ChartedWall& wall, const PlacedPicture& picture, const Squares& squares,
                const Sheet& sheet, Progress* progress) {
  const Follower follower(wall, picture);
  bool any = false;
  double done = 0;
  for (const SquareLine& line : squares.lines) {
    report(progress, 0.3 + 0.6 * done++ / static_cast<double>(squares.lines.size()), "drawing the squares");
    if (is_cancelled(progress)) return any;
    const auto pieces = follower.pieces(line, squares.step_m);
    for (const auto& piece : pieces) {
      std::vector<Vec2> drawn;
      for (const Vec2& p : piece) drawn.push_back(sheet(p));
      page.path(drawn, false, {0.3, kBlack, {}, 0.25});
      any = true;
    }
    if (pieces.empty()) continue;
    const auto &first = pieces.front(), &last = pieces.back();
    write_name(page, line.name, sheet(first[0]), sheet(first[1]), sheet.size.x, sheet.size.y);
    write_name(page, line.name, sheet(last.back()), sheet(last[last.size() - 2]), sheet.size.x, sheet.size.y);
  }
  return any;
}

}  // namespace

Result<SquaredPicture> write_squared_picture(const ChartedWall& wall, const PlacedPicture& picture, double step_m,
                                             const std::string& path, Progress* progress) {
  if (!picture.pixels)
    return Problem{"the picture " + picture.name + " cannot be read", picture.path, "Put the file back."};
  const std::string end = ending(path);
  if (end != ".png" && end != ".pdf")
    return Problem{"a squared picture is written as PNG or PDF", path, "Give a name that ends in .png or .pdf."};
  auto squares = squares_on(wall, step_m);
  if (!squares) return squares.problem();
  report(progress, 0, "reading the picture");
  const Image image = read_whole(*picture.pixels);
  Sheet sheet;
  sheet.per_pixel = kLonger / std::max(picture.size.width, picture.size.height);
  sheet.size = Vec2(picture.size.width, picture.size.height) * sheet.per_pixel;
  const std::string draft = path + ".part" + end;
  auto page = end == ".png" ? PdfPages::create_png(draft, image.width / sheet.size.x * 25.4)
                            : PdfPages::create(draft, picture.name);
  if (!page) return page.problem();
  page->begin_page(sheet.size.x + 2 * kMargin, sheet.size.y + 2 * kMargin);
  page->picture(image, {kMargin, kMargin}, sheet.size);
  page->rectangle({kMargin, kMargin}, sheet.size, {0.3});
  const bool any = draw_lines(*page, wall, picture, *squares, sheet, progress);
  page->text({kMargin, 2.2}, page->fitted(picture.name + " · " + words_of(*squares), {3}, sheet.size.x), {3});
  const Outcome done = page->finish();
  std::error_code fault, ignored;
  if (done && any && !is_cancelled(progress)) std::filesystem::rename(draft, path, fault);
  std::filesystem::remove(draft, ignored);
  if (is_cancelled(progress)) return kStopped;
  if (!done) return done.problem();
  if (!any)
    return Problem{"no line of the squares lies on the picture", picture.name,
                   "Choose a shorter side: pontata set PROJECT squaring.step 0.2m."};
  if (fault) return Problem{"the squared picture cannot be written", path, "Check that you may write there."};
  return SquaredPicture{image.width, image.height, std::move(*squares)};
}

}  // namespace pontata
