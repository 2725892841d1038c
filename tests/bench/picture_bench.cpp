// Reading pictures of 200 megapixels: time and peak memory, each kind of file in a process of its own.
// bench_picture [SIDE_X SIDE_Y]; the files are written to TMPDIR (or /var/tmp) and removed.
#include <png.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <tiffio.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "engine/picture/picture_source.h"
// clang-format off
#include <jpeglib.h>
// clang-format on

namespace {

using Row = std::vector<std::uint8_t>;

// Painted-looking rows: smooth colours with strokes and grain.
void fill(Row& row, int y, int channels, int bytes) {
  std::uint32_t grain = static_cast<std::uint32_t>(y) * 2654435761u + 1;
  const int width = static_cast<int>(row.size()) / (channels * bytes);
  for (int x = 0; x < width; ++x)
    for (int c = 0; c < channels; ++c) {
      grain = grain * 1664525u + 1013904223u;
      const int v = 120 + (x / 40 + y / 60 + 50 * c) % 100 + static_cast<int>(grain >> 29);
      std::uint8_t* to = row.data() + (x * channels + c) * bytes;
      to[bytes - 1] = static_cast<std::uint8_t>(v);
      if (bytes == 2) to[0] = static_cast<std::uint8_t>(grain >> 16);
    }
}

void write_png(const std::string& path, int width, int height, bool interlaced) {
  FILE* file = std::fopen(path.c_str(), "wb");
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
  png_infop info = png_create_info_struct(png);
  png_init_io(png, file);
  png_set_compression_level(png, 1);
  png_set_IHDR(png, info, static_cast<png_uint_32>(width), static_cast<png_uint_32>(height), 8, PNG_COLOR_TYPE_RGB,
               interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
               PNG_FILTER_TYPE_DEFAULT);
  png_write_info(png, info);
  const int passes = interlaced ? png_set_interlace_handling(png) : 1;
  Row row(static_cast<std::size_t>(width) * 3);
  for (int pass = 0; pass < passes; ++pass)
    for (int y = 0; y < height; ++y) fill(row, y, 3, 1), png_write_row(png, row.data());
  png_write_end(png, info);
  png_destroy_write_struct(&png, &info);
  std::fclose(file);
}

void write_jpeg(const std::string& path, int width, int height, bool progressive) {
  FILE* file = std::fopen(path.c_str(), "wb");
  jpeg_compress_struct cinfo;
  jpeg_error_mgr errors;
  cinfo.err = jpeg_std_error(&errors);
  jpeg_create_compress(&cinfo);
  jpeg_stdio_dest(&cinfo, file);
  cinfo.image_width = static_cast<JDIMENSION>(width);
  cinfo.image_height = static_cast<JDIMENSION>(height);
  cinfo.input_components = 3;
  cinfo.in_color_space = JCS_RGB;
  jpeg_set_defaults(&cinfo);
  jpeg_set_quality(&cinfo, 90, TRUE);
  if (progressive) jpeg_simple_progression(&cinfo);
  jpeg_start_compress(&cinfo, TRUE);
  Row row(static_cast<std::size_t>(width) * 3);
  for (int y = 0; y < height; ++y) {
    fill(row, y, 3, 1);
    JSAMPROW rows = row.data();
    jpeg_write_scanlines(&cinfo, &rows, 1);
  }
  jpeg_finish_compress(&cinfo);
  jpeg_destroy_compress(&cinfo);
  std::fclose(file);
}

void write_tiff(const std::string& path, int width, int height, int bits, int compression, int tile, int channels) {
  TIFF* tiff = TIFFOpen(path.c_str(), "w");
  TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, width);
  TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, height);
  TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, bits);
  TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, channels);
  TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_RGB);
  TIFFSetField(tiff, TIFFTAG_COMPRESSION, compression);
  TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
  const std::uint16_t opacity = EXTRASAMPLE_UNASSALPHA;
  if (channels == 4) TIFFSetField(tiff, TIFFTAG_EXTRASAMPLES, 1, &opacity);
  if (compression == COMPRESSION_ADOBE_DEFLATE) TIFFSetField(tiff, TIFFTAG_ZIPQUALITY, 1);
  if (!tile) {
    TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, 64);
    Row row(static_cast<std::size_t>(width * channels * bits / 8));
    for (int y = 0; y < height; ++y)
      fill(row, y, channels, bits / 8), TIFFWriteScanline(tiff, row.data(), static_cast<std::uint32_t>(y));
  } else {
    TIFFSetField(tiff, TIFFTAG_TILEWIDTH, tile);
    TIFFSetField(tiff, TIFFTAG_TILELENGTH, tile);
    Row row(static_cast<std::size_t>(tile * channels * bits / 8)), block;
    for (int y = 0; y < height; y += tile)
      for (int x = 0; x < width; x += tile) {
        block.clear();
        for (int k = 0; k < tile; ++k)
          fill(row, y + k, channels, bits / 8), block.insert(block.end(), row.begin(), row.end());
        TIFFWriteTile(tiff, block.data(), static_cast<std::uint32_t>(x), static_cast<std::uint32_t>(y), 0, 0);
      }
  }
  TIFFClose(tiff);
}

// Runs in a process of its own; its peak memory in MB, or -1.
double apart(const std::function<bool()>& work) {
  const pid_t child = fork();
  if (child == 0) {
    const bool done = work();
    std::fflush(nullptr);
    _exit(done ? 0 : 1);
  }
  int status = 0;
  rusage used{};
  wait4(child, &status, 0, &used);
  return status == 0 ? static_cast<double>(used.ru_maxrss) / 1024 : -1;
}

bool read_it(const std::string& path) {
  const auto start = std::chrono::steady_clock::now();
  const auto picture = pontata::read_picture(path);
  if (!picture) {
    std::printf("%s\n", picture.problem().message().c_str());
    return false;
  }
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  const auto cpu = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6;
  };
  std::printf("  %6.1f s by the clock, %5.1f s of the processor,",
              std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(),
              cpu(used.ru_utime) + cpu(used.ru_stime));
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  const int width = argc > 2 ? std::atoi(argv[1]) : 20000, height = argc > 2 ? std::atoi(argv[2]) : 10000;
  const char* named = std::getenv("TMPDIR");
  const std::string folder = named && *named ? named : "/var/tmp";
  const auto path = [&](const char* end) { return folder + "/pontata-bench-" + std::to_string(getpid()) + end; };
  const std::string png = path(".png"), jpg = path(".jpg"), tif = path(".tif");
  const struct {
    const char* name;
    std::string file;
    std::function<void()> write;
  } kinds[] = {
      {"JPEG", jpg, [&] { write_jpeg(jpg, width, height, false); }},
      {"JPEG, progressive", jpg, [&] { write_jpeg(jpg, width, height, true); }},
      {"PNG", png, [&] { write_png(png, width, height, false); }},
      {"PNG, interlaced", png, [&] { write_png(png, width, height, true); }},
      {"TIFF, strips, LZW", tif, [&] { write_tiff(tif, width, height, 8, COMPRESSION_LZW, 0, 3); }},
      {"TIFF, strips, 16 bits, opacity, plain", tif,
       [&] { write_tiff(tif, width, height, 16, COMPRESSION_NONE, 0, 4); }},
      {"TIFF, tiles of 256, 16 bits, deflate", tif,
       [&] { write_tiff(tif, width, height, 16, COMPRESSION_ADOBE_DEFLATE, 256, 3); }},
      {"TIFF, tiles of 512, JPEG", tif, [&] { write_tiff(tif, width, height, 8, COMPRESSION_JPEG, 512, 3); }},
  };
  std::printf("%d x %d pixels\n", width, height);
  for (const auto& kind : kinds) {
    apart([&] { return kind.write(), true; });
    std::printf("%-40s %7.0f MB of file,", kind.name, static_cast<double>(std::filesystem::file_size(kind.file)) / 1e6);
    std::fflush(stdout);
    const double peak = apart([&] { return read_it(kind.file); });
    std::printf(" peak memory %.0f MB\n", peak);
    std::filesystem::remove(kind.file);
  }
}
