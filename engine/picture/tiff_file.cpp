#include "engine/picture/tiff_file.h"

#include <cstdio>
#include <string_view>

namespace pontata {

namespace {

int on_error(TIFF*, void*, const char*, const char*, va_list) { return 1; }  // said: the call itself tells
tmsize_t on_write(thandle_t, void*, tmsize_t) { return -1; }
int on_close(thandle_t) { return 0; }

}  // namespace

std::unique_ptr<TiffFile> TiffFile::open(const PictureFile& file) {
  std::unique_ptr<TiffFile> made(new TiffFile(file));
  const std::unique_ptr<TIFFOpenOptions, decltype(&TIFFOpenOptionsFree)> options(TIFFOpenOptionsAlloc(),
                                                                                 &TIFFOpenOptionsFree);
  TIFFOpenOptionsSetMaxSingleMemAlloc(options.get(), kLargestStrip + (1 << 20));
  TIFFOpenOptionsSetErrorHandlerExtR(options.get(), on_error, made.get());
  TIFFOpenOptionsSetWarningHandlerExtR(options.get(), on_warning, made.get());
  // m: no mapping of the file; C: an uncompressed picture in one strip is read as many.
  made->tiff_ = TIFFClientOpenExt(file.path().c_str(), "rmC", made.get(), on_read, on_write, on_seek, on_close, on_size,
                                  nullptr, nullptr, options.get());
  return made;
}

TiffFile::~TiffFile() {
  if (tiff_) TIFFClose(tiff_);
}

tmsize_t TiffFile::on_read(thandle_t self, void* to, tmsize_t count) {
  auto* me = static_cast<TiffFile*>(self);
  const auto got = me->file_->read(static_cast<std::int64_t>(me->at_),
                                   {static_cast<std::uint8_t*>(to), static_cast<std::size_t>(count)});
  if (got < static_cast<std::size_t>(count)) me->short_ = true;
  me->at_ += got;
  return static_cast<tmsize_t>(got);
}

toff_t TiffFile::on_seek(thandle_t self, toff_t offset, int from) {
  auto* me = static_cast<TiffFile*>(self);
  if (from == SEEK_CUR) offset += me->at_;
  if (from == SEEK_END) offset += static_cast<toff_t>(me->file_->size());
  if (offset > static_cast<toff_t>(me->file_->size())) me->short_ = true;
  if (offset > toff_t{1} << 62) return static_cast<toff_t>(-1);
  return me->at_ = offset;
}

toff_t TiffFile::on_size(thandle_t self) { return static_cast<toff_t>(static_cast<TiffFile*>(self)->file_->size()); }

int TiffFile::on_warning(TIFF*, void* self, const char* module, const char*, va_list) {
  const std::string_view who = module ? module : "";
  if (who == "JPEGLib" || who == "PackBitsDecode") static_cast<TiffFile*>(self)->lost_ = true;
  return 1;
}

}  // namespace pontata
