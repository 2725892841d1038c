#include "engine/picture/picture_decoder.h"

#include <utility>

namespace pontata {

Result<DecoderRef> open_decoder(const std::string& path, std::int64_t most) {
  auto file = PictureFile::open(path);
  if (!file) return file.problem();
  const auto kind = kind_of(*file);
  if (!kind) return kind.problem();
  if (*kind == PictureKind::png) return open_png(std::move(*file), most);
  if (*kind == PictureKind::jpeg) return open_jpeg(std::move(*file), most);
  return open_tiff(std::move(*file), most);
}

}  // namespace pontata
