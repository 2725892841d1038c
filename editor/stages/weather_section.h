// The weather of the working days, as a part of the Calendar page: typed day by day, or read from a file.
#pragma once

#include <string>

#include "editor/window/form_fields.h"

namespace pontata {

class WeatherSection {
 public:
  void draw(Workbench& bench, const std::optional<Date>& day);

 private:
  void table(Workbench& bench);
  void take(const DayWeather& day);
  void add(Workbench& bench);
  void ask_file(Workbench& bench);
  FormFields fields_;
  std::optional<Date> taken_;
  std::string date_, temperature_, humidity_, air_, night_;
};

}  // namespace pontata
