#include "engine/picture/tile_store.h"

#include <list>
#include <mutex>
#include <stdexcept>
#include <unordered_map>
#include <utility>

#include "engine/picture/scratch_file.h"

namespace pontata {

namespace {

using TileRef = std::shared_ptr<const PictureTile>;
constexpr std::size_t kTileBytes = 4 * PictureTile::kSide * PictureTile::kSide;

class InMemory final : public TileStore {
 public:
  explicit InMemory(std::size_t count) : tiles_(count) {}
  Outcome put(std::size_t number, PictureTile tile) override {
    tiles_[number] = std::make_shared<const PictureTile>(std::move(tile));
    return Done{};
  }
  TileRef tile(std::size_t number) const override { return tiles_[number]; }

 private:
  std::vector<TileRef> tiles_;
};

// The last tiles used, the latest first.
class Remembered {
 public:
  TileRef find(std::size_t number) {
    const std::lock_guard lock(mutex_);
    const auto found = places_.find(number);
    if (found == places_.end()) return nullptr;
    used_.splice(used_.begin(), used_, found->second);
    return found->second->second;
  }
  // The one that is kept: another thread may have been quicker.
  TileRef keep(std::size_t number, TileRef tile) {
    const std::lock_guard lock(mutex_);
    if (const auto found = places_.find(number); found != places_.end()) return found->second->second;
    used_.emplace_front(number, std::move(tile));
    places_[number] = used_.begin();
    if (used_.size() > TileStore::kRemembered) {
      places_.erase(used_.back().first);
      used_.pop_back();
    }
    return used_.front().second;
  }

 private:
  std::mutex mutex_;
  std::list<std::pair<std::size_t, TileRef>> used_;
  std::unordered_map<std::size_t, decltype(used_)::iterator> places_;
};

class OnDisk final : public TileStore {
 public:
  explicit OnDisk(ScratchFile file) : file_(std::move(file)) {}
  Outcome put(std::size_t number, PictureTile tile) override {
    return file_.write(place(number), tile.rgba.data(), kTileBytes) ? Outcome(Done{}) : file_.no_room();
  }
  TileRef tile(std::size_t number) const override {
    if (auto known = remembered_.find(number)) return known;
    auto read = std::make_shared<PictureTile>();
    read->rgba.resize(kTileBytes);
    if (!file_.read(place(number), read->rgba.data(), kTileBytes))
      throw std::runtime_error("the temporary file of a picture cannot be read");
    return remembered_.keep(number, std::move(read));
  }

 private:
  static std::int64_t place(std::size_t number) { return static_cast<std::int64_t>(number * kTileBytes); }
  ScratchFile file_;
  mutable Remembered remembered_;
};

}  // namespace

Result<std::unique_ptr<TileStore>> make_tile_store(std::size_t count, bool large, const std::string& path) {
  if (!large) return std::unique_ptr<TileStore>(std::make_unique<InMemory>(count));
  auto file = ScratchFile::open(static_cast<std::int64_t>(count * kTileBytes), path);
  if (!file) return file.problem();
  return std::unique_ptr<TileStore>(std::make_unique<OnDisk>(std::move(*file)));
}

}  // namespace pontata
