#include "editor/verbs/project.h"
#include "engine/document/seam_edits.h"

namespace pontata {

namespace {

struct JoinArguments : ReportArguments {
  std::string wall;
  std::uint32_t keep = 0, other = 0;
  std::vector<std::uint32_t> also;
};

int run(const JoinArguments& a) {
  return change_project<Edited>(
      a,
      [&](const Document& doc, Progress*) -> Result<Edited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        const Giornata* g = doc.giornata(GiornataId{a.keep});
        if (g && g->wall != *wall)
          return Problem{"giornata " + std::to_string(a.keep) + " does not lie on " + a.wall, "",
                         "measure --json lists the ids."};
        std::vector<GiornataId> ids{{a.keep}, {a.other}};
        for (const std::uint32_t id : a.also) ids.push_back({id});
        return join(doc, ids);
      },
      [&](const Edited& edited) {
        const Giornata& g = *edited.document->giornata(GiornataId{a.keep});
        print(a.json ? to_text({{"id", g.id.value}, {"number", g.number}, {"label", label_of(g)}}) : edited.did + "\n");
      });
}

}  // namespace

VerbTask join_verb(Usage& usage) {
  const auto a = std::make_shared<JoinArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall");
  usage.needs_id(a->keep, "ID", "id of the giornata that stays");
  usage.needs_id(a->other, "OTHER", "id of the giornata that is joined to it");
  usage.ids(a->also, "--also", "ids of further ones; together they must be one piece");
  return [a] { return run(*a); };
}

}  // namespace pontata
