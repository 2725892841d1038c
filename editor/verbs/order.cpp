#include <fmt/format.h>

#include "editor/verbs/job_report.h"

namespace pontata {

namespace {

struct OrderArguments : ReportArguments {
  std::vector<std::uint32_t> before, apart, together;
  bool remove = false;

  const std::vector<std::uint32_t>& ids() const { return !before.empty() ? before : !apart.empty() ? apart : together; }
  PairRule rule() const {
    const PairKind kind = !before.empty() ? PairKind::before : !apart.empty() ? PairKind::apart : PairKind::together;
    return {GiornataId{ids().at(0)}, GiornataId{ids().at(1)}, kind};
  }
};

int list(const OrderArguments& a, const Document& doc) {
  Json json = {{"pairs", Json::array()}};
  Table table{
      {{"first", "id"}, {"first_label", "no."}, {"kind", "kind", false}, {"second", "id"}, {"second_label", "no."}},
      {}};
  for (const PairRule& rule : doc.job().pairs) {
    const std::string first = label_by_id(doc, rule.first), second = label_by_id(doc, rule.second);
    json["pairs"].push_back({{"first", rule.first.value},
                             {"first_label", first},
                             {"kind", pair_name(rule.kind)},
                             {"second", rule.second.value},
                             {"second_label", second}});
    table.rows.push_back({cell(static_cast<int>(rule.first.value)), cell(first),
                          cell(std::string(pair_name(rule.kind))), cell(static_cast<int>(rule.second.value)),
                          cell(second)});
  }
  return report_all(a, doc, json, table, doc.job().pairs.empty() ? "No pairs are laid down.\n" : table.text());
}

int run(const OrderArguments& a) {
  const auto two = more_than_one(
      {{"--before", !a.before.empty()}, {"--apart", !a.apart.empty()}, {"--together", !a.together.empty()}});
  if (!two.empty()) return wrong_usage("order", two);
  if (a.ids().empty()) {
    if (a.remove) return wrong_usage("order", "--remove needs --before, --apart or --together");
    return with_report("order", a, [&](const Document& doc, Progress*) { return list(a, doc); });
  }
  if (a.csv) return wrong_usage("order", "--csv lists the pairs; it goes without a change");
  if (a.ids().size() != 2) return wrong_usage("order", "name two giornate, like --before 3,7");
  return change_job(
      a, [&](const Document& doc) { return a.remove ? remove_pair(doc, a.rule()) : add_pair(doc, a.rule()); });
}

}  // namespace

VerbTask order_verb(Usage& usage) {
  const auto a = std::make_shared<OrderArguments>();
  a->declare_json_and_csv(usage);
  usage.ids(a->before, "--before", "the first is painted before the second");
  usage.ids(a->apart, "--apart", "never on one day, though they share no seam");
  usage.ids(a->together, "--together", "may be wet on one day though they share a seam");
  usage.flag(a->remove, "--remove", "no longer so");
  return [a] { return run(*a); };
}

}  // namespace pontata
