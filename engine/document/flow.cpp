#include "engine/document/flow.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <set>

#include "engine/base/units.h"
#include "engine/document/edit_parts.h"
#include "engine/document/flow_cache.h"
#include "engine/document/job_parts.h"
#include "engine/document/open_edges.h"
#include "engine/document/record_names.h"
#include "engine/document/reviewed.h"
#include "engine/document/setting_values.h"
#include "engine/document/settings_table.h"
#include "engine/giornate/measures_again.h"
#include "engine/giornate/zones_near.h"

namespace pontata {

namespace {

// Figures and what they are of, for the next time.
struct Measured {
  std::shared_ptr<const WallItem> item;
  std::string day;  // settings
  std::shared_ptr<const WallFigures> figures;
};

}  // namespace

struct Flow::Cache {
  struct OfWall {
    Kept<std::shared_ptr<const Draped>> draped;
    std::shared_ptr<const Draped> draped_before;
    Kept<std::shared_ptr<const ContourField>> contours;
    std::shared_ptr<const ContourField> contours_before;
    Kept<WallFigures> figures;
    Measured last;
    Kept<std::vector<SharedSeam>> seams;
    Kept<std::vector<Finding>> findings;  // before any is marked as accepted
    Kept<std::vector<Finding>> marked;
    std::shared_ptr<ReviewCache> review;                             // parts of the findings, for the next time
    std::map<std::string, Kept<std::vector<SeamSight>>> from_floor;  // by eye point
    WallRef ribs_of;
    std::shared_ptr<const WallRibs> ribs;  // of that wall
  };
  // What a review of the wall reads; holds references into `doc` and into what the cache keeps.
  ReviewInput review_input(Flow& flow, const Document& doc, WallId wall, Progress* progress);
  std::map<WallId, OfWall> walls;
  // What was written down, as the plan reads it: the same one while only what is accepted of the review changes.
  JobRef work(const Document& doc) {
    if (doc.written != last_work && !same_work(doc.job(), last_work ? *last_work : Job{})) last_work = doc.written;
    return last_work;
  }
  JobRef last_work;
  Kept<Plan> plan;
  Kept<std::vector<std::vector<MeetsWall>>> meetings;
  Kept<std::vector<GiornataPlan>> giornate;
};

namespace {

std::shared_ptr<const WallItem> shared_item(const Document& doc, WallId wall) {
  for (const auto& item : doc.walls)
    if (item->id == wall) return item;
  throw std::logic_error("no wall with this id");
}

// What the plan and the plaster read from the records.
std::string records_text(const Document& doc) {
  std::string text;
  for (const auto& g : doc.giornate)
    if (g.alive)
      text += fmt::format("{} {} {} {} {}\n", g.id.value, label_of(g), g.changed, state_name(g.state),
                          g.intonaco_mm ? format_number(*g.intonaco_mm) : "none");
  return text;
}

std::string secco_words(const SeccoWork& work) {
  std::string says = work.what;
  if (!work.binder.empty()) says += ", " + work.binder;
  if (work.area_m2 > 0) says += ", " + format_fixed(work.area_m2, 2) + " m²";
  if (work.hours > 0) says += ", " + format_fixed(work.hours, 1) + " h";
  return says;
}

// Wet mortar for a giornata, all its edges open: what is carried up before the order of the days is known. 0 where it
// cannot be told.
double mortar_kg(const Document& doc, const GiornataMeasure& measure, const Giornata& record) {
  const auto need = plaster_need(measure, record, measure.perimeter_m, doc.settings.plaster);
  return need ? wet_kg(*need) : 0;
}

// The plan asks for weights only where a deck's load is told.
bool asks_for_mortar(const Document& doc) { return !doc.settings.calendar.load_kg.empty(); }

// What the diary tells the plan.
struct DiaryFacts {
  std::map<GiornataId, std::set<int>> failed;  // attempts
  std::map<GiornataId, Date> painted;          // the latest attempt that holds
  std::set<Date> windows;                      // days on which window and air were met together

  explicit DiaryFacts(std::span<const DiaryRef> diary) {
    for (const DiaryRef& entry : standing_entries(diary)) {
      if (entry->failed)
        failed[entry->giornata].insert(entry->attempt);
      else
        painted[entry->giornata] = entry->date;
      if (entry->window_h && entry->air) windows.insert(entry->date);
    }
  }
  // As next_attempt.
  int attempt(GiornataId id) const {
    const auto it = failed.find(id);
    return 1 + (it == failed.end() ? 0 : static_cast<int>(it->second.size()));
  }
  std::optional<Date> painted_on(GiornataId id) const {
    const auto it = painted.find(id);
    return it == painted.end() ? std::nullopt : std::optional(it->second);
  }
};

std::vector<PlanInput> plan_inputs(const Document& doc, const WallFigures& figures, const DiaryFacts& diary) {
  std::vector<PlanInput> inputs;
  for (std::size_t i = 0; i < figures.measure.giornate.size(); ++i) {
    const auto& measure = figures.measure.giornate[i];
    const Giornata* g = doc.giornata(measure.id);
    PlanInput input{measure, figures.hours[i], g ? g->state : GiornataState::planned, g ? g->number : 0,
                    g ? g->part : ""};
    if (g) input.wall = g->wall;
    input.attempt = diary.attempt(measure.id);
    if (input.state == GiornataState::done) input.painted = diary.painted_on(measure.id);
    if (g && asks_for_mortar(doc)) input.mortar_kg = mortar_kg(doc, measure, *g);
    if (const GiornataJob* job = of_giornata(doc.job(), measure.id))
      input.day = job->day, input.behind_scaffold = job->behind_scaffold;
    inputs.push_back(std::move(input));
  }
  return inputs;
}

// What the plan rests on besides measures and settings; holds references into `doc`.
PlanFacts plan_facts(const Document& doc, const DiaryFacts& diary) {
  const Job& job = doc.job();
  PlanFacts facts;
  for (const auto& item : doc.walls) facts.walls.push_back({item->id, item->name});
  for (const SeccoWork& work : job.secco) facts.secco.push_back({work.giornata, secco_words(work), work.date});
  facts.pairs = job.pairs;
  facts.days_off = job.days_off;
  facts.ground = job.ground;
  facts.weather = job.weather;
  facts.diary_days = static_cast<int>(diary.windows.size());
  return facts;
}

FlowInputs inputs_of(const DrapeInput& input) {
  FlowInputs inputs{{input.wall}, ""};
  for (const auto& picture : input.pictures) inputs.shared.push_back(picture);
  for (const auto& other : input.others) inputs.shared.push_back(other);
  return inputs;
}

FlowInputs contour_inputs(const Document& doc, const DrapedRef& on_wall) {
  return {{on_wall}, settings_text(doc.settings, SettingGroup::contours)};
}

using Ids = std::vector<GiornataId>;  // rising

bool holds(const Ids& ids, GiornataId id) { return std::ranges::binary_search(ids, id); }

// Zones that only one of the two has, or that are told otherwise there. The others come in the same order in both.
std::vector<Zone> zones_changed(const std::vector<Zone>& a, const std::vector<Zone>& b) {
  std::vector<Zone> found;
  for (const auto& [from, other] : {std::tie(a, b), std::tie(b, a)})
    for (const Zone& zone : from)
      if (std::ranges::none_of(other, [&](const Zone& o) { return same_zone(o, zone); })) found.push_back(zone);
  return found;
}

// Hours of every giornata measured; those of `stay` as they were.
std::vector<GiornataHours> hours_of(const Document& doc, const WallItem& item, const WallMeasure& measure,
                                    const std::function<const GiornataHours*(GiornataId)>& stay) {
  const Ids near_zones = giornate_near(item.network, item.zones);
  std::vector<GiornataHours> hours;
  for (const auto& g : measure.giornate) {
    const auto zones = holds(near_zones, g.id) ? std::span<const Zone>(item.zones) : std::span<const Zone>();
    const GiornataHours* const was = stay(g.id);
    hours.push_back(was ? *was : painting_hours(*item.wall, item.network, g, zones, doc.settings.calendar));
  }
  return hours;
}

WallFigures figures_of(const Document& doc, const WallItem& item) {
  WallFigures figures{measure_wall(*item.wall, item.network, doc.giornate), {}};
  figures.hours = hours_of(doc, item, figures.measure, [](GiornataId) { return nullptr; });
  return figures;
}

// What an edit left as it was is taken over: measures of giornate whose rim is the same, hours where zones are too.
WallFigures figures_again(const Document& doc, const WallItem& item, const std::string& day, const Measured& last) {
  const Ids moved = measures_changed(*item.wall, last.item->network, item.network);
  const Ids zoned = giornate_near(item.network, zones_changed(item.zones, last.item->zones));
  WallFigures figures{measure_again(*item.wall, item.network, doc.giornate, last.figures->measure, moved), {}};
  const auto& was = last.figures->hours;
  figures.hours = hours_of(doc, item, figures.measure, [&](GiornataId id) -> const GiornataHours* {
    if (day != last.day || holds(moved, id) || holds(zoned, id)) return nullptr;
    const auto there = std::ranges::lower_bound(was, id, {}, &GiornataHours::id);
    return there != was.end() && there->id == id ? &*there : nullptr;
  });
  return figures;
}

const GiornataMeasure* measure_of(const WallFigures& figures, GiornataId id) {
  const auto there = std::ranges::lower_bound(figures.measure.giornate, id, {}, &GiornataMeasure::id);
  return there != figures.measure.giornate.end() && there->id == id ? &*there : nullptr;
}

}  // namespace

Flow::Flow() : cache_(std::make_unique<Cache>()) {}
Flow::~Flow() = default;

std::shared_ptr<const Draped> Flow::draped(const Document& doc, WallId wall) {
  auto input = drape_input(doc, *shared_item(doc, wall));
  auto& kept = cache_->walls[wall];
  return *kept.draped.get(inputs_of(input), [&]() -> std::shared_ptr<const Draped> {
    if (input.pictures.empty()) return kept.draped_before = nullptr;
    return kept.draped_before = Draped::make(std::move(input), kept.draped_before);
  });
}

std::shared_ptr<const ContourField> Flow::contours(const Document& doc, WallId wall, Progress* progress) {
  const auto on_wall = draped(doc, wall);
  if (!on_wall) return nullptr;
  auto& of_wall = cache_->walls[wall];
  auto made = *of_wall.contours.get(contour_inputs(doc, on_wall), [&] {
    return std::make_shared<const ContourField>(
        contour_field(*on_wall, doc.settings.contours, of_wall.contours_before.get(), progress));
  });
  if (is_cancelled(progress))
    of_wall.contours.forget();
  else
    of_wall.contours_before = made;
  return made;
}

void Flow::take_over(const Document& doc, WallId wall, DrapedRef on_wall, std::shared_ptr<const ContourField> field) {
  auto& of_wall = cache_->walls[wall];
  of_wall.draped.set(inputs_of(drape_input(doc, *shared_item(doc, wall))), on_wall);
  of_wall.draped_before = on_wall;
  if (!field || field->columns == 0) return;
  of_wall.contours.set(contour_inputs(doc, on_wall), field);
  of_wall.contours_before = field;
}

std::shared_ptr<const WallFigures> Flow::figures(const Document& doc, WallId wall) {
  const auto item = shared_item(doc, wall);
  auto& kept = cache_->walls[wall];
  const std::string day = settings_text(doc.settings, SettingGroup::day);
  const Measured last = kept.last;
  const auto made = kept.figures.get({{item}, day}, [&] {
    return last.item && last.item->wall == item->wall ? figures_again(doc, *item, day, last) : figures_of(doc, *item);
  });
  kept.last = {item, day, made};
  return made;
}

std::shared_ptr<const Plan> Flow::plan(const Document& doc) {
  FlowInputs inputs{{}, settings_text(doc.settings, SettingGroup::day) + records_text(doc)};
  if (asks_for_mortar(doc)) inputs.values += settings_text(doc.settings, SettingGroup::plaster);
  for (const auto& item : doc.walls) inputs.values += item->name + "\n";
  inputs.shared.push_back(cache_->work(doc));
  for (const auto& item : doc.walls) inputs.shared.push_back(figures(doc, item->id));
  return cache_->plan.get(std::move(inputs), [&] {
    const DiaryFacts diary(doc.job().diary);
    std::vector<PlanInput> giornate;
    for (const auto& item : doc.walls)
      for (auto& input : plan_inputs(doc, *figures(doc, item->id), diary)) giornate.push_back(std::move(input));
    return make_plan(giornate, doc.settings.calendar, plan_facts(doc, diary));
  });
}

std::shared_ptr<const std::vector<std::vector<MeetsWall>>> Flow::meetings(const Document& doc) {
  FlowInputs inputs;
  for (const auto& item : doc.walls) inputs.shared.push_back(item);
  return cache_->meetings.get(std::move(inputs), [&] {
    std::vector<WallBorder> borders;
    for (const auto& item : doc.walls) borders.push_back({item->wall.get(), &item->network});
    return walls_met(borders);
  });
}

std::shared_ptr<const std::vector<GiornataPlan>> Flow::giornate(const Document& doc) {
  const auto plan_now = plan(doc);
  FlowInputs inputs{{plan_now}, settings_text(doc.settings, SettingGroup::plaster) + records_text(doc)};
  for (const auto& item : doc.walls) inputs.shared.push_back(item);
  return cache_->giornate.get(std::move(inputs), [&] {
    std::map<GiornataId, EdgeDay> edges_of;
    std::map<WallId, std::shared_ptr<const WallFigures>> figures_of_wall;
    for (const auto& item : doc.walls) {
      const auto seams = cache_->walls[item->id].seams.get(
          {{item}, ""}, [&] { return shared_seams(item->network, item->wall->chart.get()); });
      edges_of.merge(edges_of_plan(*seams, *plan_now));
      figures_of_wall[item->id] = figures(doc, item->id);
    }
    std::vector<GiornataPlan> rows;
    for (const auto& day : plan_now->days) {
      const Giornata& record = *doc.giornata(day.id);
      EdgeDay& edges = edges_of[day.id];
      GiornataPlan row;
      row.id = day.id;
      row.wall = record.wall;
      row.day = day;
      row.meets_finished = std::move(edges.meets_finished);
      row.open_edge_m = edges.open_edge_m;
      row.stays_open = std::move(edges.stays_open);
      row.open_to_rest = edges.open_to_rest;
      row.one_wet = std::move(edges.one_wet);
      row.laps = std::move(edges.laps);
      row.need = plaster_need(*measure_of(*figures_of_wall.at(record.wall), day.id), record, edges.open_edge_m,
                              doc.settings.plaster);
      rows.push_back(std::move(row));
    }
    return rows;
  });
}

ReviewInput Flow::Cache::review_input(Flow& flow, const Document& doc, WallId wall, Progress* progress) {
  const auto item = shared_item(doc, wall);
  OfWall& of_wall = walls[wall];
  if (of_wall.ribs_of != item->wall) of_wall.ribs = find_ribs(*item->wall), of_wall.ribs_of = item->wall;
  const auto figures_now = flow.figures(doc, wall);
  const auto plan_now = flow.plan(doc);
  ReviewInput input{item->wall,
                    &item->network,
                    doc.giornate,
                    item->zones,
                    flow.contours(doc, wall, progress),
                    &figures_now->measure,
                    figures_now->hours,
                    plan_now.get()};
  input.draped = flow.draped(doc, wall);
  input.ribs = of_wall.ribs;
  input.calendar = &doc.settings.calendar;
  return input;
}

std::shared_ptr<const std::vector<Finding>> Flow::findings(const Document& doc, WallId wall, Progress* progress) {
  const auto item = shared_item(doc, wall);
  const auto of_wall = figures(doc, wall);
  const auto plan_now = plan(doc);
  const auto field = contours(doc, wall, progress);
  FlowInputs inputs{{item, of_wall, plan_now, field},
                    findings_text(doc.settings) + settings_text(doc.settings, SettingGroup::day) + records_text(doc)};
  auto& kept = cache_->walls[wall];
  const auto found = kept.findings.get(std::move(inputs), [&] {
    ReviewInput input = cache_->review_input(*this, doc, wall, progress);
    if (!kept.review) kept.review = std::make_shared<ReviewCache>();
    input.cache = kept.review;
    return review(input, doc.settings.review, progress);
  });
  if (is_cancelled(progress)) kept.findings.forget();
  return kept.marked.get({{found, doc.written}, ""}, [&] {
    auto marked = *found;
    mark_accepted(marked, wall, doc.job().accepted);
    return marked;
  });
}

std::shared_ptr<const std::vector<SeamSight>> Flow::from_floor(const Document& doc, WallId wall, const EyePoint& eye,
                                                               Progress* progress) {
  const auto item = shared_item(doc, wall);
  FloorInput input;
  input.wall = item->wall;
  input.network = &item->network;
  input.contours = contours(doc, wall, progress);
  input.draped = draped(doc, wall);
  FlowInputs inputs{{item, input.contours, input.draped},
                    settings_text(doc.settings, SettingGroup::review) + eye.name + write_place(eye.at)};
  for (const auto& other : doc.walls) {
    if (other->id == wall) continue;
    input.others.push_back(other->wall);
    inputs.shared.push_back(other->wall);
  }
  input.joint_mm = doc.settings.review.joint_mm;
  input.contour_mm = doc.settings.review.contour_mm;
  input.eye_arcmin = doc.settings.review.eye_arcmin;
  auto& kept = cache_->walls[wall].from_floor[eye.name];
  auto sights = kept.get(std::move(inputs), [&] { return seams_from(input, eye, progress); });
  if (is_cancelled(progress)) kept.forget();
  return sights;
}

LayoutFigures Flow::layout(const Document& doc, WallId wall, Progress* progress) {
  const auto found = findings(doc, wall, progress);
  return layout_figures(cache_->review_input(*this, doc, wall, progress), doc.settings.review, *found);
}

}  // namespace pontata
