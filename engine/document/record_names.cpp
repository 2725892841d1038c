#include "engine/document/record_names.h"

#include <array>
#include <stdexcept>
#include <string>
#include <utility>

namespace pontata {

namespace {

constexpr std::array<std::pair<std::string_view, GiornataState>, 5> kStates{{{"planned", GiornataState::planned},
                                                                             {"ready", GiornataState::ready},
                                                                             {"today", GiornataState::today},
                                                                             {"done", GiornataState::done},
                                                                             {"redo", GiornataState::redo}}};

}  // namespace

std::string_view state_name(GiornataState state) {
  for (const auto& [name, value] : kStates)
    if (value == state) return name;
  throw std::logic_error("a state without a name");
}

std::optional<GiornataState> state_named(std::string_view name) {
  for (const auto& [known, value] : kStates)
    if (known == name) return value;
  return std::nullopt;
}

std::string_view zone_kind_name(ZoneKind kind) { return kind == ZoneKind::detail ? "detail" : "keep-whole"; }

namespace {

constexpr std::array<std::string_view, kSubjects> kSubjectNames{"none", "faces", "drapery", "architecture",
                                                                "background"};

}  // namespace

std::string_view subject_name(Subject subject) { return kSubjectNames[static_cast<std::size_t>(subject)]; }

std::optional<Subject> subject_named(std::string_view name) {
  for (std::size_t i = 0; i < kSubjects; ++i)
    if (kSubjectNames[i] == name) return static_cast<Subject>(i);
  return std::nullopt;
}

double measure_of(const ShapeSpec& shape, std::string_view measure) { return shape.*shape_measure(measure).value; }
double& measure_of(ShapeSpec& shape, std::string_view measure) { return shape.*shape_measure(measure).value; }

}  // namespace pontata
