#include "editor/verbs/job_report.h"

namespace pontata {

int change_job(const ReportArguments& arguments, const std::function<Result<Edited>(const Document&)>& edit) {
  return change_project<Edited>(
      arguments, [&](const Document& doc, Progress*) { return edit(doc); },
      [&](const Edited& edited) {
        print(arguments.json ? to_text({{"did", edited.did}}) : edited.did + "\n");
      });
}

std::string label_by_id(const Document& doc, GiornataId id) {
  return id && id.value <= doc.giornate.size() ? label_of(doc.giornate[id.value - 1]) : "";
}

std::string more_than_one(const std::vector<std::pair<const char*, bool>>& given) {
  std::string first;
  for (const auto& [flag, there] : given) {
    if (!there) continue;
    if (!first.empty()) return first + " and " + flag + " are two things; do one after the other";
    first = flag;
  }
  return "";
}

Json date_json(const std::optional<Date>& date) { return date ? Json(format_date(*date)) : Json(); }
Cell date_cell(const std::optional<Date>& date) { return date ? cell(format_date(*date)) : Cell{"", "-"}; }
Json number_json(const std::optional<double>& value) { return value ? Json(*value) : Json(); }
Cell truth_cell(bool truth) { return cell(std::string(truth ? "yes" : "no")); }

}  // namespace pontata
