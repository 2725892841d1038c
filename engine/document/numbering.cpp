#include "engine/document/numbering.h"

#include <algorithm>

#include "engine/document/giornata_records.h"
#include "engine/document/job_parts.h"
#include "engine/document/settings_table.h"
#include "engine/seams/network_step.h"

namespace pontata {

namespace {

bool same_walls(const Document& a, const Document& b) {
  const auto same = [](const std::shared_ptr<const WallItem>& p, const std::shared_ptr<const WallItem>& q) {
    return p == q || (p->wall == q->wall && NetworkStep::same(p->network, q->network));
  };
  return std::equal(a.walls.begin(), a.walls.end(), b.walls.begin(), b.walls.end(), same);
}

bool same_records(const Document& a, const Document& b) {
  const auto same = [](const Giornata& p, const Giornata& q) {
    return p.alive == q.alive && p.state == q.state && p.number == q.number;
  };
  return std::equal(a.giornate.begin(), a.giornate.end(), b.giornate.begin(), b.giornate.end(), same);
}

// The words of the edit name a giornata it made by the number it had at first; true when they do.
bool name_anew(std::string& did, const Giornata& was, const Giornata& now) {
  const std::string first = "giornata " + label_of(was);
  if (!did.ends_with(first)) return false;
  did.replace(did.size() - first.size(), first.size(), "giornata " + label_of(now));
  return true;
}

}  // namespace

bool order_may_differ(const Document& before, const Document& after) {
  if (after.numbers_frozen) return false;
  const bool same_job = before.written == after.written || same_work(before.job(), after.job());
  return !same_job || !same_walls(before, after) || !same_records(before, after) ||
         settings_text(before.settings, SettingGroup::day) != settings_text(after.settings, SettingGroup::day);
}

DocumentRef numbered_in_order(const DocumentRef& doc, Flow& flow) {
  if (doc->numbers_frozen) return doc;
  std::vector<GiornataId> order;
  for (const PlannedDay& day : flow.plan(*doc)->days) order.push_back(day.id);
  return renumbered(doc, order);
}

void number_in_order(const Document& before, Edited& edit, Flow& flow) {
  if (!order_may_differ(before, *edit.document)) return;
  const DocumentRef first = std::exchange(edit.document, numbered_in_order(edit.document, flow));
  if (first == edit.document) return;
  for (std::size_t i = before.giornate.size(); i < first->giornate.size(); ++i)
    if (name_anew(edit.did, first->giornate[i], edit.document->giornate[i])) return;
}

}  // namespace pontata
