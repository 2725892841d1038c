#include "engine/base/parallel.h"

namespace pontata {

namespace {

thread_local unsigned limit = 16;

}  // namespace

unsigned worker_count() { return std::clamp(std::thread::hardware_concurrency(), 1u, limit); }

WorkerLimit::WorkerLimit(unsigned most) : before_(limit) { limit = std::max(1u, std::min(most, before_)); }
WorkerLimit::~WorkerLimit() { limit = before_; }

}  // namespace pontata
