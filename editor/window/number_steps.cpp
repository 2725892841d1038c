#include "editor/window/number_steps.h"

#include <algorithm>
#include <cmath>

#include "engine/base/dates.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

double step_of(double value, FieldKind kind) {
  constexpr double kOfNothing = 0.1;
  const double power = value == 0 ? 2 : std::pow(10, std::floor(std::log10(std::abs(value)) + 1e-9));
  const double step = value == 0 ? kOfNothing : power / 20;
  return kind == FieldKind::whole ? std::max(1.0, std::round(step)) : step;
}

}  // namespace

std::optional<std::string> stepped(const std::string& value, FieldKind kind, int steps, bool fine) {
  if (kind == FieldKind::text) return std::nullopt;
  if (kind == FieldKind::date) {
    const auto day = parse_date(value);
    return day ? std::optional(format_date(add_days(*day, steps))) : std::nullopt;
  }
  const auto read = parse_number(value);
  const double from = read ? *read : 0;
  const double step = step_of(from, kind) / (fine && kind != FieldKind::whole ? 10 : 1);
  const double to = steps == 0 ? from : std::round((from + steps * step) / step) * step;
  return format_number(std::round(to * 1e6) / 1e6);
}

}  // namespace pontata
