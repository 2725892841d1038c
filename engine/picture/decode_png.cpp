// PNG through libpng: row by row; an interlaced one through a store of rows that its seven passes fill in.
//
// Based on: W3C, "Portable Network Graphics (PNG) Specification", 2003, section 8 (interlacing).
#include <png.h>

#include <algorithm>
#include <bit>
#include <optional>
#include <vector>

#include "engine/picture/picture_decoder.h"
#include "engine/picture/png_chunks.h"
#include "engine/picture/scratch_file.h"

namespace pontata {

namespace {

class PngDecoder final : public PictureDecoder {
 public:
  PngDecoder(PictureFile file, const PngFacts& facts) : file_(std::move(file)), interlaced_(facts.interlaced) {
    head_.path = file_.path();
    head_.width = facts.width, head_.height = facts.height;
    const bool colour = (facts.colour_type & PNG_COLOR_MASK_COLOR) != 0;
    head_.colours = colour ? 3 : 1;
    head_.opacity = (facts.colour_type & PNG_COLOR_MASK_ALPHA) != 0 || facts.see_through_colour;
    head_.bits = facts.bits == 16 ? 16 : 8;
    head_.orientation = facts.orientation;
    head_.profile = facts.profile;
    head_.numbers = facts.numbers;
  }
  ~PngDecoder() override { png_destroy_read_struct(&png_, &info_, nullptr); }

  Outcome start() {
    png_ = png_create_read_struct(PNG_LIBPNG_VER_STRING, this, on_error, on_warning);
    info_ = png_ ? png_create_info_struct(png_) : nullptr;
    // What libpng makes of it must be what the head promises, or rows would run over.
    if (!info_ || !set_up() || png_get_rowbytes(png_, info_) != head_.row_bytes()) return damaged(head_.path);
    return Done{};
  }

  bool prepares() const override { return interlaced_; }
  Outcome prepare(const Progress* progress, double share) override {
    auto store = RowStore::make(head_.height, head_.row_bytes(), head_.path);
    if (!store) return store.problem();
    store_ = std::move(*store);
    int done = 0;
    for (int pass = 0; pass < PNG_INTERLACE_ADAM7_PASSES; ++pass)
      if (const auto filled = fill(pass, done, progress, share); !filled) return filled;
    return Done{};
  }

  Outcome next_row(std::span<std::uint8_t> to) override {
    if (store_) return store_->read(next_++, to.data()) ? Outcome(Done{}) : damaged(head_.path);
    return read(to.data()) ? Outcome(Done{}) : damaged(head_.path);
  }

  Outcome finish() override { return read_end() ? Outcome(Done{}) : damaged(head_.path); }

 private:
  static void on_error(png_structp png, png_const_charp) { png_longjmp(png, 1); }
  static void on_warning(png_structp, png_const_charp) {}
  static void on_read(png_structp png, png_bytep to, std::size_t count) {
    auto* self = static_cast<PngDecoder*>(png_get_io_ptr(png));
    while (count > 0) {
      if (self->used_ == self->held_ && !self->refill()) png_error(png, "cut short");
      const std::size_t n = std::min(count, self->held_ - self->used_);
      std::copy_n(self->buffer_.data() + self->used_, n, to);
      self->used_ += n, to += n, count -= n;
    }
  }
  bool refill() {
    held_ = file_.read(at_, buffer_);
    at_ += static_cast<std::int64_t>(held_);
    used_ = 0;
    return held_ > 0;
  }

  // libpng leaves these three by a long jump: they hold nothing that would need destroying.
  bool set_up() {
    if (setjmp(png_jmpbuf(png_))) return false;
    png_set_read_fn(png_, this, on_read);
    png_set_user_limits(png_, kLongestPictureSide, kLongestPictureSide);
    png_set_crc_action(png_, PNG_CRC_ERROR_QUIT, PNG_CRC_ERROR_QUIT);
    png_set_keep_unknown_chunks(png_, PNG_HANDLE_CHUNK_NEVER, nullptr, -1);  // png_facts() has read them
    png_read_info(png_, info_);
    png_set_expand(png_);
    if (std::endian::native == std::endian::little) png_set_swap(png_);
    png_read_update_info(png_, info_);
    return true;
  }
  bool read(std::uint8_t* row) {
    if (setjmp(png_jmpbuf(png_))) return false;
    png_read_row(png_, row, nullptr);
    return true;
  }
  bool read_end() {
    if (setjmp(png_jmpbuf(png_))) return false;
    png_read_end(png_, nullptr);
    return true;
  }

  Outcome fill(int pass, int& done, const Progress* progress, double share) {
    const int columns = static_cast<int>(PNG_PASS_COLS(static_cast<png_uint_32>(head_.width), pass));
    const int rows = static_cast<int>(PNG_PASS_ROWS(static_cast<png_uint_32>(head_.height), pass));
    if (columns == 0) return Done{};
    const std::size_t pixel = static_cast<std::size_t>(head_.channels() * head_.bits / 8);
    std::vector<std::uint8_t> part(head_.row_bytes()), whole(head_.row_bytes());
    for (int r = 0; r < rows; ++r, ++done) {
      if (is_cancelled(progress)) return Problem{"stopped", "", ""};
      report(progress, share * std::min(1.0, done / (1.875 * head_.height)), "reading the picture");
      const int y = static_cast<int>(PNG_ROW_FROM_PASS_ROW(r, pass));
      if (!read(part.data()) || !store_->read(y, whole.data())) return damaged(head_.path);
      for (int c = 0; c < columns; ++c) {
        const auto x = static_cast<std::size_t>(PNG_COL_FROM_PASS_COL(c, pass));
        std::copy_n(part.data() + pixel * static_cast<std::size_t>(c), pixel, whole.data() + pixel * x);
      }
      if (!store_->write(y, whole.data())) return store_->no_room();
    }
    return Done{};
  }

  PictureFile file_;
  bool interlaced_;
  png_structp png_ = nullptr;
  png_infop info_ = nullptr;
  std::vector<std::uint8_t> buffer_ = std::vector<std::uint8_t>(std::size_t{1} << 18);
  std::size_t used_ = 0, held_ = 0;
  std::int64_t at_ = 0;
  std::optional<RowStore> store_;
  int next_ = 0;
};

}  // namespace

Result<DecoderRef> open_png(PictureFile file, std::int64_t most) {
  const auto facts = png_facts(file, most);
  if (!facts) return facts.problem();
  auto decoder = std::make_unique<PngDecoder>(std::move(file), *facts);
  if (const auto started = decoder->start(); !started) return started.problem();
  return DecoderRef(std::move(decoder));
}

}  // namespace pontata
