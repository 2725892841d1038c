// The diary of the chosen giornata: what was done, plan and fact side by side, and a new entry.
#pragma once

#include <string>

#include "editor/tools/clicked_points.h"
#include "editor/window/form_fields.h"

namespace pontata {

class DiaryForm {
 public:
  void draw(Workbench& bench, GiornataId id, const std::optional<Date>& day);

 private:
  bool entries(Workbench& bench, GiornataId id);  // whether a good one stands
  void plan_and_fact(Workbench& bench, GiornataId id);
  void fields(Workbench& bench);
  void cut_fields(Workbench& bench);
  void found_bad(Workbench& bench, GiornataId id);
  void take(const DiaryEntry& entry);  // into the fields, to be corrected
  void clear();
  Result<DiaryEntry> typed(GiornataId id) const;
  void write(Workbench& bench, GiornataId id);
  void ask_photo(Workbench& bench);

  FormFields fields_;
  GiornataId of_;
  std::optional<Date> taken_;
  std::uint32_t corrects_ = 0;
  std::string date_, hours_, lay_, window_, temperature_, humidity_, air_, mix_, putty_, light_, remarks_, photo_, why_,
      found_on_, found_why_, side_;
  bool failed_ = false, cut_ = false;
  TypedPlaces typed_places_;
  std::vector<ChartPoint> line_;  // really cut
};

}  // namespace pontata
