#include "engine/picture/tile_pyramid.h"

#include <algorithm>
#include <cstring>
#include <utility>

namespace pontata {

namespace {

constexpr int kSide = PictureTile::kSide;
constexpr double kRowsDone = 0.9;  // of the progress; the rest is the smaller levels

int halved(int n) { return (n + 1) / 2; }

class Tiled final : public PictureSource {
 public:
  Tiled(const LevelPlan& plan, std::unique_ptr<TileStore> store)
      : PictureSource(plan.levels[0].size), plan_(plan), store_(std::move(store)) {}
  std::shared_ptr<const PictureTile> tile(int level, int i, int j) const override {
    return store_->tile(plan_.number(level, i, j));
  }

 private:
  LevelPlan plan_;
  std::unique_ptr<TileStore> store_;
};

PictureTile blank() {
  PictureTile tile;
  tile.rgba.resize(4 * kSide * kSide);
  return tile;
}
std::uint8_t* pixel(PictureTile& tile, int x, int y) { return tile.rgba.data() + 4 * (kSide * y + x); }
const std::uint8_t* pixel(const PictureTile& tile, int x, int y) { return tile.rgba.data() + 4 * (kSide * y + x); }

// The part width x height goes on to the right and below with its edge.
void go_on(PictureTile& tile, int width, int height) {
  for (int y = 0; y < height; ++y)
    for (int x = width; x < kSide; ++x) std::memcpy(pixel(tile, x, y), pixel(tile, width - 1, y), 4);
  for (int y = height; y < kSide; ++y) std::memcpy(pixel(tile, 0, y), pixel(tile, 0, height - 1), 4 * kSide);
}

// Mean of four pixels a, b, c, d, colours weighed by opacity; plain where nothing is opaque.
void mean(const std::uint8_t* a, const std::uint8_t* b, const std::uint8_t* c, const std::uint8_t* d,
          std::uint8_t* to) {
  const unsigned wa = a[3], wb = b[3], wc = c[3], wd = d[3], sum = wa + wb + wc + wd;
  for (int k = 0; k < 3; ++k) {
    const bool even = sum == 0 || (wa == wb && wb == wc && wc == wd);
    to[k] = static_cast<std::uint8_t>(even ? (a[k] + b[k] + c[k] + d[k] + 2u) / 4
                                           : (a[k] * wa + b[k] * wb + c[k] * wc + d[k] * wd + sum / 2) / sum);
  }
  to[3] = static_cast<std::uint8_t>((sum + 2) / 4);
}

// Rows as stored, collected until they fill a line of upright tiles: a row of them, or a column after a quarter turn.
class Band {
 public:
  explicit Band(const Turn& turn)
      : turn_(turn),
        pixels_(static_cast<std::size_t>(4) * static_cast<std::size_t>(turn.width) *
                static_cast<std::size_t>(std::min(kSide, turn.height))) {}
  // Where stored row y goes; `line` of tiles it belongs to.
  int line(int y) const { return along(y) / kSide; }
  std::uint8_t* row(int y) { return pixels_.data() + stride() * (along(y) % kSide); }
  // Tile number n of the full line.
  PictureTile cut(int line, int n) const {
    const int deep = std::min(kSide, turn_.height - line * kSide), wide = std::min(kSide, turn_.width - n * kSide);
    PictureTile tile = blank();
    for (int k = 0; k < deep; ++k) {
      const std::uint8_t* from = pixels_.data() + stride() * k;
      if (!turn_.flip_x && !turn_.quarter) {
        std::memcpy(pixel(tile, 0, k), from + 4 * (n * kSide), static_cast<std::size_t>(4 * wide));
        continue;
      }
      for (int x = 0; x < wide; ++x) {
        const int at = n * kSide + x, sx = turn_.flip_x ? turn_.width - 1 - at : at;
        std::memcpy(turn_.quarter ? pixel(tile, k, x) : pixel(tile, x, k), from + 4 * sx, 4);
      }
    }
    go_on(tile, turn_.quarter ? deep : wide, turn_.quarter ? wide : deep);
    return tile;
  }

 private:
  int along(int y) const { return turn_.flip_y ? turn_.height - 1 - y : y; }
  std::ptrdiff_t stride() const { return std::ptrdiff_t{4} * turn_.width; }
  Turn turn_;
  std::vector<std::uint8_t> pixels_;
};

class Builder {
 public:
  Builder(const Turn& turn, const LevelPlan& plan, TileStore& store, Progress* progress, double from)
      : turn_(turn), plan_(plan), store_(store), progress_(progress), from_(from) {}

  Outcome full_size(const RowMaker& next_row) {
    Band band(turn_);
    for (int y = 0; y < turn_.height; ++y) {
      if (is_cancelled(progress_)) return Problem{"stopped", "", ""};
      if (const auto made = next_row(band.row(y)); !made) return made;
      if (y + 1 < turn_.height && band.line(y + 1) == band.line(y)) continue;
      if (const auto put = put_line(band, band.line(y)); !put) return put;
      report(progress_, from_ + (kRowsDone - from_) * (y + 1) / turn_.height, "reading the picture");
    }
    return Done{};
  }

  Outcome smaller(int level) {
    const auto& to = plan_.levels[static_cast<std::size_t>(level)];
    for (int j = 0; j < to.down; ++j) {
      if (is_cancelled(progress_)) return Problem{"stopped", "", ""};
      for (int i = 0; i < to.across; ++i)
        if (const auto put = store_.put(plan_.number(level, i, j), reduced(level, i, j)); !put) return put;
      if (level == 1) report(progress_, kRowsDone + (1 - kRowsDone) * (j + 1) / to.down, "reading the picture");
    }
    return Done{};
  }

 private:
  Outcome put_line(const Band& band, int line) {
    const int count = (turn_.width + kSide - 1) / kSide;
    for (int n = 0; n < count; ++n) {
      const std::size_t number = turn_.quarter ? plan_.number(0, line, n) : plan_.number(0, n, line);
      if (const auto put = store_.put(number, band.cut(line, n)); !put) return put;
    }
    return Done{};
  }

  PictureTile reduced(int level, int i, int j) const {
    const auto& below = plan_.levels[static_cast<std::size_t>(level - 1)];
    const auto& here = plan_.levels[static_cast<std::size_t>(level)];
    PictureTile tile = blank();
    for (int b = 0; b < 2 && 2 * j + b < below.down; ++b)
      for (int a = 0; a < 2 && 2 * i + a < below.across; ++a) {
        const auto from = store_.tile(plan_.number(level - 1, 2 * i + a, 2 * j + b));
        for (int y = 0; y < kSide / 2; ++y)
          for (int x = 0; x < kSide / 2; ++x) {
            const auto* p = pixel(*from, 2 * x, 2 * y);  // beyond the picture's edge it goes on: the mean stays
            mean(p, p + 4, p + 4 * kSide, p + 4 * kSide + 4, pixel(tile, kSide / 2 * a + x, kSide / 2 * b + y));
          }
      }
    go_on(tile, std::min(kSide, here.size.width - i * kSide), std::min(kSide, here.size.height - j * kSide));
    return tile;
  }

  const Turn& turn_;
  const LevelPlan& plan_;
  TileStore& store_;
  Progress* progress_;
  double from_;
};

}  // namespace

Turn::Turn(int stored_width, int stored_height, int orientation)
    : width(stored_width), height(stored_height), quarter(orientation >= 5) {
  flip_x = orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8;
  flip_y = orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7;
}

LevelPlan::LevelPlan(PictureSize size) {
  for (;; size = {halved(size.width), halved(size.height)}) {
    const int across = (size.width + kSide - 1) / kSide, down = (size.height + kSide - 1) / kSide;
    levels.push_back({size, across, down, count});
    count += static_cast<std::size_t>(across) * static_cast<std::size_t>(down);
    if (across <= 1 && down <= 1) return;
  }
}

std::size_t LevelPlan::number(int level, int i, int j) const {
  const Level& l = levels[static_cast<std::size_t>(level)];
  return l.first + static_cast<std::size_t>(j) * static_cast<std::size_t>(l.across) + static_cast<std::size_t>(i);
}

Result<PictureRef> build_picture(const Turn& turn, const RowMaker& next_row, const BuildOptions& options) {
  const LevelPlan plan(turn.upright());
  auto store = make_tile_store(plan.count, options.large, options.path);
  if (!store) return store.problem();
  Builder builder(turn, plan, **store, options.progress, options.from);
  if (const auto made = builder.full_size(next_row); !made) return made.problem();
  for (int level = 1; level < static_cast<int>(plan.levels.size()); ++level)
    if (const auto made = builder.smaller(level); !made) return made.problem();
  return PictureRef(std::make_shared<Tiled>(plan, std::move(*store)));
}

}  // namespace pontata
