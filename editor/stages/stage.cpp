#include "editor/stages/stage.h"

namespace pontata {

const char* mark_word(StageMark mark) {
  switch (mark) {
    case StageMark::begun:
      return "begun";
    case StageMark::checked:
      return "checked";
    case StageMark::not_started:
      break;
  }
  return "not started";
}

std::array<std::unique_ptr<StagePage>, kStages> make_stage_pages() {
  return {make_wall_stage(),     make_design_stage(), make_giornate_stage(), make_plaster_stage(),
          make_calendar_stage(), make_seams_stage(),  make_cartoon_stage()};
}

bool page_is_wide(const Workbench& bench) { return bench.pages[static_cast<std::size_t>(bench.stage)]->wide(); }

}  // namespace pontata
