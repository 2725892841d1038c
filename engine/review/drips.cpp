// Water from wet work follows the steepest way down the surface; where that is so flat overhead that drops let go, they
// fall straight down and run on from where they land. Splashes spread to the side as the water falls.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/review/rules.h"

namespace pontata {

namespace {

constexpr double kStep = 0.025;           // m along a path
constexpr int kMostSteps = 4000;          // 100 m
constexpr int kSplashEvery = 4;           // steps between looks to the side
constexpr double kSideStep = 0.1;         // m between places looked at to the side
constexpr double kLeastSplashFall = 0.2;  // m: splashes from lower down stay on the work itself
constexpr double kSpread = 0.5;           // m to the side for each metre of fall, up to the settings' reach
constexpr double kRimStep = 0.1;          // m between starts along a rim
constexpr double kNudge = 0.005;          // m: starts lie just outside the rim
constexpr double kSpots = 0.15;           // chart metres between starts inside, where the surface lets drops go
constexpr double kLeastRun = 0.1;         // m of edge across the fall: less is a dab with a sponge
constexpr double kEitherRun = 0.25;       // m: what no order can help is said only when it matters
constexpr double kLeastNet = 0.05;        // m by which one order must be better than the other
constexpr double kLeastSplash = 0.3;      // m of edge that splashes
constexpr double kLevelGround = 0.02;     // sine: water stays

struct Start {
  ChartPoint place;
  double width = 0;  // m of rim across the fall; 0 for a spot inside
  bool crown = false;
};

// What one later giornata does to one finished earlier.
struct Hit {
  double run = 0, crown_run = 0, splash = 0;  // m of rim
  int spots = 0;
  std::optional<ChartPoint> run_at, crown_at, splash_at;
};

class Drips {
 public:
  Drips(const Case& c, GiornataId source, std::vector<GiornataId> finished);
  std::map<GiornataId, Hit> follow_all();

 private:
  std::vector<Start> starts() const;
  void add_rim(HalfEdgeId h, std::vector<Start>& out) const;
  void add_spots(std::vector<Start>& out) const;
  void follow(const Start& start, bool let_go);
  void look(const Start& start, ChartPoint p, bool crown);
  void look_aside(const Start& start, ChartPoint p, const Fall& fall, double fallen);
  bool is_finished(GiornataId id) const { return std::binary_search(finished_.begin(), finished_.end(), id); }

  const Case& c_;
  GiornataId source_;
  std::vector<GiornataId> finished_;  // sorted
  double lowest_ = 0;                 // below it nothing finished is left
  std::map<GiornataId, Hit> hits_;
  std::vector<GiornataId> met_run_, met_splash_;  // by the present path: each counts once
};

Drips::Drips(const Case& c, GiornataId source, std::vector<GiornataId> finished)
    : c_(c), source_(source), finished_(std::move(finished)) {
  std::sort(finished_.begin(), finished_.end());
  lowest_ = std::numeric_limits<double>::infinity();
  for (const GiornataId id : finished_) lowest_ = std::min(lowest_, c_.measures.at(id)->lowest_m);
}

void Drips::add_rim(HalfEdgeId h, std::vector<Start>& out) const {
  const Network& n = c_.network();
  const double length = n.seam(Network::seam_of(h)).length_m;
  const int parts = std::max(1, static_cast<int>(std::ceil(length / kRimStep)));
  const Vec2 a = to_vec(to_chart(n.origin(h))), b = to_vec(to_chart(n.target(h)));
  for (int k = 0; k < parts; ++k) {
    const Vec2 p = a + (k + 0.5) / parts * (b - a);
    const auto fall = fall_at(c_.wall(), to_chart(p));
    if (!fall || fall->sine < kLevelGround) continue;
    // The giornata lies left of its half-edges: water leaves where the way down points to their right. In units of the
    // level and down steps the edge's part along the level line is its width across the fall.
    const double unit = cross2(fall->level, fall->down);
    const double across = cross2(b - a, fall->down) / unit / parts;
    if (cross2(b - a, fall->down) >= 0) continue;
    out.push_back({c_.over_cut(to_chart(p + kNudge * fall->down)), std::abs(across), fall->drops()});
  }
}

void Drips::add_spots(std::vector<Start>& out) const {
  for (const FaceId face : c_.network().faces_of(source_)) {
    const auto rings = c_.network().rings(face);
    LatticePoint low = rings.front().front(), high = low;
    for (const LatticePoint& p : rings.front()) {
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    const ChartPoint from = to_chart(low), to = to_chart(high);
    const double step = std::max(kSpots, std::max(to.u - from.u, to.v - from.v) / 20);
    for (double u = from.u + 0.5 * step; u < to.u; u += step)
      for (double v = from.v + 0.5 * step; v < to.v; v += step) {
        if (c_.owner_at({u, v}) != source_) continue;
        const auto fall = fall_at(c_.wall(), {u, v});
        if (fall && fall->drops()) out.push_back({{u, v}, 0, true});
      }
  }
}

std::vector<Start> Drips::starts() const {
  std::vector<Start> list;
  for (const FaceId face : c_.network().faces_of(source_))
    for (const auto& cycle : c_.network().cycles(face))
      for (const HalfEdgeId h : cycle) add_rim(h, list);
  add_spots(list);
  return list;
}

void Drips::look(const Start& start, ChartPoint p, bool crown) {
  const GiornataId owner = c_.owner_at(p);
  if (!is_finished(owner) || std::find(met_run_.begin(), met_run_.end(), owner) != met_run_.end()) return;
  met_run_.push_back(owner);
  Hit& hit = hits_[owner];
  (crown ? hit.crown_run : hit.run) += start.width;
  if (start.width == 0) ++hit.spots;
  auto& at = crown ? hit.crown_at : hit.run_at;
  if (!at) at = p;
}

void Drips::look_aside(const Start& start, ChartPoint p, const Fall& fall, double fallen) {
  const double reach = std::min(c_.settings.splash_m, kSpread * fallen);
  for (double d = kSideStep; d <= reach; d += kSideStep)
    for (const double side : {-d, d}) {
      const ChartPoint q = c_.over_cut(to_chart(to_vec(p) + side * fall.level));
      const GiornataId owner = c_.owner_at(q);
      if (!is_finished(owner) || std::find(met_splash_.begin(), met_splash_.end(), owner) != met_splash_.end())
        continue;
      met_splash_.push_back(owner);
      Hit& hit = hits_[owner];
      hit.splash += start.width;
      if (!hit.splash_at) hit.splash_at = q;
    }
}

// `let_go`: drops fall where the surface is flat overhead; otherwise they creep along it.
void Drips::follow(const Start& start, bool let_go) {
  ChartPoint p = start.place;
  double top = -std::numeric_limits<double>::infinity();
  bool crown = start.crown;
  for (int step = 0, falls = 0; step < kMostSteps; ++step) {
    const auto fall = fall_at(c_.wall(), p);
    if (!fall || fall->position.z < lowest_) return;
    top = std::max(top, fall->position.z);
    if (fall->drops() && let_go) {
      crown = true;
      const auto hit = c_.wall().pick.cast(fall->position + 0.002 * fall->normal - Vec3(0, 0, 0.002), Vec3(0, 0, -1));
      if (!hit || ++falls > 3) return;
      p = c_.wall().chart->address(hit->point);
      look(start, p, crown);
      let_go = false;  // runs on from where it lands
      continue;
    }
    if (fall->sine < kLevelGround) return;
    look(start, p, crown);
    const double fallen = top - fall->position.z;
    if (step % kSplashEvery == 0 && fallen >= kLeastSplashFall && start.width > 0) look_aside(start, p, *fall, fallen);
    p = c_.over_cut(to_chart(to_vec(p) + kStep * fall->down));
  }
}

std::map<GiornataId, Hit> Drips::follow_all() {
  for (const Start& start : starts()) {
    if (start.width > 0 && c_.owner_at(start.place) == source_) continue;  // runs back onto its own work
    met_run_.clear();
    met_splash_.clear();
    follow(start, true);
    if (start.crown && start.width > 0) follow(start, false);
  }
  return hits_;
}

// Finished before the day of `day`: done, or planned for an earlier date; on this wall.
std::vector<GiornataId> finished_before(const Case& c, const PlannedDay& day) {
  std::vector<GiornataId> list;
  for (const PlannedDay& other : c.input.plan->days)
    if (other.id != day.id && (!other.dated || other.date < day.date) && c.measures.contains(other.id))
      list.push_back(other.id);
  return list;
}

Finding drip_finding(const Case& c, GiornataId later, GiornataId earlier, const Hit& hit, Severity severity,
                     ChartPoint at, double metres, std::string_view how) {
  Finding f = c.at("drips-on-finished", severity, {later, earlier}, at);
  f.value = metres;
  f.limit = 0;
  const std::string from =
      metres > 0 ? fmt::format("{} m of its edge", format_fixed(metres, 2)) : fmt::format("{} places in it", hit.spots);
  f.says = fmt::format("{} is painted after {}: {} from {} reach finished work here.", c.name(later), c.name(earlier),
                       how, from);
  f.remedy = fmt::format("Paint {} first, or hang a cover over {} before wetting the wall above.", c.name(later),
                         c.name(earlier));
  return f;
}

bool neighbours(const Case& c, GiornataId a, GiornataId b) {
  const auto& list = c.measures.at(a)->neighbours;
  return std::find(list.begin(), list.end(), b) != list.end();
}

// They share a seam over which as much water would come the other way round: no order helps.
bool either_way(const Case& c, GiornataId later, GiornataId earlier) {
  const auto& runs = c.measures.at(later)->runs_onto;
  return neighbours(c, later, earlier) && std::none_of(runs.begin(), runs.end(), [&](const auto& r) {
           return r.id == earlier && r.width_m > kLeastNet;
         });
}

std::optional<Finding> run_finding(const Case& c, GiornataId later, GiornataId earlier, const Hit& hit) {
  constexpr std::string_view kHow = "water and drips";
  if (!either_way(c, later, earlier))
    return drip_finding(c, later, earlier, hit, Severity::decide, *hit.run_at, hit.run, kHow);
  if (hit.run < kEitherRun) return std::nullopt;
  Finding f = drip_finding(c, later, earlier, hit, Severity::warn, *hit.run_at, hit.run, kHow);
  f.remedy = "The other order is no better: redraw the seam so that it falls to one side only, or hang a cover.";
  return f;
}

std::optional<Finding> finding_of(const Case& c, GiornataId later, GiornataId earlier, const Hit& hit) {
  if (hit.run >= kLeastRun) return run_finding(c, later, earlier, hit);
  if (hit.crown_run >= kLeastRun || hit.spots > 0)
    return drip_finding(c, later, earlier, hit, Severity::warn, *hit.crown_at, hit.crown_run,
                        "drops that may fall either way");
  if (hit.splash < kLeastSplash) return std::nullopt;
  Finding f = drip_finding(c, later, earlier, hit, neighbours(c, later, earlier) ? Severity::note : Severity::warn,
                           *hit.splash_at, hit.splash, "splashes to the side");
  f.remedy = fmt::format("Hang a cover over {} before wetting the wall beside it.", c.name(earlier));
  return f;
}

}  // namespace

void find_drips(const Case& c, Findings& out, Progress* progress) {
  if (!c.input.plan) return;
  for (const PlannedDay& day : c.input.plan->days) {
    if (is_cancelled(progress)) return;
    if (!day.dated || !c.measures.contains(day.id)) continue;
    auto finished = finished_before(c, day);
    const double highest = c.measures.at(day.id)->highest_m;
    std::erase_if(finished, [&](GiornataId id) { return c.measures.at(id)->lowest_m >= highest; });
    if (finished.empty()) continue;
    for (const auto& [earlier, hit] : Drips(c, day.id, std::move(finished)).follow_all())
      if (auto finding = finding_of(c, day.id, earlier, hit)) out.push_back(std::move(*finding));
  }
}

}  // namespace pontata
