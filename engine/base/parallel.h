// Work shared between the processor's cores. What is worked out must not depend on how it is shared: every item writes
// only its own place and reads nothing that another item of the same call writes, so that the result is the same to the
// byte on any number of cores.
#pragma once

#include <algorithm>
#include <cstddef>
#include <exception>
#include <thread>
#include <vector>

namespace pontata {

// Workers that a call from this thread may use, the calling thread among them: as many as the processor has cores, at
// most 16, unless a WorkerLimit says fewer.
unsigned worker_count();

// While it lives, calls from this thread use at most `most` workers.
class WorkerLimit {
 public:
  explicit WorkerLimit(unsigned most);
  ~WorkerLimit();
  WorkerLimit(const WorkerLimit&) = delete;
  WorkerLimit& operator=(const WorkerLimit&) = delete;

 private:
  unsigned before_;
};

// Calls f(begin, end) for blocks that together cover 0..count, each in one worker; `grain` is the least number of items
// worth a worker of its own. Returns when all are done; the first block's exception is passed on.
template <class F>
void for_blocks(std::size_t count, std::size_t grain, const F& f) {
  const std::size_t most = std::max<std::size_t>(1, count / std::max<std::size_t>(1, grain));
  const std::size_t blocks = std::min<std::size_t>(worker_count(), most);
  if (blocks == 1) return f(std::size_t{0}, count);
  std::vector<std::exception_ptr> thrown(blocks);
  const auto run = [&](std::size_t b) {
    try {
      f(count * b / blocks, count * (b + 1) / blocks);
    } catch (...) {
      thrown[b] = std::current_exception();
    }
  };
  std::vector<std::jthread> workers;
  workers.reserve(blocks - 1);
  for (std::size_t b = 1; b < blocks; ++b) workers.emplace_back(run, b);
  run(0);
  workers.clear();  // joins
  for (const auto& e : thrown)
    if (e) std::rethrow_exception(e);
}

// Calls f(i) for every item; items are independent of each other.
template <class F>
void for_each_item(std::size_t count, std::size_t grain, const F& f) {
  for_blocks(count, grain, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) f(i);
  });
}

}  // namespace pontata
