#include "engine/document/folder_lock.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>

namespace pontata {

FolderLock::FolderLock(const std::string& file, const std::function<void()>& waits) {
  std::error_code unknown;
  auto real = std::filesystem::weakly_canonical(file, unknown);
  if (unknown) real = file;
  const std::string folder = real.has_parent_path() ? real.parent_path().string() : ".";
  folder_ = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (folder_ < 0 || ::flock(folder_, LOCK_EX | LOCK_NB) == 0) return;
  if (errno == EWOULDBLOCK && waits) waits();
  while (::flock(folder_, LOCK_EX) != 0 && errno == EINTR) {
  }
}

FolderLock::~FolderLock() {
  if (folder_ >= 0) ::close(folder_);
}

}  // namespace pontata
