#include "engine/document/propose.h"

#include <fmt/format.h>

#include "editor/verbs/job_report.h"
#include "editor/verbs/layout_report.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr double kLeastSize = 0.2, kMostHours = 24;
constexpr std::uint32_t kMostAlternatives = 12;

struct ProposeArguments : ProjectArguments {
  std::string wall;
  std::optional<double> hours, size, contours;
  std::optional<std::uint32_t> seed, alternatives, take;
  std::vector<std::uint32_t> keep;
  bool improve = false, look = false, json = false;

  ProposeOptions options() const {
    ProposeOptions o;
    o.hours = hours;
    for (const std::uint32_t id : keep) o.keep.push_back(GiornataId{id});
    o.settings.size = size.value_or(o.settings.size);
    o.settings.contours = contours.value_or(o.settings.contours);
    o.settings.seed = seed.value_or(o.settings.seed);
    o.settings.from_existing = improve;
    return o;
  }
};

struct Taken : Edited {
  std::vector<ProposedLayout> all;
  std::size_t which = 0;
};

Result<std::vector<ProposedLayout>> found(const ProposeArguments& a, const Document& doc, Progress* progress) {
  const auto wall = find_wall(doc, a.wall);
  if (!wall) return wall.problem();
  Flow flow;
  return propose_several(doc, *wall, a.options(), static_cast<int>(a.alternatives.value_or(3)), flow, progress);
}

Json layout_json(const ProposedLayout& layout) {
  Json json = figures_json(layout.figures);
  const Proposal& p = layout.proposal;
  json["ids"] = Json::array();
  for (const GiornataId id : p.fresh) json["ids"].push_back(id.value);
  json["hours_each"] = p.hours_each;
  json["fewest"] = p.fewest;
  json["overfull"] = Json::array();
  for (const OverfullZone& zone : p.overfull) json["overfull"].push_back({{"zone", zone.name}, {"hours", zone.hours}});
  json["remarks"] = p.remarks;
  return json;
}

void tell(const ProposeArguments& a, const std::vector<ProposedLayout>& all, std::optional<std::size_t> taken) {
  Json json = layout_json(all[taken.value_or(0)]);
  json["taken"] = taken ? Json(*taken + 1) : Json();
  json["alternatives"] = Json::array();
  Table table{{{"layout", "layout"}}, {}};
  add_figures_columns(table);
  for (std::size_t k = 0; k < all.size(); ++k) {
    json["alternatives"].push_back(figures_json(all[k].figures));
    std::vector<Cell> row{cell(static_cast<int>(k + 1))};
    for (Cell& c : figures_cells(all[k].figures)) row.push_back(std::move(c));
    table.rows.push_back(std::move(row));
  }
  if (a.json) return print(to_text(json));
  std::string text = table.text();
  for (const std::string& remark : all[taken.value_or(0)].proposal.remarks) text += remark + "\n";
  text += taken ? fmt::format("layout {} is on {} now\n", *taken + 1, a.wall) : "nothing was changed\n";
  print(text);
}

int run(const ProposeArguments& a) {
  if (a.size && !(*a.size >= kLeastSize && *a.size <= 1))
    return wrong_usage("propose", "--size is a share of the day's hours from 0.2 to 1");
  if (a.contours && !(*a.contours >= 0 && *a.contours <= 1))
    return wrong_usage("propose", "--contours is a number from 0 to 1");
  if (a.hours && !(*a.hours > 0 && *a.hours <= kMostHours))
    return wrong_usage("propose", "--hours is a number above 0, at most 24");
  if (a.alternatives.value_or(1) > kMostAlternatives) return wrong_usage("propose", "--alternatives is at most 12");
  if (a.look && a.take) return wrong_usage("propose", "--take and --look exclude each other");
  if (a.look)
    return with_project(a, [&](const Document& doc, Progress* progress) {
      const auto all = found(a, doc, progress);
      if (!all) return fail(all.problem(), a.project);
      tell(a, *all, std::nullopt);
      return kExitDone;
    });
  return change_project<Taken>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<Taken> {
        auto all = found(a, doc, progress);
        if (!all) return all.problem();
        const std::size_t which = a.take.value_or(1) - 1;
        if (which >= all->size())
          return Problem{fmt::format("only {} different layouts were found", all->size()), "",
                         fmt::format("Take one of 1 to {}.", all->size())};
        Taken taken{(*all)[which].edit, std::move(*all), which};
        return taken;
      },
      [&](const Taken& taken) { tell(a, taken.all, taken.which); });
}

}  // namespace

VerbTask propose_verb(Usage& usage) {
  const auto a = std::make_shared<ProposeArguments>();
  a->declare(usage);
  usage.needs(a->wall, "WALL", "the wall to lay out");
  usage.number(a->hours, "--hours", "hours of painting a giornata; without it what the day leaves");
  usage.ids(a->keep, "--keep", "giornate that stay as they are; painted and printed ones do anyway");
  usage.number(a->size, "--size", "share of the hours that a giornata may fill, 0.2 to 1");
  usage.number(a->contours, "--contours", "how strictly seams follow contours: 0 short and straight, to 1 (0.9)");
  usage.count(a->seed, "--seed", "another one, other layouts");
  usage.count(a->alternatives, "--alternatives", "how many to find (3)");
  usage.count(a->take, "--take", "which of them to lay on the wall (1, the best)");
  usage.flag(a->improve, "--improve", "begin with the giornate that are there");
  usage.flag(a->look, "--look", "only tell the figures, change nothing");
  usage.flag(a->json, "--json", "tell it as JSON");
  return [a] { return run(*a); };
}

}  // namespace pontata
