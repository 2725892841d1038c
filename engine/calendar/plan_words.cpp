#include "engine/calendar/plan_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"

namespace pontata {

void PlanWords::label_all() const {
  std::vector<const PlanRow*> rows;
  for (const PlanRow& r : plan_.done) rows.push_back(&r);
  for (const PlanRow& r : plan_.open) rows.push_back(&r);
  const auto by_day = [](const PlanRow* r) { return r->date.value_or(Date{0, 1, 1}); };
  std::ranges::stable_sort(rows, {}, by_day);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const PlanInput& input = *rows[i]->input;
    labels_[rows[i]->id()] = input.number > 0 ? label_of(input) : std::to_string(i + 1);
  }
}

std::string PlanWords::label(GiornataId id) const {
  if (labels_.empty()) label_all();
  const auto it = labels_.find(id);
  return it == labels_.end() ? std::to_string(id.value) : it->second;
}

std::string PlanWords::giornate(std::vector<GiornataId> ids) const {
  std::vector<std::string> words;
  for (const GiornataId id : ids) words.push_back(label(id));
  std::sort(words.begin(), words.end(), label_less);
  if (words.size() == 1) return "giornata " + words[0];
  const std::string last = words.back();
  words.pop_back();
  return fmt::format("giornate {} and {}", fmt::join(words, ", "), last);
}

std::string PlanWords::ground(WallId wall, int pontata) const {
  const auto it = std::ranges::find(facts_.walls, wall, &PlanFacts::WallName::wall);
  const std::string name = it == facts_.walls.end() ? fmt::format("wall {}", wall.value) : it->name;
  return "of " + name + (pontata > 0 ? fmt::format(", pontata {}", pontata) : "");
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string one_place(double value) { return format_fixed(value, 1); }

std::string height(double metres) { return format_fixed(metres, 2) + " m"; }

}  // namespace pontata
