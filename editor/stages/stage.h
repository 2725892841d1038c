// The stages of the job, one page each, and how far each has come.
#pragma once

#include <array>
#include <memory>
#include <string>

#include "editor/window/workbench.h"
#include "engine/document/settings_table.h"

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
};

std::unique_ptr<StagePage> make_wall_stage();
std::unique_ptr<StagePage> make_design_stage();
std::unique_ptr<StagePage> make_giornate_stage();
std::unique_ptr<StagePage> make_plaster_stage();
std::unique_ptr<StagePage> make_calendar_stage();
std::unique_ptr<StagePage> make_seams_stage();
std::unique_ptr<StagePage> make_cartoon_stage();
std::array<std::unique_ptr<StagePage>, kStages> make_stage_pages();  // by Stage

// Fields for the settings of one group whose key begins with one of the words (all when none is given); each change is
// one undo step.
class SettingsFields {
 public:
  void draw(Workbench& bench, SettingGroup group, std::initializer_list<const char*> keys = {});

 private:
  std::string editing_, text_;  // the field in work and what is typed in it
};

}  // namespace pontata
