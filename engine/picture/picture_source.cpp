#include "engine/picture/picture_source.h"

#include <algorithm>
#include <utility>

#include "engine/picture/colour_profile.h"
#include "engine/picture/picture_decoder.h"
#include "engine/picture/tile_pyramid.h"

namespace pontata {

namespace {

int halved(int n) { return (n + 1) / 2; }

constexpr std::int64_t kInMemory = 16'000'000;  // pixels
constexpr double kPrepared = 0.4;               // of the progress, where the file is gone through before its rows come

}  // namespace

int PictureSource::levels() const {
  int n = 1;
  for (int side = std::max(size_.width, size_.height); side > PictureTile::kSide; side = halved(side)) ++n;
  return n;
}

PictureSize PictureSource::size_of(int level) const {
  PictureSize s = size_;
  for (int k = 0; k < level; ++k) s = {halved(s.width), halved(s.height)};
  return s;
}

PictureRef picture_of(const Image& image) {
  const auto* from = image.rgb.data();
  const RowMaker next_row = [&](std::uint8_t* to) -> Outcome {
    for (int x = 0; x < image.width; ++x, from += 3, to += 4) {
      std::copy_n(from, 3, to);
      to[3] = 255;
    }
    return Done{};
  };
  return build_picture(Turn(image.width, image.height, 1), next_row, {}).value();
}

Result<PictureRef> read_picture(const std::string& path, Progress* progress) {
  report(progress, 0, "reading the picture");
  auto opened = open_decoder(path);
  if (!opened) return opened.problem();
  PictureDecoder& decoder = **opened;
  const PictureHead& head = decoder.head();
  auto colours = ToSrgb::make(head);
  if (!colours) return colours.problem();
  if (decoder.prepares())
    if (const auto prepared = decoder.prepare(progress, kPrepared); !prepared) return prepared.problem();
  std::vector<std::uint8_t> row(head.row_bytes());
  const RowMaker next_row = [&](std::uint8_t* to) -> Outcome {
    if (const auto got = decoder.next_row(row); !got) return got;
    colours->row(row.data(), to);
    return Done{};
  };
  const BuildOptions options{path, std::int64_t{head.width} * head.height > kInMemory, progress,
                             decoder.prepares() ? kPrepared : 0};
  auto picture = build_picture(Turn(head.width, head.height, head.orientation), next_row, options);
  if (!picture) return picture;
  if (const auto finished = decoder.finish(); !finished) return finished.problem();
  return picture;
}

}  // namespace pontata
