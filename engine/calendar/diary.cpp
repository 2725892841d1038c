#include "engine/calendar/diary.h"

#include <algorithm>
#include <set>

namespace pontata {

std::vector<DiaryRef> standing_entries(std::span<const DiaryRef> diary) {
  std::set<std::uint32_t> corrected;
  for (const DiaryRef& entry : diary)
    if (entry->corrects != 0) corrected.insert(entry->corrects);
  std::vector<DiaryRef> standing;
  for (const DiaryRef& entry : diary)
    if (!corrected.contains(entry->id)) standing.push_back(entry);
  std::ranges::sort(standing, {}, [](const DiaryRef& entry) { return std::pair(entry->date, entry->id); });
  return standing;
}

std::vector<DiaryRef> standing_entries(std::span<const DiaryRef> diary, GiornataId id) {
  auto standing = standing_entries(diary);
  std::erase_if(standing, [&](const DiaryRef& entry) { return entry->giornata != id; });
  return standing;
}

int next_attempt(std::span<const DiaryRef> diary, GiornataId id) {
  std::set<int> failed;
  for (const DiaryRef& entry : standing_entries(diary, id))
    if (entry->failed) failed.insert(entry->attempt);
  return 1 + static_cast<int>(failed.size());
}

}  // namespace pontata
