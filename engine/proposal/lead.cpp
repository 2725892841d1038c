#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "engine/proposal/line_clashes.h"
#include "engine/proposal/line_ways.h"

namespace pontata {

namespace {

constexpr double kSnap = 1.6;      // cells that a junction is drawn to a contour at first
constexpr int kSweeps = 1;         // rounds in which junctions move
constexpr double kStraight = 0.8;  // cells that a straightened line may lie from its course
constexpr double kBare = 5;        // the same where no picture asks for anything else
constexpr int kMostRounds = 40;
constexpr std::size_t kMostOff = 3;                       // lines that one is led beside, before it goes straight
constexpr std::array<double, 2> kPlainReach{0.12, 0.30};  // chart m round a place where lines stay by their course

// Ways of a line, each plainer than the one before: along contours, along contours beside lines that it would cross,
// straight, along its cells.
enum Way : std::size_t { kHugged, kBeside, kStraightened, kCells, kWays };

using Key = std::pair<double, double>;
Key key_of(Vec2 p) { return {p.x, p.y}; }

struct Course {
  std::array<WayLine, kWays> ways;
  std::size_t way = kHugged;
  std::vector<std::size_t> off;  // lines that it is led beside
};

}  // namespace

class LineLeader::State {
 public:
  State(const ProposalGround& ground, const ProposalInput& input, double strict, std::span<const LayoutLine> lines,
        Progress* progress)
      : ground_(ground), input_(input), ways_(ground, input, strict), lines_(lines.begin(), lines.end()) {
    for (std::size_t l = 0; l < lines_.size(); ++l)
      for (const Vec2& end : {lines_[l].at.front(), lines_[l].at.back()}) ends_[key_of(end)].push_back(l);
    if (ways_.follow()) {
      snap_junctions();
      for (int k = 0; k < kSweeps && !is_cancelled(progress); ++k) move_junctions(progress);
    }
    courses_.resize(lines_.size());
    for (std::size_t l = 0; l < lines_.size(); ++l) set_ways(l, progress);
  }

  std::vector<LayoutLine> led(std::span<const PlainPlace> plain, Progress* progress) {
    const auto courses = courses_;
    const auto places = places_;
    keep_plain(plain, progress);
    auto lines = lines_;
    if (settle(progress))  // else all stay along their cells, their junctions where they were: those never clash
      for (std::size_t l = 0; l < lines.size(); ++l) lines[l].at = courses_[l].ways[courses_[l].way];
    courses_ = courses;
    places_ = places;
    narrow_.clear();
    return lines;
  }

 private:
  Vec2 place(Vec2 corner) const {
    const auto it = places_.find(key_of(corner));
    return it == places_.end() ? corner : it->second;
  }

  // A junction beside a keep-whole zone stays where it is.
  bool stays(Vec2 corner) const {
    const Vec2 at = (corner - ground_.origin) / ground_.cell;
    const int i = static_cast<int>(std::lround(at.x)), j = static_cast<int>(std::lround(at.y));
    for (int dj = -2; dj < 2; ++dj)
      for (int di = -2; di < 2; ++di)
        if (ground_.is_free(i + di, j + dj) && ground_.whole[ground_.index(i + di, j + dj)] != kNoAtom) return true;
    return false;
  }
  // Free ground there, and no keep-whole zone close by.
  bool is_open(Vec2 p) const {
    const Vec2 at = (p - ground_.origin) / ground_.cell;
    return ground_.is_free(static_cast<int>(std::floor(at.x)), static_cast<int>(std::floor(at.y))) && !stays(p);
  }
  void snap_junctions() {
    for (const LayoutLine& line : lines_) {
      if (!line.first_open) snap(line.at.front());
      if (!line.last_open) snap(line.at.back());
    }
  }
  void snap(Vec2 corner) {
    if (places_.contains(key_of(corner)) || stays(corner)) return;
    const Vec2 at = ways_.on_contour(corner, kSnap);
    const bool taken = std::ranges::any_of(places_, [&](const auto& other) { return other.second == at; });
    if (!taken && is_open(at)) places_[key_of(corner)] = at;
  }
  void move_junctions(Progress* progress) {
    std::map<Key, std::vector<WayLine>> meeting;
    for (const LayoutLine& line : lines_) {
      if (key_of(line.at.front()) == key_of(line.at.back())) continue;
      WayLine now = ways_.roughly(line.at, place(line.at.front()), place(line.at.back()), progress);
      if (is_cancelled(progress)) return;
      if (!line.first_open) meeting[key_of(line.at.front())].push_back(ways_.leg(now));
      std::ranges::reverse(now);
      if (!line.last_open) meeting[key_of(line.at.back())].push_back(ways_.leg(now));
    }
    for (const auto& [key, legs] : meeting) {
      const Vec2 corner(key.first, key.second);
      if (legs.size() < 3 || stays(corner)) continue;
      std::vector<Vec2> others;
      for (const auto& [other, lines] : ends_)
        if (other != key) others.push_back(place({other.first, other.second}));
      const auto at = ways_.least_place(corner, legs, others, progress);
      if (is_cancelled(progress)) return;
      if (at && is_open(*at)) places_[key] = *at;
    }
  }

  void set_ways(std::size_t l, Progress* progress) {
    const WayLine& course = lines_[l].at;
    auto& ways = courses_[l].ways;
    const Vec2 from = place(course.front()), to = place(course.back());
    ways[kCells] = ways_.joined(course, from, to);
    ways[kStraightened] = ways_.straightened(course, from, to, kStraight);
    ways[kBeside].clear();
    const double bare = narrow_.empty() && !(input_.ribs && !input_.ribs->lines.empty()) ? kBare : kStraight;
    ways[kHugged] = ways_.follow() ? ways_.hugged(course, from, to, narrow_, {}, progress)
                                   : ways_.straightened(course, from, to, bare);
    if (ways[kHugged].empty()) ways[kHugged] = ways[kStraightened];
  }

  // Lines that pass such a place are led anew, close by their course there; a junction beside it moves back.
  void keep_plain(std::span<const PlainPlace> plain, Progress* progress) {
    for (const PlainPlace& p : plain) narrow_.push_back({p.at, kPlainReach[std::clamp<std::size_t>(p.way, 1, 2) - 1]});
    const auto held = [&](Vec2 q) {
      return std::ranges::any_of(narrow_, [&](const NarrowPlace& n) { return glm::distance(n.at, q) < n.reach; });
    };
    std::set<std::size_t> again;
    for (std::size_t l = 0; l < lines_.size(); ++l)
      if (std::ranges::any_of(courses_[l].ways[kHugged], held) || std::ranges::any_of(lines_[l].at, held))
        again.insert(l);
    for (const auto& [key, lines] : ends_) {
      const Vec2 corner(key.first, key.second);
      if (!held(corner) && !held(place(corner))) continue;
      places_.erase(key);
      again.insert(lines.begin(), lines.end());
    }
    for (const std::size_t l : again) set_ways(l, progress);
  }

  // Each line takes its best way that clashes with none.
  bool settle(Progress* progress) {
    drawn_.assign(lines_.size(), {});
    for (std::size_t l = 0; l < lines_.size(); ++l) draw(l);
    for (int round = 0; round < kMostRounds; ++round) {
      if (is_cancelled(progress)) return false;
      auto bad = clashes(drawn_);
      // A line that even along its cells enters a keep-whole zone has a junction that moved too far.
      for (std::size_t l = 0; l < lines_.size(); ++l)
        if (courses_[l].way == kCells && has_moved(l) && enters_whole(drawn_[l], input_.zones)) bad.emplace_back(l, l);
      if (bad.empty()) return true;
      std::vector<char> changed(lines_.size(), 0);
      for (const auto& [a, b] : bad) {
        if (changed[a] || changed[b]) continue;  // it may not cross the other any more
        const bool first = courses_[a].way < courses_[b].way || (courses_[a].way == courses_[b].way && shorter(a, b));
        const std::size_t l = first ? a : b, other = first ? b : a;
        if (courses_[l].way == kCells) {
          for (const std::size_t moved :
               put_back(l, other, round < kMostRounds / 2 ? kHugged : kStraightened, progress))
            changed[moved] = 1;
        } else {
          make_plainer(l, other, progress);
        }
        changed[l] = 1;
      }
    }
    return false;
  }
  bool has_moved(std::size_t l) const {
    return places_.contains(key_of(lines_[l].at.front())) || places_.contains(key_of(lines_[l].at.back()));
  }
  bool shorter(std::size_t a, std::size_t b) const { return lines_[a].at.size() < lines_[b].at.size(); }

  // Its first way from the present one on that enters no keep-whole zone; the last one whatever it does.
  void draw(std::size_t l) {
    Course& course = courses_[l];
    for (;; ++course.way) {
      LatticeLine& line = drawn_[l];
      line.clear();
      for (const Vec2& p : course.ways[course.way])
        if (const auto at = to_lattice(to_chart(p)); line.empty() || line.back() != at) line.push_back(at);
      if (course.way == kCells || (line.size() > 1 && !enters_whole(line, input_.zones))) return;
    }
  }

  void make_plainer(std::size_t l, std::size_t other, Progress* progress) {
    Course& course = courses_[l];
    const bool led = course.way < kStraightened && ways_.follow() && l != other && course.off.size() < kMostOff;
    if (led) {
      course.off.push_back(other);
      std::vector<WayLine> off;
      for (const std::size_t o : course.off) off.push_back(courses_[o].ways[courses_[o].way]);
      const WayLine& at = lines_[l].at;
      course.ways[kBeside] = ways_.hugged(at, place(at.front()), place(at.back()), narrow_, off, progress);
      course.way = kBeside;
    } else {
      course.way = std::max<std::size_t>(course.way + 1, kStraightened);
    }
    draw(l);
  }

  // Lines along their cells only meet where a junction has moved onto one: it moves back, and all that meet there begin
  // anew.
  std::set<std::size_t> put_back(std::size_t a, std::size_t b, Way from, Progress* progress) {
    std::set<std::size_t> again;
    for (const std::size_t l : {a, b})
      for (const Vec2& corner : {lines_[l].at.front(), lines_[l].at.back()})
        if (places_.erase(key_of(corner)) > 0) again.insert(ends_[key_of(corner)].begin(), ends_[key_of(corner)].end());
    for (const std::size_t l : again) {
      courses_[l].way = from;
      courses_[l].off.clear();
      set_ways(l, progress);
      draw(l);
    }
    return again;
  }

  const ProposalGround& ground_;
  const ProposalInput& input_;
  LineWays ways_;
  std::vector<LayoutLine> lines_;
  std::map<Key, std::vector<std::size_t>> ends_;  // lines by the corner that they begin or end in
  std::map<Key, Vec2> places_;                    // where junctions have moved to, by their corner
  std::vector<Course> courses_;
  std::vector<NarrowPlace> narrow_;
  std::vector<LatticeLine> drawn_;
};

LineLeader::LineLeader(const ProposalGround& ground, const ProposalInput& input, double strict,
                       std::span<const LayoutLine> lines, Progress* progress)
    : state_(std::make_unique<State>(ground, input, strict, lines, progress)) {}
LineLeader::~LineLeader() = default;

std::vector<LayoutLine> LineLeader::led(std::span<const PlainPlace> plain, Progress* progress) {
  return state_->led(plain, progress);
}

}  // namespace pontata
