// The words that stand in the project file for kinds and states.
#pragma once

#include <optional>
#include <string_view>

#include "engine/giornate/giornata.h"
#include "engine/wall/shapes.h"

namespace pontata {

std::string_view state_name(GiornataState state);  // planned, ready, today, done, redo
std::optional<GiornataState> state_named(std::string_view name);

std::string_view zone_kind_name(ZoneKind kind);  // keep-whole, detail

std::string_view subject_name(Subject subject);  // none, faces, drapery, architecture, background
std::optional<Subject> subject_named(std::string_view name);

// A shape's measure by its word ("span"), as in measures_of. Precondition: such a measure exists.
double measure_of(const ShapeSpec& shape, std::string_view measure);
double& measure_of(ShapeSpec& shape, std::string_view measure);

}  // namespace pontata
