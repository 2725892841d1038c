#include <algorithm>

#include "engine/calendar/calendar.h"

namespace pontata {

namespace {

// Hours; common practice, no source.
constexpr double kWetEvening = 0.5;
constexpr double kNight = 12;
constexpr double kWetMorning = 0.75;
constexpr double kFirstCoat = 0.75;
constexpr double kFirming = 0.5;
constexpr double kNextCoat = 0.5;
constexpr double kCut = 0.5 * kEveningHours;
constexpr double kClean = 0.5 * kEveningHours;

// Steps from the evening before to the last coat, which ends at `end_h`.
void lay(std::vector<DayStep>& steps, double end_h, int coats) {
  const double laying = kFirstCoat + (coats - 1) * (kFirming + kNextCoat);
  double h = end_h - laying - kWetMorning;
  const auto add = [&](double length, const char* what) {
    steps.push_back({h, h + length, what});
    h += length;
  };
  steps.push_back({h - kNight, h - kNight + kWetEvening,
                   "The evening before: wet the arriccio until it takes no more. Goggles on: lime water runs down."});
  add(kWetMorning,
      "Wet the arriccio again, little by little, until it stops drinking. Leave no standing water on it. Goggles and "
      "gloves.");
  add(kFirstCoat, coats > 1 ? "Lay the first coat of intonaco. Goggles and gloves: lime burns eyes and skin."
                            : "Lay the intonaco. Goggles and gloves: lime burns eyes and skin.");
  for (int coat = 2; coat <= coats; ++coat) {
    add(kFirming, "Let the coat firm up: the next one goes on when a thumb marks it but does not sink in.");
    add(kNextCoat, coat < coats
                       ? "Lay the next coat of intonaco. Goggles and gloves."
                       : "Lay the last coat of intonaco. The clock of the plaster starts here. Goggles and gloves.");
  }
}

}  // namespace

std::vector<DayStep> day_steps(const CalendarSettings& settings, double painting_h, int coats) {
  const double wait = std::max(0.0, settings.wait_h);
  const double paint = std::max(0.0, painting_h);
  std::vector<DayStep> steps;
  lay(steps, -wait, std::max(1, coats));
  steps.push_back({-wait, -0.75 * wait, "Smooth the surface and press it close."});
  steps.push_back({-0.75 * wait, -0.25 * wait, "Wait: the plaster is ready when a finger no longer lifts it."});
  steps.push_back({-0.25 * wait, 0, "Transfer the drawing from the cartoon. If you pounce, do not breathe the dust."});
  steps.push_back({0, paint, "Paint."});
  steps.push_back(
      {paint, paint + kCut,
       "Cut the open edges along the outline and bevel them outward; take away the margin. Leave edges that meet "
       "finished work as they are."});
  steps.push_back({paint + kCut, paint + kCut + kClean,
                   "Clean splashes off finished work and wall, then tools and deck. Goggles and gloves."});
  return steps;
}

}  // namespace pontata
