#include "engine/picture/scratch_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <utility>

namespace pontata {

namespace {

constexpr std::size_t kInMemory = std::size_t{64} << 20;

std::string scratch_folder() {
  if (const char* named = std::getenv("TMPDIR"); named && *named) return named;
  return ::access("/var/tmp", W_OK | X_OK) == 0 ? "/var/tmp" : "/tmp";
}

bool is_full(int error) { return error == ENOSPC || error == EDQUOT || error == EFBIG; }

}  // namespace

Result<ScratchFile> ScratchFile::open(std::int64_t bytes, const std::string& path) {
  const std::string folder = scratch_folder();
  std::string name = folder + "/pontata-XXXXXX";
  const int handle = ::mkostemp(name.data(), O_CLOEXEC);
  if (handle < 0) {
    if (is_full(errno)) return ScratchFile(-1, bytes, folder, path).no_room();
    return Problem{"the picture needs a temporary file, and " + folder + " cannot be written to", path,
                   "Set TMPDIR to a folder that may be written to."};
  }
  ::unlink(name.c_str());
  ScratchFile file(handle, bytes, folder, path);
  if (::fallocate(handle, 0, 0, bytes) != 0) {
    // A file system that cannot reserve room gives it as it is written to.
    if (is_full(errno) || ::ftruncate(handle, bytes) != 0) return file.no_room();
  }
  return file;
}

ScratchFile::ScratchFile(ScratchFile&& other) noexcept
    : handle_(std::exchange(other.handle_, -1)),
      bytes_(other.bytes_),
      folder_(std::move(other.folder_)),
      path_(std::move(other.path_)) {}

ScratchFile::~ScratchFile() {
  if (handle_ >= 0) ::close(handle_);
}

bool ScratchFile::write(std::int64_t at, const void* from, std::size_t count) const {
  const auto* bytes = static_cast<const std::uint8_t*>(from);
  while (count > 0) {
    const auto put = ::pwrite(handle_, bytes, count, at);
    if (put < 0 && errno == EINTR) continue;
    if (put <= 0) return false;
    bytes += put, at += put, count -= static_cast<std::size_t>(put);
  }
  return true;
}

bool ScratchFile::read(std::int64_t at, void* to, std::size_t count) const {
  auto* bytes = static_cast<std::uint8_t*>(to);
  while (count > 0) {
    const auto got = ::pread(handle_, bytes, count, at);
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) return false;
    bytes += got, at += got, count -= static_cast<std::size_t>(got);
  }
  return true;
}

Problem ScratchFile::no_room() const {
  return {fmt::format("the picture needs {:.1f} GB of temporary room, and {} has not as much",
                      std::max(0.1, static_cast<double>(bytes_) / 1e9), folder_),
          path_, "Make room there, or set TMPDIR to a folder that has it."};
}

Result<RowStore> RowStore::make(int rows, std::size_t row_bytes, const std::string& path) {
  RowStore store;
  store.row_bytes_ = row_bytes;
  const std::size_t bytes = static_cast<std::size_t>(rows) * row_bytes;
  if (bytes <= kInMemory) {
    store.memory_.resize(bytes);
    return store;
  }
  auto file = ScratchFile::open(static_cast<std::int64_t>(bytes), path);
  if (!file) return file.problem();
  store.file_ = std::make_shared<ScratchFile>(std::move(*file));
  return store;
}

bool RowStore::write(int row, const std::uint8_t* from) {
  const std::size_t at = static_cast<std::size_t>(row) * row_bytes_;
  if (file_) return file_->write(static_cast<std::int64_t>(at), from, row_bytes_);
  std::copy_n(from, row_bytes_, memory_.data() + at);
  return true;
}

bool RowStore::read(int row, std::uint8_t* to) const {
  const std::size_t at = static_cast<std::size_t>(row) * row_bytes_;
  if (file_) return file_->read(static_cast<std::int64_t>(at), to, row_bytes_);
  std::copy_n(memory_.data() + at, row_bytes_, to);
  return true;
}

}  // namespace pontata
