// Makes levels of detail on a thread of its own, one wall after the other.
#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>

#include "editor/view/surface_levels.h"

namespace pontata {

class LevelMaker {
 public:
  // `wake` is called from the thread whenever a wall is ready.
  explicit LevelMaker(std::function<void()> wake);
  ~LevelMaker();  // gives up what is being made; waits for the level in hand (up to some seconds on a very large wall)
  LevelMaker(const LevelMaker&) = delete;
  LevelMaker& operator=(const LevelMaker&) = delete;

  void start(WallRef wall, std::shared_ptr<const SurfaceDrawing> surface);
  struct Made {
    WallRef wall;
    SurfaceLevels levels;
  };
  std::optional<Made> take();  // one that is ready
  void finish();               // waits until all are ready

 private:
  void run();
  struct Job {
    WallRef wall;
    std::shared_ptr<const SurfaceDrawing> surface;
  };
  std::function<void()> wake_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<Job> jobs_;  // the first is in hand
  std::deque<Made> made_;
  std::atomic<bool> stop_ = false;
  std::thread thread_;
};

}  // namespace pontata
