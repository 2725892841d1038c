#include "editor/window/trace.h"

#include <cstdlib>

namespace pontata {

Trace::Trace() {
  if (const char* path = std::getenv("PONTATA_TRACE"); path && *path) file_ = std::fopen(path, "a");
}
Trace::~Trace() {
  if (file_) std::fclose(file_);
}
void Trace::record(const std::string& state, long frames) {
  if (!file_ || state == last_) return;
  last_ = state;
  std::fprintf(file_, "{\"n\":%ld,\"frames\":%ld,%s}\n", ++lines_, frames, state.c_str());
  std::fflush(file_);
}

}  // namespace pontata
