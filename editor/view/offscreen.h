// An OpenGL context without any display, for pictures made by verbs and tests.
#pragma once

#include <memory>

#include "engine/base/result.h"

namespace pontata {

// Current on the calling thread for as long as it lives.
class OffscreenContext {
 public:
  static Result<std::unique_ptr<OffscreenContext>> make();
  ~OffscreenContext();
  OffscreenContext(const OffscreenContext&) = delete;
  OffscreenContext& operator=(const OffscreenContext&) = delete;

 private:
  OffscreenContext() = default;
  void* display_ = nullptr;
  void* context_ = nullptr;
};

}  // namespace pontata
