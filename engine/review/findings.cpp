#include "engine/review/findings.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>

#include "engine/base/units.h"
#include "engine/chart/cut_runs.h"
#include "engine/review/rules.h"

namespace pontata {

namespace {

double area_of(const Network& network, FaceId face) { return static_cast<double>(network.sums(face).area) * kAreaUnit; }

}  // namespace

std::vector<GiornataId> owners_round(const Network& network, std::span<const CutContact> contacts, FaceId face) {
  std::vector<GiornataId> round;
  const auto face_of = [&](HalfEdgeId h) { return network.half_edge(h).face; };
  for (const CutContact& c : contacts)
    for (const auto& [mine, other] : {std::pair{c.here, c.there}, std::pair{c.there, c.here}})
      if (face_of(mine) == face && network.face(face_of(other)).owner)
        round.push_back(network.face(face_of(other)).owner);
  for (const auto& cycle : network.cycles(face))
    for (const HalfEdgeId h : cycle)
      if (const GiornataId owner = network.face(network.half_edge(Network::twin(h)).face).owner) round.push_back(owner);
  std::sort(round.begin(), round.end());
  round.erase(std::unique(round.begin(), round.end()), round.end());
  return round;
}

Case::Case(const ReviewInput& in, const ReviewSettings& set)
    : input(in), settings(set), locator(*in.network), contacts(cut_contacts(*in.network, *in.wall->chart)) {
  for (const FaceId f : in.network->faces_of(GiornataId{}))
    if (area_of(*in.network, f) < kHair) hairs[f] = owners_round(*in.network, contacts, f);
  for (const Giornata& g : in.giornate)
    if (g.alive) records[g.id] = &g;
  if (in.measure)
    for (const GiornataMeasure& m : in.measure->giornate) measures[m.id] = &m;
}

std::string Case::name(GiornataId id) const {
  if (!id) return "the rest of the wall";
  const auto it = records.find(id);
  const bool numbered = it != records.end() && it->second->number > 0;
  return "giornata " + (numbered ? label_of(*it->second) : std::to_string(id.value));
}

std::string Case::names(GiornataId a, GiornataId b) const {
  if (!a) std::swap(a, b);
  if (!b) return fmt::format("{} and {}", name(a), name(b));
  const std::string first = name(a), second = name(b);
  return fmt::format("giornate {} and {}", first.substr(first.find(' ') + 1), second.substr(second.find(' ') + 1));
}

GiornataId Case::owner_at(ChartPoint p) const {
  if (!fits_lattice(p)) return {};
  const FaceId f = locator.face_at(to_lattice(p));
  return f == Network::kOutside ? GiornataId{} : network().face(f).owner;
}

ChartPoint Case::over_cut(ChartPoint p) const { return place_across(*wall().chart, p).value_or(p); }

GiornataId Case::owner_across(HalfEdgeId h) const {
  const FaceId face = network().half_edge(Network::twin(h)).face;
  const GiornataId mine = network().face(network().half_edge(h).face).owner;
  const auto hair = hairs.find(face);
  if (hair == hairs.end()) return network().face(face).owner;
  for (const GiornataId id : hair->second)
    if (id != mine) return id;
  return mine;  // a hair within one giornata
}

Finding Case::at(std::string rule, Severity severity, std::vector<GiornataId> giornate, ChartPoint place) const {
  Finding finding;
  finding.rule = std::move(rule);
  finding.severity = severity;
  finding.giornate = std::move(giornate);
  finding.chart = place;
  finding.at = wall().position(place).value_or(wall().position(wall().chart->clamp(place)).value_or(Vec3(0, 0, 0)));
  return finding;
}

namespace {

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

}  // namespace

void find_too_large(const Case& c, Findings& out) {
  for (const GiornataHours& h : c.input.hours) {
    const auto measure = c.measures.find(h.id);
    if (!h.hours || *h.hours <= h.window_h || measure == c.measures.end()) continue;
    const double area = measure->second->area_m2;
    const double surplus = area * (1 - h.window_h / *h.hours);
    Finding f = c.at("too-large", Severity::decide, {h.id}, measure->second->inside);
    f.value = *h.hours;
    f.limit = h.window_h;
    f.says =
        fmt::format("{} ({} m²) needs {} h of painting, but its plaster leaves {} h: {} h or about {} m² too much.",
                    capital(c.name(h.id)), format_fixed(area, 2), format_fixed(*h.hours, 1),
                    format_fixed(h.window_h, 1), format_fixed(*h.hours - h.window_h, 1), format_fixed(surplus, 2));
    f.remedy = h.window_h > 0 ? fmt::format("Divide it, or make it about {} m² smaller.", format_fixed(surplus, 2))
                              : "Lengthen the plaster's window or shorten the waits: no time is left to paint at all.";
    out.push_back(std::move(f));
  }
}

namespace {

// Surface metres round each face that no giornata owns.
std::map<FaceId, double> rims_of_rest(const Network& network) {
  std::map<FaceId, double> rims;
  for (std::uint32_t h = 0; h < network.half_edge_slots(); ++h) {
    if (!network.alive(SeamId{h >> 1})) continue;
    const FaceId face = network.half_edge({h}).face;
    if (face == Network::kOutside || network.face(face).owner) continue;
    if (network.half_edge(Network::twin({h})).face != face) rims[face] += network.seam({h >> 1}).length_m;
  }
  return rims;
}

}  // namespace

void find_gaps(const Case& c, Findings& out) {
  constexpr double kLargestGap = 0.03;  // m^2
  const auto rims = rims_of_rest(c.network());
  for (const auto& faces : joined_across(c.network(), c.network().faces_of(GiornataId{}), c.contacts)) {
    double area = 0, rim = 0;
    FaceId largest = faces[0];
    std::set<GiornataId> round;
    for (const FaceId face : faces) {
      area += area_of(c.network(), face);
      if (const auto it = rims.find(face); it != rims.end()) rim += it->second;
      if (area_of(c.network(), face) > area_of(c.network(), largest)) largest = face;
      for (const GiornataId id : owners_round(c.network(), c.contacts, face)) round.insert(id);
    }
    // A long strip is about as wide as its area makes of half its rim.
    const double width_mm = rim > 0 ? 2000 * area / rim : 0;
    const bool strip = area >= kLargestGap && width_mm < c.settings.tip_mm;
    if ((area >= kLargestGap && !strip) || area < kHair) continue;
    Finding f = c.at("gap", Severity::note, {round.begin(), round.end()}, label_place(c.network().rings(largest)));
    f.value = area;
    f.limit = kLargestGap;
    f.says =
        strip ? fmt::format("A strip of {} m², only about {} mm wide, belongs to no giornata.", format_fixed(area, 2),
                            format_fixed(width_mm, 0))
              : fmt::format("A piece of {} cm² belongs to no giornata.", format_fixed(area * 1e4, area < 1e-3 ? 2 : 0));
    f.remedy = "Draw it as a giornata of its own, or redraw one beside it so that it takes it in.";
    out.push_back(std::move(f));
  }
}

void find_changed(const Case& c, Findings& out) {
  for (const auto& [id, record] : c.records) {
    const auto measure = c.measures.find(id);
    if (!record->changed || measure == c.measures.end()) continue;
    Finding f = c.at("changed-since-cartoon", Severity::warn, {id}, measure->second->inside);
    f.value = 1;
    f.says = c.name(id) + " was changed after its cartoon was printed.";
    f.remedy = "Print its cartoon again before it is plastered.";
    out.push_back(std::move(f));
  }
}

std::vector<Finding> review(const ReviewInput& input, const ReviewSettings& settings, Progress* progress) {
  std::vector<Finding> out;
  if (!input.wall || !input.network) return out;
  const Case c(input, settings);
  report(progress, 0.0, "sizes and zones");
  find_too_large(c, out);
  find_crossed_zones(c, out);
  find_gaps(c, out);
  find_changed(c, out);
  find_too_small(c, out);
  find_too_wide(c, out);
  find_out_of_reach(c, out);
  find_lower_first(c, out);
  find_impossible_overlaps(c, out);
  report(progress, 0.05, "where seams meet");
  find_four_meets(c, out);
  find_in_line(c, out);
  find_kinks(c, out);
  if (!is_cancelled(progress)) find_ribs_crossed(c, out);
  report(progress, 0.1, "contours");
  if (!is_cancelled(progress)) find_off_contour(c, out);
  if (!is_cancelled(progress)) find_across_smooth(c, out);
  report(progress, 0.3, "drips");
  if (!is_cancelled(progress)) find_drips(c, out, progress);
  report(progress, 0.5, "thin ends");
  if (!is_cancelled(progress)) find_thin_ends(c, out, progress);
  std::stable_sort(out.begin(), out.end(), [](const Finding& a, const Finding& b) {
    return std::tie(b.severity, a.rule, a.giornate) < std::tie(a.severity, b.rule, b.giornate);
  });
  for (Finding& f : out) f.says = capital(std::move(f.says));
  report(progress, 1.0, "done");
  return out;
}

std::string_view severity_name(Severity s) {
  switch (s) {
    case Severity::note:
      return "note";
    case Severity::warn:
      return "warn";
    case Severity::decide:
      return "decide";
  }
  return "note";
}

}  // namespace pontata
