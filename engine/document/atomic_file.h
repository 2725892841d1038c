// Files written whole or not at all.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/result.h"

namespace pontata {

// Writes beside the file, fsync, rename, fsync of the folder: whoever opens `path`, at any moment, sees the old bytes
// or the new ones. A link is followed, an existing file keeps its mode. On failure the old file is as it was, nothing
// is left behind, and the Problem names the file.
Outcome write_file_atomically(const std::string& path, std::string_view bytes);

// Refuses where write_file_atomically could not begin: a folder or file that may not be written. Writes nothing.
Outcome check_may_write(const std::string& path);

struct FileToWrite {
  std::string path, bytes;
};
// The same for several: none is put in its place before all are safely on the disk beside it, so that a folder that is
// not there or a full disk leaves every old file as it was.
Outcome write_files_atomically(const std::vector<FileToWrite>& files);

// Reads a whole file. Refuses folders, unreadable files and files above `limit` bytes.
Result<std::string> read_file(const std::string& path, std::size_t limit = std::size_t{1} << 31);

}  // namespace pontata
