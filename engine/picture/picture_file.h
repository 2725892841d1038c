// A picture's file: opened safely, read in pieces, and told by its first bytes.
#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "engine/base/result.h"

namespace pontata {

enum class PictureKind { png, jpeg, tiff };

// A regular file, open for reading in pieces; several places may be read in any order. Safe from several threads.
class PictureFile {
 public:
  // A Problem for what is absent, a folder, no regular file (a device, a pipe), or not to be read. Never waits.
  static Result<PictureFile> open(const std::string& path);
  PictureFile(PictureFile&& other) noexcept;
  PictureFile& operator=(PictureFile&&) = delete;
  ~PictureFile();

  const std::string& path() const { return path_; }
  std::int64_t size() const { return size_; }  // bytes
  // Fills `to` from byte `at` on; the count of bytes that were there.
  std::size_t read(std::int64_t at, std::span<std::uint8_t> to) const;
  bool read_whole(std::int64_t at, std::span<std::uint8_t> to) const { return read(at, to) == to.size(); }

 private:
  PictureFile(int handle, std::int64_t size, std::string path) : handle_(handle), size_(size), path_(std::move(path)) {}
  int handle_;
  std::int64_t size_;
  std::string path_;
};

// PNG, JPEG or TIFF by its first bytes. A Problem that says what the file really is, where its name ends like another
// kind or it is of none of the three; names without an ending, or with one that is no picture's, may hold any.
Result<PictureKind> kind_of(const PictureFile& file);

// Most pixels that are read, and the longest side.
constexpr std::int64_t kMostPicturePixels = 400'000'000;
constexpr std::int64_t kLongestPictureSide = 100'000;
// A Problem for a picture without pixels, or with more than `most`, or a longer side than that.
Outcome check_size(const std::string& path, std::int64_t width, std::int64_t height,
                   std::int64_t most = kMostPicturePixels);

// The two common faults of a file.
Problem cut_short(const std::string& path);
Problem damaged(const std::string& path);

}  // namespace pontata
