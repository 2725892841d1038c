// The drawing's walls, and which edge lies over which.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "engine/base/units.h"
#include "engine/document/plan_and_fact.h"
#include "engine/seams/outline_edit.h"

namespace pontata {

namespace {

// The last day of the attempt that stands; none where nothing is painted.
std::map<GiornataId, Date> painted_days(const Document& doc) {
  std::map<GiornataId, Date> days;
  for (const DiaryRef& entry : standing_entries(doc.job().diary)) {
    const Giornata* g = doc.giornata(entry->giornata);
    if (!g || g->state != GiornataState::done) continue;
    if (entry->failed)
      days.erase(entry->giornata);
    else
      days[entry->giornata] = entry->date;
  }
  return days;
}

std::vector<Ring> rings_of(const Network& network, GiornataId id) {
  std::vector<Ring> rings;
  for (const FaceId f : network.faces_of(id))
    for (Ring& ring : network.rings(f)) rings.push_back(std::move(ring));
  return rings;
}

std::string told_words(const DiaryEntry& entry) {
  std::string words;
  const auto add = [&](const std::string& word) { words += (words.empty() ? "" : " · ") + word; };
  if (entry.hours) add(format_fixed(*entry.hours, 1) + " h");
  if (entry.air)
    add(fmt::format("{} °C {} %", format_fixed(entry.air->temperature_c, 0), format_fixed(entry.air->humidity_pct, 0)));
  for (const auto& [name, text] : {std::pair("mix ", &entry.mix), std::pair("putty ", &entry.putty),
                                   std::pair("", &entry.light), std::pair("", &entry.remarks)})
    if (!text->empty()) add(name + *text);
  return words;
}

void add_diary(const Document& doc, GiornataId id, RecordPatch& patch) {
  int attempt = 0;
  for (const DiaryRef& entry : standing_entries(doc.job().diary, id)) {
    if (!entry->cut.empty()) patch.planned = entry->planned;
    if (entry->cut.empty() && entry->attempt > attempt) patch.planned.clear();
    if (const auto words = told_words(*entry); !words.empty())
      patch.words += (patch.words.empty() ? "" : " | ") + words;
    if (entry->attempt == attempt) continue;
    patch.dates.push_back(format_date(entry->date) + (entry->failed ? " failed" : attempt > 0 ? " again" : ""));
    attempt = entry->attempt;
  }
}

RecordPatch patch_of(const Document& doc, const WallItem& item, const Giornata& g) {
  RecordPatch patch;
  patch.label = label_of(g);
  patch.name = g.name;
  patch.rings = rings_of(item.network, g.id);
  patch.painted = g.state == GiornataState::done;
  patch.inside = label_place(patch.rings);
  std::int64_t area = 0;
  for (const FaceId f : item.network.faces_of(g.id)) area += item.network.sums(f).area;
  patch.area_m2 = static_cast<double>(area) * kAreaUnit;
  add_diary(doc, g.id, patch);
  return patch;
}

// Stretches of the rim of one giornata, which lies on their left, along each painted neighbour that is not earlier.
void add_seams(const Network& n, GiornataId id, const std::map<GiornataId, Date>& days,
               std::vector<RecordSeam>& seams) {
  const Date own = days.at(id);
  const auto beside = [&](HalfEdgeId h) -> GiornataId {
    const FaceId f = n.half_edge(Network::twin(h)).face;
    const GiornataId owner = f == Network::kOutside ? GiornataId{} : n.face(f).owner;
    const auto day = days.find(owner);
    const bool counts = owner != id && day != days.end() && (own < day->second || (own == day->second && id < owner));
    return counts ? owner : GiornataId{};
  };
  for (const FaceId f : n.faces_of(id))
    for (auto cycle : n.cycles(f)) {
      // Begun where the neighbour changes, so that no stretch is broken.
      for (std::size_t i = 0; i < cycle.size(); ++i)
        if (beside(cycle[i]) != beside(cycle[(i + cycle.size() - 1) % cycle.size()])) {
          std::ranges::rotate(cycle, cycle.begin() + static_cast<std::ptrdiff_t>(i));
          break;
        }
      GiornataId last;
      for (const HalfEdgeId h : cycle) {
        const GiornataId neighbour = beside(h);
        if (neighbour && neighbour != last) seams.push_back({{to_chart(n.origin(h))}, own == days.at(neighbour)});
        if (neighbour) seams.back().course.push_back(to_chart(n.target(h)));
        last = neighbour;
      }
    }
}

}  // namespace

std::vector<Overlap> overlaps(const Document& doc, WallId wall) {
  const auto days = painted_days(doc);
  const WallItem& item = *doc.wall(wall);
  std::vector<Overlap> found;
  for (const SharedSeam& seam : shared_seams(item.network, item.wall->chart.get())) {
    const auto a = days.find(seam.a), b = days.find(seam.b);
    if (a == days.end() || b == days.end()) continue;
    const bool a_first = a->second < b->second || (a->second == b->second && seam.a < seam.b);
    found.push_back({a_first ? seam.a : seam.b, a_first ? seam.b : seam.a, seam.length_m, a->second == b->second});
  }
  return found;
}

std::vector<RecordWall> record_walls(const Document& doc) {
  const auto days = painted_days(doc);
  std::vector<RecordWall> walls;
  for (const auto& item : doc.walls) {
    RecordWall wall;
    wall.name = item->name;
    wall.wall = item->wall.get();
    for (const Giornata& g : doc.giornate) {
      if (!g.alive || g.wall != item->id) continue;
      wall.patches.push_back(patch_of(doc, *item, g));
      if (days.contains(g.id)) add_seams(item->network, g.id, days, wall.seams);
    }
    std::ranges::sort(wall.patches, label_less, &RecordPatch::label);
    walls.push_back(std::move(wall));
  }
  return walls;
}

}  // namespace pontata
