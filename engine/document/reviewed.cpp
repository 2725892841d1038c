#include "engine/document/reviewed.h"

#include <algorithm>
#include <array>

#include "engine/document/job_parts.h"
#include "engine/document/settings_table.h"
#include "engine/review/rule_words.h"

namespace pontata {

namespace {

// As the review reads them.
bool same_records(const Document& a, const Document& b) {
  return std::ranges::equal(a.giornate, b.giornate, [](const Giornata& p, const Giornata& q) {
    return p.alive == q.alive && p.number == q.number && p.part == q.part && p.changed == q.changed &&
           p.state == q.state && p.intonaco_mm == q.intonaco_mm;
  });
}

}  // namespace

std::string findings_text(Settings settings) {
  const ReviewSettings plain;
  settings.review.eyes.clear();
  settings.review.joint_mm = plain.joint_mm;
  settings.review.eye_arcmin = plain.eye_arcmin;
  return settings_text(settings, SettingGroup::review);
}

std::string giornate_in_words(const Document& doc, std::span<const GiornataId> giornate) {
  std::string text;
  for (std::size_t k = 0; k < giornate.size(); ++k) {
    const std::size_t at = giornate[k].value - 1;
    text += k == 0 ? "" : k + 1 == giornate.size() ? " and " : ", ";
    text += at < doc.giornate.size() ? label_of(doc.giornate[at]) : std::to_string(giornate[k].value);
  }
  if (giornate.empty()) return "";
  return (giornate.size() == 1 ? "giornata " : "giornate ") + text;
}

std::string finding_in_words(const Document& doc, const std::string& rule, std::span<const GiornataId> giornate) {
  const std::string who = giornate_in_words(doc, giornate);
  return std::string(rule_title(rule)) + (who.empty() ? "" : ", " + who);
}

std::string parted_in_words(const Document& doc, const WorstStretch& w) {
  if (!w.one) return "between " + giornate_in_words(doc, std::array{w.other}) + " and the rest of the wall";
  return "between " + giornate_in_words(doc, std::array{w.one, w.other});
}

bool reviewed_alike(const Document& a, const Document& b) {
  if (&a == &b) return true;
  if (a.walls != b.walls || !same_records(a, b)) return false;
  if (a.written != b.written && !same_work(a.job(), b.job())) return false;
  const auto same = [&](SettingGroup group) {
    return settings_text(a.settings, group) == settings_text(b.settings, group);
  };
  return same(SettingGroup::day) && findings_text(a.settings) == findings_text(b.settings) &&
         same(SettingGroup::contours) && (a.settings.calendar.load_kg.empty() || same(SettingGroup::plaster));
}

}  // namespace pontata
