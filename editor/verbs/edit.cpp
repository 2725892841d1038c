#include "editor/verbs/usage.h"
#include "editor/window/open_window.h"

namespace pontata {

VerbTask edit_verb(Usage& usage) {
  const auto project = std::make_shared<std::optional<std::string>>();
  usage.may_take(*project, "PROJECT", "the project file; none starts a new project");
  return [project] { return open_window(project->value_or("")); };
}

}  // namespace pontata
