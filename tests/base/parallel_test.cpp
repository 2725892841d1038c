#include "engine/base/parallel.h"

#include <catch2/catch.hpp>
#include <stdexcept>

using namespace pontata;

TEST_CASE("blocks cover every item once, for any number of items and workers") {
  for (const unsigned workers : {1u, 2u, 3u})
    for (const std::size_t count : {0u, 1u, 2u, 7u, 1000u}) {
      const WorkerLimit limit(workers);
      std::vector<int> visits(count, 0);
      for_each_item(count, 1, [&](std::size_t i) { ++visits[i]; });
      CHECK(std::count(visits.begin(), visits.end(), 1) == static_cast<std::ptrdiff_t>(count));
    }
}

TEST_CASE("a limit on workers holds while it lives and never rises") {
  const unsigned before = worker_count();
  {
    const WorkerLimit one(1);
    CHECK(worker_count() == 1);
    const WorkerLimit more(8);
    CHECK(worker_count() == 1);
  }
  CHECK(worker_count() == before);
}

TEST_CASE("what a worker throws reaches the caller") {
  CHECK_THROWS_AS(for_each_item(100, 1,
                                [](std::size_t i) {
                                  if (i == 99) throw std::runtime_error("here");
                                }),
                  std::runtime_error);
}
