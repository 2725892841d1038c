#include "editor/stages/diary_form.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <filesystem>

#include "editor/stages/cautions.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/job_edits.h"

namespace pontata {
namespace {

std::string text_of(const std::optional<double>& value) { return value ? format_number(*value) : ""; }

std::string line_of(const DiaryEntry& entry) {
  std::string words = format_date(entry.date);
  if (entry.attempt > 1) words += fmt::format(", time {}", entry.attempt);
  if (entry.hours) words += fmt::format(", {} h", format_fixed(*entry.hours, 1));
  if (entry.area_m2 > 0) words += fmt::format(", {} m²", format_fixed(entry.area_m2, 2));
  if (!entry.putty.empty()) words += ", putty " + entry.putty;
  if (!entry.cut.empty()) words += ", cut otherwise than planned";
  if (entry.failed) words += ", FAILED" + (entry.failed_why.empty() ? "" : ": " + entry.failed_why);
  if (!entry.remarks.empty()) words += "\n" + entry.remarks;
  return words;
}

// The day it stands on in the plan, or today for one that stands on none.
std::string planned_day(Workbench& bench, GiornataId id) {
  const auto plan = bench.session.plan();
  const auto day = std::ranges::find(plan->days, id, &PlannedDay::id);
  return format_date(day != plan->days.end() && day->dated ? day->date : today());
}

bool is_corrected(const Job& job, std::uint32_t id) {
  return std::ranges::any_of(job.diary, [&](const DiaryRef& e) { return e->corrects == id; });
}

}  // namespace

void DiaryForm::draw(Workbench& bench, GiornataId id, const std::optional<Date>& day) {
  if (of_ != id) clear(), of_ = id, date_ = planned_day(bench, id);
  if (day != taken_ && day) date_ = format_date(*day);
  taken_ = day;
  const bool painted = entries(bench, id);
  plan_and_fact(bench, id);
  if (painted && !corrects_) return;
  ImGui::Spacing();
  if (corrects_) quiet_text(fmt::format("Corrects entry {}; the first one stays in the record.", corrects_).c_str());
  fields(bench);
  cut_fields(bench);
  ImGui::Checkbox("It failed and is to be done again", &failed_);
  control(bench, "diary.failed");
  if (failed_) fields_.edit(bench, {"diary.why", "Why it failed", ""}, why_);
  if (action_button("Write it down")) write(bench, id);
  control(bench, "diary.write");
  if (corrects_) {
    same_row("Not now");
    if (ImGui::Button("Not now")) clear();
  }
}

bool DiaryForm::entries(Workbench& bench, GiornataId id) {
  const DocumentRef document = bench.session.document();
  const Job& job = document->job();
  bool any = false, good = false;
  for (const DiaryRef& entry : job.diary) {
    if (entry->giornata != id) continue;
    any = true;
    const bool corrected = is_corrected(job, entry->id);
    ImGui::PushID(static_cast<int>(entry->id));
    if (corrected) {
      quiet_text((line_of(*entry) + " (corrected later)").c_str());
    } else {
      ImGui::TextWrapped("%s", line_of(*entry).c_str());
      if (ImGui::SmallButton("Correct it")) take(*entry);
      control(bench, fmt::format("diary.correct.{}", entry->id));
      good = good || !entry->failed;
    }
    ImGui::PopID();
  }
  if (!any) quiet_text("Nothing written yet.");
  if (good) found_bad(bench, id);
  return good;
}

// Painted, and found bad afterwards.
void DiaryForm::found_bad(Workbench& bench, GiornataId id) {
  if (!ImGui::TreeNode("Found bad later…###found-bad")) return control(bench, "diary.found-bad");
  control(bench, "diary.found-bad");
  if (found_on_.empty()) found_on_ = format_date(today());
  fields_.edit(bench, {"diary.found-on", "Found on", "", "", "", FieldKind::date, {}}, found_on_);
  fields_.edit(bench, {"diary.found-why", "What is wrong", ""}, found_why_);
  warn_text(cutting_out_words().c_str());
  if (ImGui::Button("It is to be cut out and done again")) {
    const auto date = parse_date(found_on_);
    if (!date)
      bench.session.complain(date.problem());
    else if (commit(bench, fail_giornata(*bench.session.document(), id, *date, found_why_)))
      found_why_.clear();
  }
  control(bench, "diary.fail");
  ImGui::TreePop();
}

void DiaryForm::plan_and_fact(Workbench& bench, GiornataId id) {
  const DocumentRef document = bench.session.document();
  DiaryRef fact;
  for (const DiaryRef& entry : standing_entries(document->job().diary))
    if (entry->giornata == id) fact = entry;
  const Giornata* g = document->giornata(id);
  if (!fact || !g) return;
  const auto figures = bench.session.figures(g->wall);
  const auto hours = std::ranges::find(figures->hours, id, &GiornataHours::id);
  if (hours == figures->hours.end()) return;
  if (!ImGui::BeginTable("fact", 3, ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingStretchSame)) return;
  for (const char* column : {"", "plan", "fact"}) ImGui::TableSetupColumn(column);
  ImGui::TableHeadersRow();
  const auto row = [](const char* name, const std::string& plan, const std::string& done) {
    ImGui::TableNextRow();
    for (const std::string& cell : {std::string(name), plan, done}) {
      ImGui::TableNextColumn();
      ImGui::TextUnformatted(cell.c_str());
    }
  };
  row("Painting", shown(hours->hours, 1, "h"), shown(fact->hours, 1, "h"));
  row("Laying", hours->lay_h > 0 ? shown(hours->lay_h, 1, "h") : "–", shown(fact->lay_hours, 1, "h"));
  row("Window", shown(document->settings.calendar.window_h, 1, "h"), shown(fact->window_h, 1, "h"));
  if (const GiornataMeasure* m = bench.session.measure(id))
    row("Area", shown(m->area_m2, 3, "m²"), fact->area_m2 > 0 ? shown(fact->area_m2, 3, "m²") : "–");
  ImGui::EndTable();
}

void DiaryForm::fields(Workbench& bench) {
  if (date_.empty()) date_ = format_date(today());
  const auto field = [&](const char* id, const char* name, const char* unit, const char* tip, FieldKind kind,
                         std::string& value) {
    fields_.edit(bench, {std::string("diary.") + id, name, "", unit, tip, kind, {}}, value);
  };
  field("date", "Day", "", "Such as 2027-05-04; a click in the calendar fills it in", FieldKind::date, date_);
  field("hours", "Painting took", "h", "", FieldKind::number, hours_);
  field("lay", "Laying took", "h", "", FieldKind::number, lay_);
  field("window", "Window met", "h", "From the last coat until the plaster took no more colour", FieldKind::number,
        window_);
  field("temperature", "Temperature", "°C", "Of the air at the wall", FieldKind::number, temperature_);
  field("humidity", "Humidity", "%", "Of the air at the wall", FieldKind::number, humidity_);
  field("air", "Air movement", "km/h", "Past the wall", FieldKind::number, air_);
  field("mix", "Mix", "", "As it was mixed, such as 1 : 1.5 volume", FieldKind::text, mix_);
  field("putty", "Putty batch", "", "As it stands on the tub", FieldKind::text, putty_);
  if (const auto& tubs = bench.session.document()->job().putty; !tubs.empty()) {
    for (const PuttyBatch& tub : tubs) {
      if (&tub != &tubs.front()) same_row(tub.name.c_str());
      if (ImGui::SmallButton(tub.name.c_str())) putty_ = tub.name;
    }
  }
  field("light", "Light", "", "North light, lamps, overcast", FieldKind::text, light_);
  field("remarks", "Remarks", "", "", FieldKind::text, remarks_);
  field("photo", "Photograph", "", "File of a photograph taken that evening", FieldKind::text, photo_);
  if (ImGui::Button("Choose a photograph…")) ask_photo(bench);
  control(bench, "diary.choose-photo");
}

void DiaryForm::cut_fields(Workbench& bench) {
  if (corrects_) return;
  ImGui::TextUnformatted("Cut that evening");
  bool cut = cut_;
  if (ImGui::RadioButton("as planned", !cut_)) cut = false;
  control(bench, "diary.as-planned");
  same_row("along another line", -1, true);
  if (ImGui::RadioButton("along another line", cut_)) cut = true;
  control(bench, "diary.cut");
  cut_ = cut;
  if (!cut_) return;
  if (line_.size() > 1)
    ImGui::TextWrapped("A line of %zu places is taken; what was not painted becomes a giornata of its own.",
                       line_.size());
  else
    quiet_text("Draw it with the Divide tool (D) from rim to rim, and take it here.");
  if (ImGui::Button("Take the line from the Divide tool")) {
    if (bench.tool_kind == ToolKind::divide && bench.tool().points() > 1)
      bench.tool().hand_over(bench, [this](const std::vector<ChartPoint>& line) { line_ = line; });
    else
      take_tool(bench, ToolKind::divide),
          bench.session.say("Click on the rim, then across to the rim on the other side; then take the line");
  }
  control(bench, "diary.take-line");
  if (auto places = typed_places_.draw(bench, "diary", "Take these places")) line_ = std::move(*places);
  fields_.edit(bench,
               {"diary.side", "Painted side", "", "",
                "A place on the side that was painted, right and up, such as 1.2 0.8; empty: the larger side"},
               side_);
}

void DiaryForm::take(const DiaryEntry& entry) {
  clear();
  corrects_ = entry.id;
  date_ = format_date(entry.date);
  hours_ = text_of(entry.hours);
  lay_ = text_of(entry.lay_hours);
  window_ = text_of(entry.window_h);
  if (entry.air) {
    temperature_ = format_number(entry.air->temperature_c);
    humidity_ = format_number(entry.air->humidity_pct);
    air_ = format_number(entry.air->movement_km_h);
  }
  mix_ = entry.mix;
  putty_ = entry.putty;
  light_ = entry.light;
  remarks_ = entry.remarks;
  photo_ = entry.photo;
  failed_ = entry.failed;
  why_ = entry.failed_why;
}

void DiaryForm::clear() {
  const std::string date = date_;
  const GiornataId of = of_;
  const auto taken = taken_;
  *this = DiaryForm();
  date_ = date;
  of_ = of;
  taken_ = taken;
}

Result<DiaryEntry> DiaryForm::typed(GiornataId id) const {
  DiaryEntry entry;
  entry.giornata = id;
  entry.corrects = corrects_;
  const auto date = parse_date(date_);
  if (!date) return date.problem();
  entry.date = *date;
  std::optional<double> temperature, humidity, air;
  for (const auto& [text, name, value] : {std::tuple{&hours_, "Painting took", &entry.hours},
                                          {&lay_, "Laying took", &entry.lay_hours},
                                          {&window_, "Window met", &entry.window_h},
                                          {&temperature_, "Temperature", &temperature},
                                          {&humidity_, "Humidity", &humidity},
                                          {&air_, "Air movement", &air}}) {
    const auto read = number_or_none(*text, name);
    if (!read) return read.problem();
    *value = *read;
  }
  if (temperature.has_value() != humidity.has_value())
    return Problem{"the air is told in part only", "", "Give both temperature and humidity, or leave both empty."};
  if (temperature) entry.air = Air{*temperature, *humidity, air.value_or(0)};
  entry.mix = mix_;
  entry.putty = putty_;
  entry.light = light_;
  entry.remarks = remarks_;
  entry.photo = photo_;
  entry.failed = failed_;
  entry.failed_why = failed_ ? why_ : "";
  return entry;
}

void DiaryForm::write(Workbench& bench, GiornataId id) {
  const auto entry = typed(id);
  if (!entry) return bench.session.complain(entry.problem());
  std::optional<ChartPoint> side;
  if (cut_ && line_.size() < 2)
    return bench.session.complain({"there is no line yet along which it was cut", "",
                                   "Draw it with the Divide tool and take it, or type its places."});
  if (cut_ && !side_.empty()) {
    const auto places = read_places(side_);
    if (!places) return bench.session.complain(places.problem());
    if (!places->empty()) side = places->front();
  }
  const auto done = write_diary(*bench.session.document(), *entry, cut_ ? line_ : std::vector<ChartPoint>(), side);
  if (!done) return bench.session.complain(done.problem());
  if (!commit(bench, Edited{done->document, done->did})) return;
  clear();
  if (!done->rest) return;
  const Giornata* rest = bench.session.document()->giornata(done->rest);
  if (rest) bench.session.say(done->did + ". What was not painted is giornata " + label_of(*rest) + " now");
}

void DiaryForm::ask_photo(Workbench& bench) {
  bench.browser.ask({FileBrowser::Want::open_file,
                     "A photograph of the day's work",
                     {".jpg", ".jpeg", ".png", ".tif", ".tiff"},
                     "",
                     [this](const std::string& path) { photo_ = path; }},
                    bench.settings.folder);
}

}  // namespace pontata
