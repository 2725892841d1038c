// Files that appear together or not at all.
#pragma once

#include <string>
#include <vector>

#include "engine/base/result.h"

namespace pontata {

// Files are made under other names in their folder and take their own when all of them are there; what was begun and
// not committed is removed.
class OutputSet {
 public:
  // Makes the folder where it is missing. Refuses one that cannot be made or written to.
  static Result<OutputSet> open(const std::string& folder);
  OutputSet(OutputSet&&) noexcept;
  OutputSet& operator=(OutputSet&&) = delete;
  OutputSet(const OutputSet&) = delete;
  ~OutputSet();

  // Path to write the file `name` (such as "cartoon.pdf") to; it keeps its extension.
  std::string add(const std::string& name);
  // Renames all into place; their paths, in the order they were added.
  Result<std::vector<std::string>> commit();

 private:
  explicit OutputSet(std::string folder) : folder_(std::move(folder)) {}
  std::string draft_of(const std::string& name) const;
  std::string folder_;
  std::vector<std::string> names_;
};

}  // namespace pontata
