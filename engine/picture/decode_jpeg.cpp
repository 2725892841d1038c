// JPEG through libjpeg: row by row; one of several scans through its coefficients, on a scratch file where it is large.
#include <jerror.h>

#include <algorithm>
#include <array>
#include <csetjmp>
#include <optional>

#include "engine/picture/jpeg_arrays.h"
#include "engine/picture/jpeg_segments.h"
#include "engine/picture/picture_decoder.h"

namespace pontata {

namespace {

constexpr int kMostScans = 200;                       // usual progressive files have about ten
constexpr std::int64_t kPixelsInMemory = 16'000'000;  // of several scans

class JpegDecoder final : public PictureDecoder {
 public:
  JpegDecoder(PictureFile file, const JpegFacts& facts) : file_(std::move(file)), arrays_(file_.path()) {
    head_.path = file_.path();
    head_.width = facts.width, head_.height = facts.height;
    head_.colours = facts.components;
    head_.orientation = facts.orientation;
    head_.profile = facts.profile;
  }
  ~JpegDecoder() override {
    if (created_) jpeg_destroy_decompress(&cinfo_);
  }

  Outcome start() {
    cinfo_.err = jpeg_std_error(&errors_);
    errors_.decoder = this;
    errors_.error_exit = on_error;
    errors_.emit_message = on_message;
    errors_.output_message = [](j_common_ptr) {};
    source_.init_source = [](j_decompress_ptr) {};
    source_.fill_input_buffer = on_fill;
    source_.skip_input_data = on_skip;
    source_.resync_to_restart = jpeg_resync_to_restart;
    source_.term_source = [](j_decompress_ptr) {};
    watch_.progress_monitor = on_progress;
    if (!set_up()) return problem();
    const bool same = static_cast<int>(cinfo_.image_width) == head_.width &&
                      static_cast<int>(cinfo_.image_height) == head_.height && cinfo_.num_components == head_.colours;
    if (!same) return damaged(head_.path);
    return Done{};
  }

  bool prepares() const override { return many_scans_; }
  Outcome prepare(const Progress* progress, double share) override {
    progress_ = progress, share_ = share;
    const bool begun = begin();
    progress_ = nullptr;
    return begun ? Outcome(Done{}) : problem();
  }
  Outcome next_row(std::span<std::uint8_t> to) override {
    return (begun_ || begin()) && read(to.data()) ? Outcome(Done{}) : problem();
  }
  Outcome finish() override { return end() ? Outcome(Done{}) : problem(); }

 private:
  static JpegDecoder& of(j_common_ptr cinfo) { return *static_cast<Errors*>(cinfo->err)->decoder; }
  [[noreturn]] static void on_error(j_common_ptr cinfo) { std::longjmp(of(cinfo).back_, 1); }
  // Warnings that leave every pixel as it was meant; any other means lost pixels.
  static void on_message(j_common_ptr cinfo, int level) {
    if (level >= 0) return;
    constexpr std::array harmless{JWRN_EXTRANEOUS_DATA, JWRN_ADOBE_XFORM, JWRN_JFIF_MAJOR, JWRN_TOO_MUCH_DATA};
    for (const int code : harmless)
      if (cinfo->err->msg_code == code) return;
    on_error(cinfo);
  }
  static boolean on_fill(j_decompress_ptr cinfo) {
    auto& self = of(reinterpret_cast<j_common_ptr>(cinfo));
    const std::size_t got = self.file_.read(self.at_, self.buffer_);
    self.at_ += static_cast<std::int64_t>(got);
    self.source_.next_input_byte = self.buffer_.data();
    self.source_.bytes_in_buffer = got;
    if (got == 0) {
      self.short_ = true;
      on_error(reinterpret_cast<j_common_ptr>(cinfo));
    }
    return TRUE;
  }
  static void on_skip(j_decompress_ptr cinfo, long count) {
    auto& source = *cinfo->src;
    while (count > static_cast<long>(source.bytes_in_buffer)) {
      count -= static_cast<long>(source.bytes_in_buffer);
      on_fill(cinfo);
    }
    if (count <= 0) return;
    source.next_input_byte += count;
    source.bytes_in_buffer -= static_cast<std::size_t>(count);
  }
  static void on_progress(j_common_ptr cinfo) {
    auto& self = of(cinfo);
    const auto& watch = self.watch_;
    if (watch.pass_limit > 0) {  // a guess that may grow
      self.done_ =
          std::max(self.done_, static_cast<double>(watch.pass_counter) / static_cast<double>(watch.pass_limit));
      report(self.progress_, self.share_ * std::min(1.0, self.done_), "reading the picture");
    }
    self.stopped_ = is_cancelled(self.progress_);
    if (self.stopped_ || self.cinfo_.input_scan_number > kMostScans) on_error(cinfo);
  }

  // libjpeg leaves these by a long jump: they hold nothing that would need destroying.
  bool set_up() {
    if (setjmp(back_)) return false;
    jpeg_create_decompress(&cinfo_);  // clears all but the error manager
    created_ = true;
    cinfo_.src = &source_;
    cinfo_.client_data = &arrays_;
    cinfo_.progress = &watch_;
    jpeg_read_header(&cinfo_, TRUE);
    cinfo_.out_color_space = head_.colours == 1 ? JCS_GRAYSCALE : JCS_RGB;
    many_scans_ = jpeg_has_multiple_scans(&cinfo_);
    if (many_scans_ && std::int64_t{head_.width} * head_.height > kPixelsInMemory) arrays_.serve(cinfo_);
    return true;
  }
  bool begin() {
    if (setjmp(back_)) return false;
    jpeg_start_decompress(&cinfo_);
    begun_ = true;
    return true;
  }
  bool read(std::uint8_t* row) {
    if (setjmp(back_)) return false;
    return jpeg_read_scanlines(&cinfo_, &row, 1) == 1;
  }
  bool end() {
    if (setjmp(back_)) return false;
    jpeg_finish_decompress(&cinfo_);
    return true;
  }
  Problem problem() const {
    if (stopped_) return {"stopped", "", ""};
    if (arrays_.problem()) return *arrays_.problem();
    return short_ ? cut_short(head_.path) : damaged(head_.path);
  }

  struct Errors : jpeg_error_mgr {
    JpegDecoder* decoder;
  };
  PictureFile file_;
  JpegArrays arrays_;
  jpeg_decompress_struct cinfo_{};
  Errors errors_{};
  jpeg_progress_mgr watch_{};
  jpeg_source_mgr source_{};
  std::jmp_buf back_;
  std::vector<std::uint8_t> buffer_ = std::vector<std::uint8_t>(std::size_t{1} << 18);
  std::int64_t at_ = 0;
  const Progress* progress_ = nullptr;
  double share_ = 1, done_ = 0;
  bool created_ = false, begun_ = false, many_scans_ = false;
  bool short_ = false, stopped_ = false;
};

}  // namespace

Result<DecoderRef> open_jpeg(PictureFile file, std::int64_t most) {
  const auto facts = jpeg_facts(file, most);
  if (!facts) return facts.problem();
  auto decoder = std::make_unique<JpegDecoder>(std::move(file), *facts);
  if (const auto started = decoder->start(); !started) return started.problem();
  return DecoderRef(std::move(decoder));
}

}  // namespace pontata
