// Look: moves the eye and chooses giornate; never edits.
#include "editor/tools/tool.h"
#include "editor/window/workbench.h"

namespace pontata {
namespace {

class LookTool final : public Tool {
 public:
  const char* name() const override { return "Look"; }
  char key() const override { return 'L'; }
  std::string hint() const override {
    return "Click a giornata, or another wall, to choose it. Drag to turn, right drag to shift, wheel to near.";
  }
  bool drags_view() const override { return true; }
  void press(Workbench& bench, const ToolPointer& at) override {
    const auto item = bench.session.wall_item();
    if (!item || !at.place) return bench.session.choose({});
    bench.session.choose(fits_lattice(*at.place) ? item->network.owner_at(to_lattice(*at.place)) : GiornataId{});
  }
};

}  // namespace

std::unique_ptr<Tool> make_look_tool() { return std::make_unique<LookTool>(); }

}  // namespace pontata
