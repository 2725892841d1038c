#include "editor/verbs/verbs.h"

namespace pontata {

#ifdef PONTATA_WINDOW
VerbTask edit_verb(Usage& usage);
#endif
#ifdef PONTATA_RENDER
VerbTask render_verb(Usage& usage);
#endif

std::span<const Verb> all_verbs() {
  static const std::vector<Verb> verbs{
#ifdef PONTATA_WINDOW
      {"edit", "opens the window on a project", edit_verb},
#endif
#ifdef PONTATA_RENDER
      {"render", "draws a wall with its giornate into a picture", render_verb},
#endif
  };
  return verbs;
}

}  // namespace pontata
