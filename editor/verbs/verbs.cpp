#include "editor/verbs/verbs.h"

namespace pontata {

VerbTask accept_verb(Usage& usage);
VerbTask address_verb(Usage& usage);
VerbTask calendar_verb(Usage& usage);
VerbTask cartoon_verb(Usage& usage);
VerbTask check_verb(Usage& usage);
VerbTask compare_verb(Usage& usage);
VerbTask divide_verb(Usage& usage);
VerbTask edit_verb(Usage& usage);
VerbTask export_verb(Usage& usage);
VerbTask hug_verb(Usage& usage);
VerbTask join_verb(Usage& usage);
VerbTask level_verb(Usage& usage);
VerbTask measure_verb(Usage& usage);
VerbTask node_verb(Usage& usage);
VerbTask nudge_verb(Usage& usage);
VerbTask opening_verb(Usage& usage);
VerbTask outline_verb(Usage& usage);
VerbTask picture_verb(Usage& usage);
VerbTask plaster_verb(Usage& usage);
VerbTask propose_verb(Usage& usage);
VerbTask redraw_verb(Usage& usage);
VerbTask remove_verb(Usage& usage);
VerbTask render_verb(Usage& usage);
VerbTask review_verb(Usage& usage);
VerbTask seams_verb(Usage& usage);
VerbTask set_verb(Usage& usage);
VerbTask tape_verb(Usage& usage);
VerbTask diary_verb(Usage& usage);
VerbTask order_verb(Usage& usage);
VerbTask days_verb(Usage& usage);
VerbTask ground_verb(Usage& usage);
VerbTask weather_verb(Usage& usage);
VerbTask putty_verb(Usage& usage);
VerbTask palette_verb(Usage& usage);
VerbTask secco_verb(Usage& usage);
VerbTask wall_verb(Usage& usage);
VerbTask zone_verb(Usage& usage);

std::span<const Verb> all_verbs() {
  static const std::vector<Verb> verbs{
#ifdef PONTATA_WINDOW
      {"edit", "open the window on a project (so does a project's name alone)", edit_verb},
#endif
      {"wall", "add a wall of a known shape or from a scan", wall_verb},
      {"opening", "list, cut or close the openings of a wall", opening_verb},
      {"address", "tell places of a wall as chart places, and the other way", address_verb},
      {"tape", "true distances between places, over the surface and through the air", tape_verb},
      {"picture", "lay pictures on a wall, by size, by points or for an eye", picture_verb},
      {"outline", "draw a giornata from a closed outline", outline_verb},
      {"hug", "show the line that hugs the contours between points", hug_verb},
      {"divide", "lay a new seam through a giornata", divide_verb},
      {"nudge", "drag a stretch of seam, less and less to both sides", nudge_verb},
      {"redraw", "lead a stretch of seam along a new line", redraw_verb},
      {"node", "move, add or take away a node of a seam", node_verb},
      {"join", "make one giornata of two that share a seam", join_verb},
      {"remove", "take a giornata or a zone away", remove_verb},
      {"zone", "mark an area to keep whole, or one of detail", zone_verb},
      {"propose", "find a whole layout to start from, and lay it on a wall", propose_verb},
      {"seams", "take the seams of a wall out as SVG or DXF, or bring them in", seams_verb},
      {"set", "show or change the project's settings", set_verb},
      {"measure", "areas, lengths and volumes on the true surface", measure_verb},
      {"plaster", "mortar, lime putty and sand of each giornata", plaster_verb},
      {"level", "arriccio that brings a scanned wall true, with a depth map", level_verb},
      {"calendar", "order, days and hours of the giornate", calendar_verb},
      {"order", "what is painted before what, apart or together", order_verb},
      {"days", "days without work, giornate moved by hand, those kept for the strike", days_verb},
      {"ground", "the arriccio: when it was laid, and that it is signed for", ground_verb},
      {"weather", "the weather of the working days", weather_verb},
      {"putty", "batches of lime putty", putty_verb},
      {"palette", "pigments and how they stand in lime, and those of a giornata", palette_verb},
      {"secco", "what is finished dry", secco_verb},
      {"diary", "what was really done, what it teaches, and the record of it", diary_verb},
      {"review", "what is wrong with the seams, and what to do", review_verb},
      {"accept", "findings of the review that may stay, with the reason", accept_verb},
      {"compare", "the figures of layouts side by side", compare_verb},
      {"cartoon", "print true-size patterns, key plan and day sheets", cartoon_verb},
#ifdef PONTATA_RENDER
      {"render", "draw a wall with its giornate into a picture", render_verb},
#endif
      {"export", "write the walls with one named part per giornata as GLB", export_verb},
      {"check", "check the project for faults", check_verb},
  };
  return verbs;
}

}  // namespace pontata
