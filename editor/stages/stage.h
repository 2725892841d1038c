// The stages of the job, one page each, and how far each has come.
#pragma once

#include <array>
#include <memory>
#include <string>

#include "editor/stages/settings_fields.h"
#include "editor/window/workbench.h"

namespace pontata {

enum class StageMark { not_started, begun, checked };
const char* mark_word(StageMark mark);  // "not started", "begun", "checked"

class StagePage {
 public:
  virtual ~StagePage() = default;
  virtual const char* name() const = 0;
  // How far the stage has come, found from the document; `why` says so in a line.
  struct State {
    StageMark mark = StageMark::not_started;
    std::string why;
  };
  virtual State state(Workbench& bench) = 0;
  virtual void draw(Workbench& bench) = 0;
  virtual void take_file(const std::string&) {}  // a file dropped on the window for this stage
  virtual bool wide() const { return false; }    // its page needs more room than the others
};

std::unique_ptr<StagePage> make_wall_stage();
std::unique_ptr<StagePage> make_design_stage();
std::unique_ptr<StagePage> make_giornate_stage();
std::unique_ptr<StagePage> make_plaster_stage();
std::unique_ptr<StagePage> make_calendar_stage();
std::unique_ptr<StagePage> make_seams_stage();
std::unique_ptr<StagePage> make_cartoon_stage();
std::array<std::unique_ptr<StagePage>, kStages> make_stage_pages();  // by Stage
bool page_is_wide(const Workbench& bench);                           // of the chosen stage

}  // namespace pontata
