#include <optional>

#include "engine/picture/metric_grid.h"
#include "engine/seams/hug.h"
#include "engine/seams/hug_guide.h"

namespace pontata {

namespace {

constexpr double kFreeCells = 12;  // round the pointer, cells that are free to a line that is kept

}  // namespace

struct HugStroke::State {
  State(std::shared_ptr<HugGuide> over, ChartPoint p, std::span<const ChartPoint> before)
      : guide(std::move(over)), given(before.empty() ? p : before.back()) {
    anchor = before.empty() ? guide->click(p) : guide->fixed(to_vec(before.back()));
    if (before.size() < 2) return;
    begin = before.front();
    std::vector<Vec2> line;
    for (const auto& q : before) line.push_back(to_vec(q));
    if (guide->cost()) barrier.emplace(*guide->cost(), line, std::vector<Vec2>{anchor.given, line[0]});
  }

  std::shared_ptr<HugGuide> guide;
  ChartPoint given;
  HugEnd anchor;
  std::optional<ChartPoint> begin;  // of the line drawn so far
  std::optional<HugBarrier> barrier;
  struct Shown {
    HugWay way;
    Vec2 at;  // that it was led to
  };
  std::optional<Shown> shown;

  HugEnd end(ChartPoint p) {
    if (begin && to_lattice(*begin) == to_lattice(p)) return guide->fixed(to_vec(*begin));
    return guide->click(p, barrier ? &*barrier : nullptr);
  }
  // What a way to b keeps off: nothing where b means to meet the line.
  const HugBarrier* off(const HugEnd& b) {
    return barrier && !barrier->beside(guide->cost()->cell_at(b.given)) ? &*barrier : nullptr;
  }

  HugWay to_show(const HugEnd& b, const Progress* progress) {
    auto way = guide->rough(anchor, b, off(b), progress);
    if (!way) way = guide->exact(anchor, b, off(b), progress);
    if (!shown || !shown->way.cells || !way->cells) return *way;
    const double free = glm::length(b.given - shown->at) + kFreeCells * guide->cost()->cell();
    auto kept = guide->kept(*shown->way.cells, free, anchor, b, off(b));
    return kept && kept->cost_m <= (1 + guide->options().keep_share) * way->cost_m ? *kept : *way;
  }

  template <class Search>
  HuggedLine line(ChartPoint p, const Search& search) {
    const HugEnd b = end(p);
    HugWay way = HugGuide::straight(anchor, anchor);
    std::optional<HugPath> path;
    if (b.given != anchor.given) {
      path = guide->along_seams(anchor, b);
      if (!path) {
        way = search(b);
        shown = Shown{way, b.given};
      }
    }
    if (!path && way.from.at == way.to.at) {
      HuggedLine none;
      none.line = {to_chart(way.to.at), to_chart(way.to.at)};
      return none;
    }
    if (!path) path = guide->dense(way);
    const ChartPoint ends[2] = {given, p};
    const auto simple = simplify(guide->wall(), *path, 1e-3 * guide->options().simplify_mm, {});
    auto line = with_given(measured(guide->wall(), guide->seams(), simple), ends);
    line.cost_m = way.cost_m;
    return line;
  }
};

HugStroke::HugStroke(std::shared_ptr<const HugGround> ground, ChartPoint anchor, const HugOptions& options,
                     std::span<const ChartPoint> before)
    : HugStroke(std::make_shared<HugGuide>(std::move(ground), options), anchor, before) {}
HugStroke::HugStroke(std::shared_ptr<HugGuide> guide, ChartPoint anchor, std::span<const ChartPoint> before)
    : state_(std::make_unique<State>(std::move(guide), anchor, before)) {}
HugStroke::~HugStroke() = default;
HugStroke::HugStroke(HugStroke&&) noexcept = default;
HugStroke& HugStroke::operator=(HugStroke&&) noexcept = default;

HuggedLine HugStroke::to(ChartPoint p, const Progress* progress) {
  auto& s = *state_;
  return s.line(p, [&](const HugEnd& b) { return s.guide->exact(s.anchor, b, s.off(b), progress); });
}

HuggedLine HugStroke::preview(ChartPoint p, const Progress* progress) {
  auto& s = *state_;
  return s.line(p, [&](const HugEnd& b) { return s.to_show(b, progress); });
}

}  // namespace pontata
