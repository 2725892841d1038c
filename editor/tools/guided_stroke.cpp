#include "editor/tools/guided_stroke.h"

#include <atomic>
#include <chrono>
#include <deque>
#include <exception>
#include <thread>
#include <utility>

#include "editor/window/workbench.h"
#include "engine/document/hug_words.h"
#include "engine/seams/hug_across.h"
#include "engine/seams/hug_guide.h"

namespace pontata {
namespace {

constexpr auto kRest = std::chrono::milliseconds(90);  // of the pointer, before the exact line is sought
constexpr double kSameM = 0.002;                       // lines this near each other are one to the eye
constexpr double kBeside = 0.03;                       // m from a click: what was shown there was shown for it

// What is sought over one state of wall, pictures and seams. Used by one job at a time.
struct Seeker {
  WallRef wall;
  std::shared_ptr<const ContourField> contours;
  Network network;
  std::shared_ptr<const WallRibs> ribs;  // null: not yet looked for
  HugOptions options;
  std::shared_ptr<const HugGround> ground;
  std::shared_ptr<HugGuide> guide;
  std::optional<HugStroke> stroke;  // from `anchor`, after `before`
  std::vector<ChartPoint> before;
  ChartPoint anchor;

  void make_ground() {
    if (ground) return;
    if (!ribs) ribs = find_ribs(*wall);
    ground = std::make_shared<const HugGround>(HugGround{wall, contours, network, ribs});
    guide = std::make_shared<HugGuide>(ground, options);
  }
  HugStroke& from(ChartPoint p, const std::vector<ChartPoint>& line) {
    if (!stroke || !(anchor == p) || before != line) {
      stroke.emplace(guide, p, line);
      anchor = p;
      before = line;
    }
    return *stroke;
  }
};

struct Aim {
  ChartPoint at;
  bool straight = false;
};

enum class Seek { shown, at_rest, drawn };

}  // namespace

struct GuidedStroke::State : std::enable_shared_from_this<GuidedStroke::State> {
  ~State() { stop->cancelled = true; }

  std::shared_ptr<const WallItem> item;
  DocumentRef document;
  std::shared_ptr<const ContourField> contours;
  std::optional<Network> instead;
  std::shared_ptr<Seeker> seeker;

  std::vector<ChartPoint> points;
  std::vector<HuggedLine> stretches;  // between points; fewer while some are still being sought
  std::deque<Aim> clicks;             // those, oldest first
  struct Finish {
    std::optional<Aim> closing;
    std::function<void(const HuggedLine&)> done;
  };
  std::optional<Finish> end;

  std::optional<Aim> wanted;  // where the pointer is
  HuggedLine live;            // the line shown
  Aim live_to;
  bool live_exact = false;

  bool busy = false;
  std::shared_ptr<Progress> stop = std::make_shared<Progress>();                      // of the job at work
  std::shared_ptr<std::atomic<long>> round = std::make_shared<std::atomic<long>>(0);  // counts what was asked

  // Where the next stretch begins, and whether anything leads there.
  const ChartPoint& tip() const { return points[stretches.size()]; }

  // The way from the tip to p, in pieces where the shorter one crosses a cut.
  std::vector<CutPiece> way_to(ChartPoint p) const {
    const std::vector<LatticePoint> places{to_lattice(tip()), to_lattice(p)};
    return lead_across(*item->wall, places, {}, false).value();  // without turns nothing is refused
  }
  HuggedLine straight_to(ChartPoint p) const {
    const auto way = way_to(p);
    HuggedLine line;
    for (const CutPiece& piece : way)
      for (const LatticePoint place : piece.points) line.line.push_back(to_chart(place));
    line.line.front() = tip();
    line.line.back() = p;
    line.length_m = length_of(*item->wall, way, false);
    line.stretches = {{HugTarget::nothing, 0, line.line.size() - 1, line.length_m, {}, {}}};
    return line;
  }
  HuggedLine drawn() const {
    HuggedLine all;
    for (const HuggedLine& part : stretches) append(all, part);
    return all;
  }

  void changed() {
    ++*round;
    stop->cancelled = true;
  }
  void append_stretch(HuggedLine stretch);
  bool at_once(Workbench& bench, const Aim& aim, HuggedLine& line) const;
  void go_on(Workbench& bench);
  void seek(Workbench& bench, const Aim& aim, Seek how);
  void found(Workbench& bench, const Aim& aim, Seek how, std::optional<HuggedLine> line);
};

GuidedStroke::GuidedStroke() : state_(std::make_shared<State>()) {}
GuidedStroke::~GuidedStroke() = default;
GuidedStroke::GuidedStroke(GuidedStroke&&) noexcept = default;
GuidedStroke& GuidedStroke::operator=(GuidedStroke&&) noexcept = default;

const std::shared_ptr<const WallItem>& GuidedStroke::item() const { return state_->item; }
const std::vector<ChartPoint>& GuidedStroke::points() const { return state_->points; }

bool GuidedStroke::ready(Workbench& bench) {
  const auto item = bench.session.wall_item();
  if (item != state_->item) clear();
  State& s = *state_;
  const auto contours = bench.session.contours();
  const DocumentRef document = bench.session.document();  // its settings may have changed
  if (item && (item != s.item || contours != s.contours || document != s.document || !s.seeker)) {
    auto seeker = std::make_shared<Seeker>();
    seeker->wall = item->wall;
    seeker->contours = contours;
    seeker->network = s.instead ? *s.instead : item->network;
    seeker->options = document->settings.hug;
    if (s.seeker && s.seeker->wall == item->wall && !s.busy) seeker->ribs = s.seeker->ribs;
    s.seeker = std::move(seeker);
    s.contours = contours;
    s.document = document;
    s.changed();
    s.live = {};
    s.live_exact = false;
  }
  s.item = item;
  return item != nullptr;
}

void GuidedStroke::follow_instead(Network seams) {
  state_->instead = std::move(seams);
  state_->seeker = nullptr;
  state_->changed();
}

HuggedLine GuidedStroke::straight_to(ChartPoint p) const { return state_->straight_to(p); }

// A stretch that needs no search: straight, or the one that is shown exactly.
bool GuidedStroke::State::at_once(Workbench& bench, const Aim& aim, HuggedLine& line) const {
  if (aim.straight || !bench.hug_on || tip() == aim.at) {
    line = straight_to(aim.at);
    return true;
  }
  if (!live_exact || !(live_to.at == aim.at) || live_to.straight || live.line.empty()) return false;
  line = live;
  return true;
}

void GuidedStroke::aim(Workbench& bench, ChartPoint p, bool straight) {
  State& s = *state_;
  const Aim to{p, straight || !bench.hug_on};
  if (s.wanted && s.wanted->at == p && s.wanted->straight == to.straight && !s.live.line.empty()) return;
  s.wanted = to;
  ++*s.round;
  if (s.clicks.empty() && (to.straight || s.tip() == p)) {
    s.live = s.straight_to(p);
    s.live_to = to;
    s.live_exact = true;
    return;
  }
  s.live_exact = false;
  s.go_on(bench);
}

void GuidedStroke::hide_live() {
  if (!state_->wanted && state_->live.line.empty()) return;
  state_->wanted.reset();
  state_->live = {};
  state_->live_exact = false;
  ++*state_->round;
}

void GuidedStroke::State::append_stretch(HuggedLine stretch) {
  if (stretches.empty()) points.front() = stretch.line.front();  // it may have been drawn to a seam
  points[stretches.size() + 1] = stretch.line.back();
  stretches.push_back(std::move(stretch));
  live = {};
  live_exact = false;
  wanted.reset();
}

void GuidedStroke::add(Workbench& bench, ChartPoint p, bool straight) {
  State& s = *state_;
  s.end.reset();
  if (s.points.empty()) {
    s.points.push_back(p);
    return;
  }
  if (s.points.back() == p) return;
  s.points.push_back(p);
  s.clicks.push_back({p, straight || !bench.hug_on});
  ++*s.round;
  s.go_on(bench);
}

void GuidedStroke::take_back() {
  State& s = *state_;
  s.end.reset();
  if (!s.points.empty()) s.points.pop_back();
  if (!s.clicks.empty())
    s.clicks.pop_back();
  else if (!s.stretches.empty())
    s.stretches.pop_back();
  s.changed();
  hide_live();
}

void GuidedStroke::clear() { *this = GuidedStroke{}; }

void GuidedStroke::finish(Workbench& bench, std::optional<ChartPoint> closing, bool straight,
                          std::function<void(const HuggedLine&)> done) {
  State& s = *state_;
  std::optional<Aim> to;
  if (closing) to = Aim{*closing, straight || !bench.hug_on};
  s.end = State::Finish{to, std::move(done)};
  ++*s.round;
  s.go_on(bench);
}

// Does what needs no search, and begins the next search where one is needed and none is at work.
void GuidedStroke::State::go_on(Workbench& bench) {
  HuggedLine line;
  while (!busy && !clicks.empty()) {
    const Aim next = clicks.front();
    if (!at_once(bench, next, line)) return seek(bench, next, Seek::drawn);
    clicks.pop_front();
    if (line.line.size() > 1 && !(line.line.back() == tip()))
      append_stretch(std::move(line));
    else  // it landed where the line is already
      points.erase(points.begin() + static_cast<std::ptrdiff_t>(stretches.size()) + 1);
  }
  if (busy) return;
  if (end) {
    line = {};
    if (end->closing && !at_once(bench, *end->closing, line)) return seek(bench, *end->closing, Seek::drawn);
    const auto done = std::exchange(end, std::nullopt)->done;
    return done(line);
  }
  if (!wanted || wanted->straight || points.empty()) return;
  const bool shown = !live.line.empty() && live_to.at == wanted->at && !live_to.straight;
  if (!shown)
    seek(bench, *wanted, Seek::shown);
  else if (!live_exact)
    seek(bench, *wanted, Seek::at_rest);
}

void GuidedStroke::State::seek(Workbench& bench, const Aim& aim, Seek how) {
  busy = true;
  stop = std::make_shared<Progress>();
  const auto self = weak_from_this();
  const auto work = [seeker = seeker, way = way_to(aim.at), from = tip(), before = drawn().line, to = aim.at, how,
                     stop = stop, round = round, asked = round->load()]() -> std::optional<HuggedLine> {
    const auto until = std::chrono::steady_clock::now() + kRest;
    while (how == Seek::at_rest && std::chrono::steady_clock::now() < until) {
      if (*round != asked || stop->cancelled) return std::nullopt;
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    seeker->make_ground();
    if (way.size() > 1) {
      auto hugged = hug_pieces(seeker->ground, way, false, seeker->options, stop.get());
      return hugged ? std::optional(std::move(*hugged)) : std::nullopt;
    }
    HugStroke& stroke = seeker->from(from, before);
    auto line = how == Seek::shown ? stroke.preview(to, stop.get()) : stroke.to(to, stop.get());
    return stop->cancelled ? std::nullopt : std::optional(std::move(line));
  };
  bench.quick.start("Following contours", false, [self, &bench, aim, how, work](Progress&) -> Worker::Apply {
    std::optional<HuggedLine> line;
    std::string fault;
    try {
      line = work();
    } catch (const std::exception& e) {
      fault = e.what();
    }
    return [self, &bench, aim, how, line = std::move(line), fault]() mutable {
      if (!fault.empty()) bench.session.complain({"the line could not be found: " + fault, "", "Draw it straight."});
      if (const auto state = self.lock()) state->found(bench, aim, how, std::move(line));
    };
  });
}

void GuidedStroke::State::found(Workbench& bench, const Aim& aim, Seek how, std::optional<HuggedLine> line) {
  busy = false;
  const bool stopped = stop->cancelled;
  const bool click = !clicks.empty() && clicks.front().at == aim.at;
  if (how == Seek::drawn && !stopped && (click || (end && end->closing && end->closing->at == aim.at))) {
    if (!line) line = straight_to(aim.at);
    const double apart = glm::length(to_vec(live_to.at) - to_vec(aim.at));
    if (!live.line.empty() && apart < kBeside && !one_to_the_eye(*line, live, kSameM + apart))
      bench.session.say("The line took a shorter way than the one shown");
    live = std::move(*line);
    live_to = aim;
    live_exact = true;
  } else if (how != Seek::drawn && line && !stopped && clicks.empty()) {
    live = std::move(*line);
    live_to = aim;
    live_exact = how == Seek::at_rest;
  }
  go_on(bench);
}

HuggedLine GuidedStroke::whole(const HuggedLine& last) const {
  HuggedLine all = state_->drawn();
  append(all, last);
  return all;
}

std::string GuidedStroke::follows(const Workbench& bench) const {
  const State& s = *state_;
  if (s.live.line.size() < 2 || s.live_to.straight || !bench.hug_on) return "";
  return hug_words(*bench.session.document(), s.live);
}

void GuidedStroke::draw(Workbench& bench, ImDrawList& list, const Pane& pane) const {
  const State& s = *state_;
  for (const HuggedLine& part : s.stretches) draw_stroke(list, bench, pane, part.line, false, kAction);
  draw_stroke(list, bench, pane, s.live.line, false, s.live.share() > 0.5 ? kAction : kSeamCore);
  for (std::size_t i = 0; i < s.points.size(); ++i) draw_dot(list, bench, pane, s.points[i], i == 0);
}

}  // namespace pontata
