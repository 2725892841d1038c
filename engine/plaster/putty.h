// Batches of lime putty and their age.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/base/dates.h"

namespace pontata {

struct PuttyBatch {
  std::string name;  // as it stands on the tub
  Date slaked;       // the day it was slaked
  double litres = 0;
  std::string remark;
};

// Whole months from the slaking to `day`; negative when it is slaked later.
int putty_age_months(const PuttyBatch& batch, Date day);

// The first day on which it is `months` old, the last month counted as 30.44 days a whole one.
Date ripe_on(const PuttyBatch& batch, double months);

const PuttyBatch* batch_named(std::span<const PuttyBatch> batches, const std::string& name);

// In plain words: each batch that is younger than `months` on the first day of plastering, with the day on which it is
// ripe; and what is missing to need_L when the batches noted hold less.
std::vector<std::string> putty_warnings(std::span<const PuttyBatch> batches, double need_L, Date first, double months);

}  // namespace pontata
