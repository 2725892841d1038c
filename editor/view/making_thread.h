// A thread of its own that works through jobs one after the other.
#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>

namespace pontata {

template <class Job, class Made>
class MakingThread {
 public:
  using Make = std::function<Made(const Job&, const std::atomic<bool>& stop)>;

  // `make` is called on the thread; it ends early when `stop` becomes true. `wake` is called from it whenever
  // something is ready; it may be empty.
  MakingThread(Make make, std::function<void()> wake)
      : make_(std::move(make)), wake_(std::move(wake)), thread_([this] { run(); }) {}
  // Gives up what is being made; waits for the job in hand to end.
  ~MakingThread() {
    {
      const std::lock_guard lock(mutex_);
      stop_ = true;
    }
    changed_.notify_all();
    thread_.join();
  }
  MakingThread(const MakingThread&) = delete;
  MakingThread& operator=(const MakingThread&) = delete;

  void start(Job job) {
    {
      const std::lock_guard lock(mutex_);
      jobs_.push_back(std::move(job));
    }
    changed_.notify_all();
  }

  // What is ready, in the order it was asked for.
  std::optional<Made> take() {
    const std::lock_guard lock(mutex_);
    if (made_.empty()) return std::nullopt;
    Made made = std::move(made_.front());
    made_.pop_front();
    return made;
  }

  void finish() {  // waits until all is ready
    std::unique_lock lock(mutex_);
    changed_.wait(lock, [&] { return jobs_.empty(); });
  }

 private:
  void run() {
    std::unique_lock lock(mutex_);
    while (true) {
      changed_.wait(lock, [&] { return stop_ || !jobs_.empty(); });
      if (stop_) return;
      const Job job = jobs_.front();
      lock.unlock();
      Made made = make_(job, stop_);
      lock.lock();
      jobs_.pop_front();
      if (stop_) return;
      made_.push_back(std::move(made));
      changed_.notify_all();
      if (wake_) wake_();
    }
  }

  Make make_;
  std::function<void()> wake_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<Job> jobs_;  // the first is in hand
  std::deque<Made> made_;
  std::atomic<bool> stop_ = false;
  std::thread thread_;
};

}  // namespace pontata
