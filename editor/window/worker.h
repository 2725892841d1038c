// One background thread for long work, with progress and Cancel. Work returns what is to be done with its result; that
// runs on the window's own thread.
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

#include "engine/base/progress.h"

namespace pontata {

class Worker {
 public:
  using Apply = std::function<void()>;
  using Work = std::function<Apply(Progress&)>;

  // `wake` is called from the thread whenever there is something new to show.
  explicit Worker(std::function<void()> wake);
  ~Worker();  // cancels and waits
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  // `blocking` work holds the window's edits back while it runs. Jobs run one after the other.
  void start(std::string title, bool blocking, Work work);
  // Applies what has finished; call once a frame. True when something was applied.
  bool poll();
  void cancel();  // the running job
  // What went wrong inside the program in a job that could not end, once; empty when nothing did.
  std::string take_fault();

  struct Shown {
    std::string title, what;
    double fraction = 0;
    bool blocking = false;  // some job holds edits back
    bool cancelled = false;
  };
  std::optional<Shown> shown() const;  // the running or waiting job
  bool busy() const { return shown().has_value(); }

 private:
  struct Job {
    std::string title;
    bool blocking = false;
    Work work;
    Progress progress;
    std::string what;
    double fraction = 0;
  };
  void run();

  std::function<void()> wake_;
  mutable std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<std::shared_ptr<Job>> jobs_;  // the first is running
  std::deque<Apply> finished_;
  std::string fault_;
  bool stop_ = false;
  std::thread thread_;
};

}  // namespace pontata
