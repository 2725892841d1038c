// What the people on the job write down, beside walls, seams and settings: kept as one immutable value of the document.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/calendar/arrangements.h"
#include "engine/calendar/diary.h"
#include "engine/calendar/order.h"
#include "engine/calendar/weather.h"
#include "engine/palette/secco.h"
#include "engine/plaster/putty.h"
#include "engine/review/acceptance.h"

namespace pontata {

// Of one giornata.
struct GiornataJob {
  GiornataId id;
  std::optional<Date> day;           // moved by hand to this day
  bool behind_scaffold = false;      // behind ties and standards: kept for the strike of its pontata
  std::vector<std::string> palette;  // Colour Index names, as the painter lists them
  bool operator==(const GiornataJob&) const = default;
};

struct Job {
  std::vector<DiaryRef> diary;        // as written, ids rising
  std::vector<DayWeather> weather;    // by date
  std::vector<PairRule> pairs;        // in the order they were laid down
  std::vector<DaysOff> days_off;      // by first day
  std::vector<GroundWork> ground;     // by wall, then pontata; one each
  std::vector<PuttyBatch> putty;      // by day of slaking, names unique
  std::vector<GiornataJob> giornate;  // by id; those with something to tell
  std::vector<SeccoWork> secco;       // ids rising
  std::uint32_t next_secco = 1;
  std::vector<AcceptedFinding> accepted;  // findings that may stay, in the order they were accepted
};
using JobRef = std::shared_ptr<const Job>;

const GiornataJob* of_giornata(const Job& job, GiornataId id);  // nullptr where nothing is told

}  // namespace pontata
