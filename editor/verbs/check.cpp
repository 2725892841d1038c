#include <fmt/format.h>

#include "editor/verbs/project.h"
#include "engine/document/soundness.h"

namespace pontata {

namespace {

int check(const ReportArguments& a, const Document& doc, Progress* progress) {
  Flow flow;
  const auto faults = document_faults(doc, flow, progress);
  Json json = {{"sound", faults.empty()}, {"faults", Json::array()}};
  std::string text;
  for (const auto& fault : faults) {
    json["faults"].push_back({{"where", fault.where}, {"what", fault.what}, {"remedy", fault.remedy}});
    text += fault.message() + "\n";
  }
  std::size_t giornate = 0;
  for (const auto& g : doc.giornate) giornate += g.alive ? 1 : 0;
  if (faults.empty())
    text = fmt::format("sound: {} {}, {} {}\n", doc.walls.size(), doc.walls.size() == 1 ? "wall" : "walls", giornate,
                       giornate == 1 ? "giornata" : "giornate");
  print(a.json ? to_text(json) : text);
  if (faults.empty()) return kExitDone;
  return fail({fmt::format("{} {} found", faults.size(), faults.size() == 1 ? "fault" : "faults"), "",
               "Take a copy from before."},
              a.project);
}

}  // namespace

VerbTask check_verb(Usage& usage) {
  const auto a = std::make_shared<ReportArguments>();
  a->declare_json(usage);
  return [a] {
    return with_project(*a, [&](const Document& doc, Progress* progress) { return check(*a, doc, progress); });
  };
}

}  // namespace pontata
