// Join: makes giornate one. The first that is clicked stays, with its number and name.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>

#include "editor/tools/tool.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

// What is to be joined are the chosen giornate, so that lists may choose them as well as clicks.
class JoinTool final : public Tool {
 public:
  const char* name() const override { return "Join"; }
  char key() const override { return 'J'; }
  std::string hint() const override {
    return "Click the giornata that is to stay, then those that become part of it; Enter joins them, Esc gives up.";
  }
  std::size_t points() const override { return clicked_; }
  void press(Workbench& bench, const ToolPointer& at) override;
  bool key_down(Workbench& bench, int key, int) override {
    Session& session = bench.session;
    clicked_ = std::min(clicked_, session.all_chosen().size());
    if (key == GLFW_KEY_ENTER || key == GLFW_KEY_KP_ENTER) return finish(bench), true;
    if (clicked_ == 0) return false;
    if (key == GLFW_KEY_BACKSPACE) return session.choose_more(session.chosen()), --clicked_, true;
    if (key == GLFW_KEY_ESCAPE) return session.choose({}), clicked_ = 0, true;
    return false;
  }
  void put_down(Workbench&) override { clicked_ = 0; }
  void options(Workbench& bench) override;

 private:
  void finish(Workbench& bench) {
    if (join_giornate(bench, bench.session.all_chosen())) clicked_ = 0;
  }

  std::size_t clicked_ = 0;  // of the chosen ones; the first click chooses alone
};

void JoinTool::press(Workbench& bench, const ToolPointer& at) {
  const auto item = bench.session.wall_item();
  if (!item || !at.place || !fits_lattice(*at.place)) return;
  const GiornataId id = item->network.owner_at(to_lattice(*at.place));
  if (!id) return bench.session.say("There is no giornata here");
  if (clicked_ == 0)
    bench.session.choose(id);
  else
    bench.session.choose_more(id);
  clicked_ = bench.session.all_chosen().size();
}

void JoinTool::options(Workbench& bench) {
  const Document& document = *bench.session.document();
  const auto& ids = bench.session.all_chosen();
  std::string words;
  for (const GiornataId id : ids)
    words += (words.empty()                                   ? "Giornata "
              : words.find(" takes in ") == std::string::npos ? " takes in "
                                                              : ", ") +
             label_of(*document.giornata(id));
  quiet_text(ids.size() < 2 ? "Two giornate or more that share seams." : words.c_str());
  if (ImGui::Button("Join them##tool") && ids.size() > 1) finish(bench);
  control(bench, "join.go");
}

}  // namespace

std::unique_ptr<Tool> make_join_tool() { return std::make_unique<JoinTool>(); }

}  // namespace pontata
