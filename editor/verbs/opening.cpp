#include <fmt/format.h>

#include "editor/verbs/opening_text.h"
#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/document/opening_edits.h"

namespace pontata {

namespace {

struct OpeningArguments : ReportArguments {
  std::string wall;
  std::optional<std::string> add;
  std::optional<std::uint32_t> remove;
};

std::string area_text(double m2) { return format_fixed(m2, 3) + " m²"; }

Json openings_json(const WallItem& item) {
  Json list = Json::array();
  for (const auto& o : item.openings) {
    Json json = {{"number", list.size() + 1}, {"kind", opening_name(o.kind)}};
    if (o.kind == OpeningKind::free) {
      json["outline"] = Json::array();
      for (const auto& p : o.outline) json["outline"].push_back({p.u, p.v});
    } else {
      json["at"] = {o.at.u, o.at.v};
      json["width_m"] = o.width;
      if (o.kind != OpeningKind::round) json["height_m"] = o.height;
    }
    list.push_back(std::move(json));
  }
  return {{"wall", item.name}, {"area_m2", item.wall->metric->area()}, {"openings", std::move(list)}};
}

std::string openings_text(const WallItem& item) {
  std::string text = fmt::format("{}: {}\n", item.name, area_text(item.wall->metric->area()));
  for (std::size_t i = 0; i < item.openings.size(); ++i)
    text += fmt::format("  {}: {}\n", i + 1, opening_words(item.openings[i]));
  if (item.openings.empty()) text += "  no openings\n";
  return text;
}

int list(const OpeningArguments& a) {
  return with_project(a, [&](const Document& doc, Progress*) {
    const auto wall = find_wall(doc, a.wall);
    if (!wall) return fail(wall.problem(), a.project);
    const WallItem& item = *doc.wall(*wall);
    print(a.json ? to_text(openings_json(item)) : openings_text(item));
    return kExitDone;
  });
}

void tell(const OpeningArguments& a, const OpeningEdited& edited) {
  const WallItem& item = *edited.document->wall_named(a.wall);
  if (a.json) {
    Json json = openings_json(item);
    json["changed"] = Json::array();
    for (const auto& c : edited.changed) {
      const Giornata& now = *edited.document->giornata(c.id);
      json["changed"].push_back({{"id", c.id.value},
                                 {"number", now.number},
                                 {"label", label_of(now)},
                                 {"before_m2", c.before_m2},
                                 {"after_m2", c.after_m2}});
    }
    print(to_text(json));
    return;
  }
  print(openings_text(item));
  for (const auto& c : edited.changed)
    print(fmt::format("giornata {} ends on the opening: {}, before {}\n", label_of(*edited.document->giornata(c.id)),
                      area_text(c.after_m2), area_text(c.before_m2)));
}

int run(const OpeningArguments& a) {
  if (a.add && a.remove) return wrong_usage("opening", "give either --add or --remove");
  if (!a.add && !a.remove) return list(a);
  std::optional<Opening> opening;
  if (a.add) {
    const auto read = parse_opening(*a.add);
    if (!read) return refuse_opening("opening", *a.add, read.problem());
    opening = *read;
  }
  return change_project<OpeningEdited>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<OpeningEdited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        return opening ? add_opening(doc, *wall, *opening) : remove_opening(doc, *wall, *a.remove - 1, progress);
      },
      [&](const OpeningEdited& edited) { tell(a, edited); });
}

}  // namespace

int refuse_opening(const std::string& verb, const std::string& text, const Problem& problem) {
  return text.starts_with("free:") ? fail(problem, "") : wrong_usage(verb, problem.message());
}

VerbTask opening_verb(Usage& usage) {
  const auto a = std::make_shared<OpeningArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall");
  usage.text(a->add, "--add", "rect:U,V,W,H|arched:U,V,W,H|round:U,V,D|free:FILE", "cut this door or window out");
  usage.count(a->remove, "--remove", "close the opening of this number in the list");
  return [a] { return run(*a); };
}

}  // namespace pontata
