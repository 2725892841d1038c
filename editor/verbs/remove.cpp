#include "editor/verbs/project.h"

namespace pontata {

namespace {

struct RemoveArguments : ReportArguments {
  std::optional<std::uint32_t> giornata, zone;
};

int run(const RemoveArguments& a) {
  if (a.giornata.has_value() == a.zone.has_value())
    return wrong_usage("remove", "give either the id of a giornata or --zone with the id of a zone");
  return change_project<Edited>(
      a,
      [&](const Document& doc, Progress*) {
        return a.zone ? remove_zone(doc, ZoneId{*a.zone}) : remove_giornata(doc, GiornataId{*a.giornata});
      },
      [&](const Edited& edited) {
        const Json removed = a.zone ? Json{{"zone", *a.zone}} : Json{{"id", *a.giornata}};
        print(a.json ? to_text(removed) : edited.did + "\n");
      });
}

}  // namespace

VerbTask remove_verb(Usage& usage) {
  const auto a = std::make_shared<RemoveArguments>();
  a->declare_json(usage);
  usage.may_take_id(a->giornata, "ID", "id of the giornata; its place belongs to none afterwards");
  usage.may_take_id(a->zone, "--zone", "id of a zone, in place of a giornata");
  return [a] { return run(*a); };
}

}  // namespace pontata
