// The coefficients of a JPEG whose scans each add to the whole picture, on a scratch file: libjpeg's own managers keep
// them in memory, 2 to 6 bytes a pixel.
//
// Based on: libjpeg's "structure.txt", "Virtual arrays" (what a memory manager owes its callers).
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/picture/scratch_file.h"
// clang-format off
#include <cstdio>  // jpeglib.h wants it before
#include <jpeglib.h>
// clang-format on

namespace pontata {

class JpegArrays {
 public:
  // `path`: the picture, for messages.
  explicit JpegArrays(std::string path) : path_(std::move(path)) {}

  // Serves the virtual arrays of `cinfo` from now on. It must have been created; this must outlive its decompression,
  // and `cinfo.client_data` hold this.
  void serve(jpeg_decompress_struct& cinfo);
  // Why the decompression was left, where it was for want of room.
  const std::optional<Problem>& problem() const { return problem_; }

 private:
  struct alignas(64) Block {  // the inverse transform reads whole vectors
    JCOEF coefficients[DCTSIZE2];
  };
  struct Array {
    JDIMENSION across, rows, most;  // blocks a row, rows, rows held at once
    std::int64_t at = 0;            // in the file
    JDIMENSION first = 0, held = 0;
    bool changed = false;
    std::vector<Block> window;
    std::vector<JBLOCKROW> row_starts;
  };
  static JpegArrays& of(j_common_ptr cinfo);
  static jvirt_barray_ptr on_request(j_common_ptr cinfo, int pool, boolean zero, JDIMENSION across, JDIMENSION rows,
                                     JDIMENSION most);
  static void on_realize(j_common_ptr cinfo);
  static JBLOCKARRAY on_access(j_common_ptr cinfo, jvirt_barray_ptr ptr, JDIMENSION first, JDIMENSION count,
                               boolean writable);
  bool realize();
  bool flush(Array& array);
  bool load(Array& array, JDIMENSION first);
  static std::size_t row_bytes(const Array& array) { return array.across * sizeof(Block); }

  std::string path_;
  std::vector<std::unique_ptr<Array>> arrays_;
  std::optional<ScratchFile> file_;
  std::optional<Problem> problem_;
};

}  // namespace pontata
