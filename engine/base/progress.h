// Progress and Cancel for long work. Pass a Progress* down; null means nobody watches.
#pragma once

#include <atomic>
#include <functional>
#include <string_view>

namespace pontata {

struct Progress {
  std::function<void(double fraction, std::string_view what)> report;  // called from the working thread
  std::atomic<bool> cancelled{false};
};

inline bool is_cancelled(const Progress* p) { return p && p->cancelled.load(std::memory_order_relaxed); }
inline void report(const Progress* p, double fraction, std::string_view what) {
  if (p && p->report) p->report(fraction, what);
}

}  // namespace pontata
