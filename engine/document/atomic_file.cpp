#include "engine/document/atomic_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <memory>
#include <utility>

namespace pontata {

namespace {

Problem cannot_write(const std::string& path, int error) {
  std::string remedy = "Save it to another folder.";
  if (error == ENOSPC || error == EDQUOT) remedy = "The disk is full: make room and save again.";
  if (error == ENOENT || error == ENOTDIR) remedy = "Make the folder first, or choose another one.";
  return {std::string("cannot be written (") + std::strerror(error) + ")", path, remedy};
}

std::string follow_links(const std::string& path) {
  const std::unique_ptr<char, void (*)(void*)> real(::realpath(path.c_str(), nullptr), std::free);
  return real ? std::string(real.get()) : path;
}

std::string folder_of(const std::string& path) {
  const auto slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

bool write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t wrote = ::write(file, bytes.data(), bytes.size());
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(wrote));
  }
  return true;
}

// A new file in `folder` under a name nobody uses; -1 with errno set when there can be none.
int open_beside(const std::string& folder, std::string& name) {
  for (int attempt = 0; attempt < 1000; ++attempt) {
    name = folder + "/.pontata-" + std::to_string(::getpid()) + "-" + std::to_string(attempt);
    const int file = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (file >= 0 || errno != EEXIST) return file;
  }
  return -1;
}

// 0, or the error number.
int write_and_sync(int file, std::string_view bytes, const struct stat* old) {
  if (!write_all(file, bytes)) return errno;
  if (old && ::fchmod(file, old->st_mode & 07777) != 0) return errno;
  return ::fsync(file) == 0 ? 0 : errno;
}

void sync_folder(const std::string& folder) {
  const int handle = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (handle < 0) return;
  ::fsync(handle);  // some file systems refuse it for folders; the rename stands all the same
  ::close(handle);
}

// What is to be written over, links followed, must be an ordinary file that may be written, or not be there.
Outcome check_target(const std::string& target, const std::string& path, struct stat& there, bool& exists) {
  exists = ::stat(target.c_str(), &there) == 0;
  if (!exists) return Done{};
  if (S_ISDIR(there.st_mode)) return Problem{"is a folder, not a file", path, "Give the name of a file."};
  if (!S_ISREG(there.st_mode)) return Problem{"is not an ordinary file", path, "Give another name."};
  if (::access(target.c_str(), W_OK) != 0) return cannot_write(path, errno);
  return Done{};
}

// A file written beside the one it is to become; taken away unless it was put there.
class Staged {
 public:
  Staged() = default;
  Staged(Staged&& other) noexcept
      : path_(std::move(other.path_)), target_(std::move(other.target_)), beside_(std::exchange(other.beside_, {})) {}
  Staged(const Staged&) = delete;
  Staged& operator=(const Staged&) = delete;
  Staged& operator=(Staged&&) = delete;
  ~Staged() {
    if (!beside_.empty()) ::unlink(beside_.c_str());
  }

  Outcome write(const std::string& path, std::string_view bytes) {
    path_ = path;
    target_ = follow_links(path);
    struct stat there {};
    bool exists = false;
    if (const auto good = check_target(target_, path, there, exists); !good) return good;
    std::string name;
    const int file = open_beside(folder_of(target_), name);
    if (file < 0) return cannot_write(path, errno);
    beside_ = name;
    int error = write_and_sync(file, bytes, exists ? &there : nullptr);
    if (::close(file) != 0 && error == 0) error = errno;
    return error == 0 ? Outcome(Done{}) : Outcome(cannot_write(path, error));
  }

  Outcome put_in_place() {
    if (::rename(beside_.c_str(), target_.c_str()) != 0) return cannot_write(path_, errno);
    beside_.clear();
    sync_folder(folder_of(target_));
    return Done{};
  }

 private:
  std::string path_, target_, beside_;
};

}  // namespace

Outcome write_files_atomically(const std::vector<FileToWrite>& files) {
  std::vector<Staged> staged;
  for (const auto& file : files) {
    staged.emplace_back();
    if (const auto wrote = staged.back().write(file.path, file.bytes); !wrote) return wrote.problem();
  }
  for (auto& file : staged)
    if (const auto put = file.put_in_place(); !put) return put.problem();
  return Done{};
}

Outcome check_may_write(const std::string& path) {
  const std::string target = follow_links(path);
  struct stat there {};
  bool exists = false;
  if (const auto good = check_target(target, path, there, exists); !good) return good;
  if (::access(folder_of(target).c_str(), W_OK | X_OK) != 0) return cannot_write(path, errno);
  return Done{};
}

Outcome write_file_atomically(const std::string& path, std::string_view bytes) {
  Staged staged;
  if (const auto wrote = staged.write(path, bytes); !wrote) return wrote.problem();
  return staged.put_in_place();
}

Result<std::string> read_file(const std::string& path, std::size_t limit) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  const Problem unreadable{std::string("cannot be opened (") + std::strerror(errno) + ")", path,
                           "Check the name and that you may read it."};
  if (file < 0) return unreadable;
  const std::unique_ptr<const int, void (*)(const int*)> closer(&file, [](const int* f) { ::close(*f); });
  struct stat about {};
  if (::fstat(file, &about) == 0 && S_ISDIR(about.st_mode))
    return Problem{"is a folder, not a file", path, "Give the name of a file."};
  std::string bytes;
  std::string part(std::size_t{1} << 16, '\0');
  while (true) {
    const ssize_t got = ::read(file, part.data(), part.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0)
      return Problem{std::string("cannot be read (") + std::strerror(errno) + ")", path,
                     "Check that its disk is sound."};
    if (got == 0) return bytes;
    bytes.append(part.data(), static_cast<std::size_t>(got));
    if (bytes.size() > limit)
      return Problem{"is far too large to be what it should be", path, "Check that it is the right file."};
  }
}

}  // namespace pontata
