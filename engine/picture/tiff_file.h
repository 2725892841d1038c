// A TIFF file open for reading through libtiff, with its own eyes and a closed mouth: bytes come from a PictureFile,
// and what libtiff has to say stays here.
#pragma once

#include <tiffio.h>

#include <cstdint>
#include <memory>

#include "engine/picture/picture_file.h"

namespace pontata {

// Bytes that are held in memory at most: of a strip as coded; of a tile, and of a row of tiles, decoded.
constexpr std::int64_t kLargestStrip = std::int64_t{512} << 20, kLargestTiles = std::int64_t{256} << 20;

class TiffFile {
 public:
  // Reads the first directory; get() is null where it cannot be read. `file` must outlive this.
  static std::unique_ptr<TiffFile> open(const PictureFile& file);
  ~TiffFile();
  TiffFile(const TiffFile&) = delete;
  TiffFile& operator=(const TiffFile&) = delete;

  TIFF* get() const { return tiff_; }
  // Since the start libtiff asked for bytes beyond the end of the file.
  bool short_of_bytes() const { return short_; }
  // A decoder said that it lost pixels and went on.
  bool lost_pixels() const { return lost_; }

 private:
  explicit TiffFile(const PictureFile& file) : file_(&file) {}
  static tmsize_t on_read(thandle_t self, void* to, tmsize_t count);
  static toff_t on_seek(thandle_t self, toff_t offset, int from);
  static toff_t on_size(thandle_t self);
  static int on_warning(TIFF*, void* self, const char* module, const char* format, va_list);
  const PictureFile* file_;
  TIFF* tiff_ = nullptr;
  std::uint64_t at_ = 0;
  bool short_ = false, lost_ = false;
};

}  // namespace pontata
