#include "editor/view/level_maker.h"

namespace pontata {

LevelMaker::LevelMaker(std::function<void()> wake) : wake_(std::move(wake)), thread_([this] { run(); }) {}

LevelMaker::~LevelMaker() {
  {
    const std::lock_guard lock(mutex_);
    stop_ = true;
  }
  changed_.notify_all();
  thread_.join();
}

void LevelMaker::start(WallRef wall, std::shared_ptr<const SurfaceDrawing> surface) {
  {
    const std::lock_guard lock(mutex_);
    jobs_.push_back({std::move(wall), std::move(surface)});
  }
  changed_.notify_all();
}

std::optional<LevelMaker::Made> LevelMaker::take() {
  const std::lock_guard lock(mutex_);
  if (made_.empty()) return std::nullopt;
  Made made = std::move(made_.front());
  made_.pop_front();
  return made;
}

void LevelMaker::finish() {
  std::unique_lock lock(mutex_);
  changed_.wait(lock, [&] { return jobs_.empty(); });
}

void LevelMaker::run() {
  std::unique_lock lock(mutex_);
  while (true) {
    changed_.wait(lock, [&] { return stop_ || !jobs_.empty(); });
    if (stop_) return;
    const Job job = jobs_.front();
    lock.unlock();
    SurfaceLevels levels = make_levels(*job.surface, stop_);
    lock.lock();
    jobs_.pop_front();
    if (stop_) return;
    made_.push_back({job.wall, std::move(levels)});
    changed_.notify_all();
    if (wake_) wake_();
  }
}

}  // namespace pontata
