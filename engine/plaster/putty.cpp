#include "engine/plaster/putty.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"

namespace pontata {

int putty_age_months(const PuttyBatch& batch, Date day) {
  int months = 12 * (day.year - batch.slaked.year) + day.month - batch.slaked.month;
  while (add_months(batch.slaked, months) > day) --months;
  while (add_months(batch.slaked, months + 1) <= day) ++months;
  return months;
}

Date ripe_on(const PuttyBatch& batch, double months) {
  const double whole = std::floor(months);
  const int days = static_cast<int>(std::ceil((months - whole) * 30.44 - 1e-9));
  return add_days(add_months(batch.slaked, static_cast<int>(whole)), days);
}

const PuttyBatch* batch_named(std::span<const PuttyBatch> batches, const std::string& name) {
  const auto at = std::find_if(batches.begin(), batches.end(), [&](const PuttyBatch& b) { return b.name == name; });
  return at == batches.end() ? nullptr : &*at;
}

std::vector<std::string> putty_warnings(std::span<const PuttyBatch> batches, double need_L, Date first, double months) {
  std::vector<std::string> says;
  double there_L = 0;
  for (const PuttyBatch& batch : batches) {
    there_L += batch.litres;
    const Date ripe = ripe_on(batch, months);
    if (ripe <= first) continue;
    const int age = putty_age_months(batch, first);
    const std::string then = age < 0    ? "is not slaked yet"
                             : age == 1 ? "is 1 month old"
                                        : fmt::format("is {} months old", age);
    says.push_back(fmt::format(
        "Putty “{}”, slaked {}, {} on {}, when plastering begins: younger than the {} months set "
        "for it. It is ripe on {}.",
        batch.name, format_date(batch.slaked), then, format_date(first), format_number(months), format_date(ripe)));
  }
  if (!batches.empty() && there_L < need_L)
    says.push_back(
        fmt::format("The tubs noted hold {} L of lime putty, the job takes {} L with its reserve: {} L are "
                    "still to be laid down.",
                    format_fixed(there_L, 0), format_fixed(need_L, 0), format_fixed(std::ceil(need_L - there_L), 0)));
  return says;
}

}  // namespace pontata
