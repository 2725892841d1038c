#include "engine/cartoon/jpeg.h"

#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <stdexcept>
// after cstdio, which it needs
#include <jpeglib.h>

namespace pontata {

std::vector<std::uint8_t> jpeg_of(const Image& image, int quality) {
  if (image.width < 1 || image.height < 1 || image.width > 65500 || image.height > 65500)
    throw std::logic_error("a JPEG has sides of 1 to 65,500 dots");
  jpeg_compress_struct job;
  jpeg_error_mgr errors;
  job.err = jpeg_std_error(&errors);  // nothing can fail below but memory, and then the program ends
  jpeg_create_compress(&job);
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&job, &bytes, &size);
  job.image_width = static_cast<JDIMENSION>(image.width), job.image_height = static_cast<JDIMENSION>(image.height);
  job.input_components = 3, job.in_color_space = JCS_RGB;
  jpeg_set_defaults(&job);
  jpeg_set_quality(&job, quality, TRUE);
  job.optimize_coding = TRUE;
  jpeg_start_compress(&job, TRUE);
  const std::size_t stride = 3 * static_cast<std::size_t>(image.width);
  for (std::size_t y = 0; job.next_scanline < job.image_height; ++y) {
    JSAMPROW row = const_cast<JSAMPROW>(image.rgb.data() + y * stride);  // read only
    jpeg_write_scanlines(&job, &row, 1);
  }
  jpeg_finish_compress(&job);
  std::vector<std::uint8_t> out(bytes, bytes + size);
  jpeg_destroy_compress(&job);
  std::free(bytes);
  return out;
}

}  // namespace pontata
