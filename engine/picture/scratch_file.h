// Room outside memory: a temporary file without a name, gone with the object.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "engine/base/result.h"

namespace pontata {

// In the folder that TMPDIR names, else /var/tmp (which is meant for large files), else /tmp. Reading and writing are
// safe from several threads.
class ScratchFile {
 public:
  // Room for `bytes` is taken at once where the file system can. Bytes not written yet read as zeros. A Problem in
  // the name of the picture at `path` where the folder cannot be written to or has no room.
  static Result<ScratchFile> open(std::int64_t bytes, const std::string& path);
  ScratchFile(ScratchFile&& other) noexcept;
  ScratchFile& operator=(ScratchFile&&) = delete;
  ~ScratchFile();

  // False where there is no room.
  bool write(std::int64_t at, const void* from, std::size_t count) const;
  // False where the disk fails.
  bool read(std::int64_t at, void* to, std::size_t count) const;
  // What to say when a write fails.
  Problem no_room() const;

 private:
  ScratchFile(int handle, std::int64_t bytes, std::string folder, std::string path)
      : handle_(handle), bytes_(bytes), folder_(std::move(folder)), path_(std::move(path)) {}
  int handle_;
  std::int64_t bytes_;
  std::string folder_, path_;
};

// Rows of bytes in any order: in memory while small, else in a scratch file. Rows not written yet are zeros.
class RowStore {
 public:
  static Result<RowStore> make(int rows, std::size_t row_bytes, const std::string& path);
  bool write(int row, const std::uint8_t* from);
  bool read(int row, std::uint8_t* to) const;
  Problem no_room() const { return file_->no_room(); }

 private:
  std::size_t row_bytes_ = 0;
  std::vector<std::uint8_t> memory_;
  std::shared_ptr<ScratchFile> file_;
};

}  // namespace pontata
