#include "editor/window/worker.h"

#include <exception>
#include <new>
#include <utility>

namespace pontata {

Worker::Worker(std::function<void()> wake) : wake_(std::move(wake)), thread_([this] { run(); }) {}

Worker::~Worker() {
  {
    const std::lock_guard lock(mutex_);
    stop_ = true;
    for (const auto& job : jobs_) job->progress.cancelled = true;
  }
  changed_.notify_all();
  thread_.join();
}

void Worker::start(std::string title, bool blocking, Work work) {
  auto job = std::make_shared<Job>();
  job->title = std::move(title);
  job->blocking = blocking;
  job->work = std::move(work);
  job->progress.report = [this, j = job.get()](double fraction, std::string_view what) {
    {
      const std::lock_guard lock(mutex_);
      j->fraction = fraction;
      j->what = what;
    }
    wake_();
  };
  {
    const std::lock_guard lock(mutex_);
    jobs_.push_back(std::move(job));
  }
  changed_.notify_all();
}

void Worker::run() {
  for (;;) {
    std::shared_ptr<Job> job;
    {
      std::unique_lock lock(mutex_);
      changed_.wait(lock, [this] { return stop_ || !jobs_.empty(); });
      if (stop_) return;
      job = jobs_.front();
    }
    Apply apply;
    std::string fault;
    try {
      apply = job->work(job->progress);
    } catch (const std::bad_alloc&) {
      fault = "there is not enough memory for this";
    } catch (const std::exception& e) {
      fault = e.what();
    }
    {
      const std::lock_guard lock(mutex_);
      if (!fault.empty()) fault_ = job->title + ": " + fault;
      jobs_.pop_front();
      if (apply) finished_.push_back(std::move(apply));
    }
    wake_();
  }
}

bool Worker::poll() {
  std::deque<Apply> ready;
  {
    const std::lock_guard lock(mutex_);
    ready.swap(finished_);
  }
  for (const Apply& apply : ready) apply();
  return !ready.empty();
}

void Worker::cancel() {
  const std::lock_guard lock(mutex_);
  if (!jobs_.empty()) jobs_.front()->progress.cancelled = true;
}

std::string Worker::take_fault() {
  const std::lock_guard lock(mutex_);
  return std::exchange(fault_, {});
}

std::optional<Worker::Shown> Worker::shown() const {
  const std::lock_guard lock(mutex_);
  if (jobs_.empty()) return std::nullopt;
  const Job& job = *jobs_.front();
  bool blocking = false;
  for (const auto& j : jobs_) blocking |= j->blocking;
  return Shown{job.title, job.what, job.fraction, blocking, job.progress.cancelled.load()};
}

}  // namespace pontata
