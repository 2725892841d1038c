#include "editor/tools/pairs.h"

#include <algorithm>
#include <exception>

#include "editor/window/commands.h"
#include "engine/base/units.h"
#include "engine/document/picture_edits.h"

namespace pontata {
namespace {

const std::vector<Pairs::Pair> kNoPairs;
const FitOptions kUsual;

std::vector<Pairs::Pair> pairs_of(const std::vector<ControlPoint>& points) {
  std::vector<Pairs::Pair> out;
  for (const ControlPoint& p : points) out.push_back({p.pixel, p.place});
  return out;
}

// A fault inside is told like any other reason why it cannot be set.
Result<Fitted> fitted_safely(const ChartedWall& wall, PictureSize size, const std::vector<Pairs::Pair>& pairs,
                             const FitOptions& options) {
  try {
    return fit_picture(wall, size, whole_pairs(pairs), options);
  } catch (const std::exception& fault) {
    return Problem{fault.what(), "the points", "Mark one of them again."};
  }
}

}  // namespace

std::vector<ControlPoint> whole_pairs(const std::vector<Pairs::Pair>& pairs) {
  std::vector<ControlPoint> out;
  for (const Pairs::Pair& p : pairs)
    if (p.whole()) out.push_back({*p.pixel, *p.place});
  return out;
}

const Pairs::Work* Pairs::work_now() const {
  const auto found = works_.find(id_);
  return picture_ && found != works_.end() ? &found->second : nullptr;
}
const std::vector<Pairs::Pair>& Pairs::all() const { return work_now() ? work_now()->now.pairs : kNoPairs; }
const FitOptions& Pairs::options() const { return work_now() ? work_now()->now.options : kUsual; }
std::size_t Pairs::changes() const { return work_now() ? work_now()->before.size() : 0; }
std::size_t Pairs::whole() const {
  return static_cast<std::size_t>(std::count_if(all().begin(), all().end(), [](const Pair& p) { return p.whole(); }));
}

void Pairs::forget() {
  works_.clear();
  picture_ = nullptr;
  id_ = {};
  chosen.reset();
}

void Pairs::follow(Workbench& bench) {
  picture_ = bench.session.placed();
  const PictureId id = picture_ ? picture_->id : PictureId{};
  if (id != id_) chosen.reset();
  id_ = id;
  if (!picture_) return;
  const State set{pairs_of(picture_->points), picture_->fit};
  Work& w = work();
  if (!(w.set == set)) {  // set, or a step of the project undone
    w = {set, set, {}};
    moving_ = false;
  }
  if (id != lens_of_) lens = w.now.options.focal_px ? format_number(*w.now.options.focal_px) : "";
  lens_of_ = id;
  if (chosen && *chosen >= w.now.pairs.size()) chosen.reset();
  if (!moving_) ask(bench);
}

// On the second thread, since many points take longer than a frame. One question at a time; the next one asks what is
// wanted by then.
void Pairs::ask(Workbench& bench) {
  const auto item = bench.session.wall_item();
  const State& state = work().now;
  if (asked_ != 0 || whole() < 2 || !item) return;
  if (answer_.result && answer_.of == id_ && answer_.wall == item->wall && answer_.state == state) return;
  asked_ = ++number_;
  Answer answer{id_, state, item->wall, nullptr};
  bench.quick.start("Setting the picture by points", false,
                    [answer, &bench, number = asked_, size = picture_->size](Progress&) mutable -> Worker::Apply {
                      answer.result = std::make_shared<const Result<Fitted>>(
                          fitted_safely(*answer.wall, size, answer.state.pairs, answer.state.options));
                      return [answer, &bench, number] {
                        Pairs& pairs = bench.pairs;
                        if (pairs.asked_ != number) return;
                        pairs.asked_ = 0;
                        pairs.answer_ = answer;
                      };
                    });
}

const Result<Fitted>* Pairs::fitted() const {
  const Work* w = work_now();
  if (!w || !answer_.result || answer_.of != id_ || !(answer_.state == w->now)) return nullptr;
  return answer_.result.get();
}

Pairs::State& Pairs::change() {
  Work& w = work();
  if (!moving_) w.before.push_back(w.now);
  return w.now;
}

void Pairs::put(Vec2 pixel) {
  if (!ready()) return;
  auto& pairs = change().pairs;
  if (pairs.empty() || pairs.back().whole())
    pairs.push_back({pixel, std::nullopt});
  else
    pairs.back().pixel = pixel;
  chosen = pairs.size() - 1;
}
void Pairs::put(ChartPoint place) {
  if (!ready()) return;
  auto& pairs = change().pairs;
  if (pairs.empty() || pairs.back().whole())
    pairs.push_back({std::nullopt, place});
  else
    pairs.back().place = place;
  chosen = pairs.size() - 1;
}

void Pairs::add(Vec2 pixel, ChartPoint place) {
  if (!ready()) return;
  auto& pairs = change().pairs;
  if (pairs.empty() || pairs.back().whole()) pairs.emplace_back();
  pairs.back() = {pixel, place};
  chosen = pairs.size() - 1;
}

void Pairs::begin_move() {
  if (!ready()) return;
  change();
  moving_ = true;
}
void Pairs::move(std::size_t pair, Vec2 pixel) {
  if (ready() && pair < all().size()) change().pairs[pair].pixel = pixel;
}
void Pairs::move(std::size_t pair, ChartPoint place) {
  if (ready() && pair < all().size()) change().pairs[pair].place = place;
}
void Pairs::remove(std::size_t pair) {
  if (!ready() || pair >= all().size()) return;
  auto& pairs = change().pairs;
  pairs.erase(pairs.begin() + static_cast<std::ptrdiff_t>(pair));
  chosen.reset();
}
void Pairs::choose_options(const FitOptions& options) {
  if (ready() && !(options == this->options())) change().options = options;
}

bool Pairs::take_back() {
  moving_ = false;
  if (changes() == 0) return false;
  Work& w = work();
  w.now = std::move(w.before.back());
  w.before.pop_back();
  chosen.reset();
  return true;
}
void Pairs::give_up() {
  moving_ = false;
  if (!work_now()) return;
  work().now = work().set;
  work().before.clear();
  chosen.reset();
}

void Pairs::set(Workbench& bench) {
  if (!ready()) return;
  const PictureId id = id_;
  const DocumentRef document = bench.session.document();
  const Laying laying = ByPoints{whole_pairs(all()), options()};
  edit_picture(bench, "Setting the picture by points",
               [document, id, laying](Progress& progress) { return lay_again(*document, id, laying, &progress); });
}

}  // namespace pontata
