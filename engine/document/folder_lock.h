// One change of a project at a time: who holds the lock of its folder has it to itself.
#pragma once

#include <functional>
#include <string>

namespace pontata {

// Held from before the project is read until it is saved, so that a second change waits and then sees the first one's
// work. It is the folder that is locked: the file itself is replaced by every save. Other programs are not stopped, and
// where the folder cannot be locked (it is not there, or its disk knows no locks) nothing is held.
class FolderLock {
 public:
  // Of the folder that `file` lies in, links followed. `waits` is called once when somebody else holds it.
  explicit FolderLock(const std::string& file, const std::function<void()>& waits = {});
  ~FolderLock();
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;

 private:
  int folder_ = -1;
};

}  // namespace pontata
