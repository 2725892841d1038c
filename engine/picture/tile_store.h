// Where the tiles of a picture are kept: in memory, or in a scratch file behind a bounded memory of the last ones used.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "engine/base/result.h"
#include "engine/picture/picture_source.h"

namespace pontata {

// Tiles by their number. put() once each, from one thread; tile() afterwards from any number of threads.
class TileStore {
 public:
  virtual ~TileStore() = default;
  virtual Outcome put(std::size_t number, PictureTile tile) = 0;
  // Precondition: it was put. Throws std::runtime_error where the disk fails.
  virtual std::shared_ptr<const PictureTile> tile(std::size_t number) const = 0;

  // At most this many tiles (64 MB) of a picture on disk are in memory, besides those somebody still holds.
  static constexpr std::size_t kRemembered = 256;
};

// Room for `count` tiles of the picture at `path`, on disk where `large`.
Result<std::unique_ptr<TileStore>> make_tile_store(std::size_t count, bool large, const std::string& path);

}  // namespace pontata
