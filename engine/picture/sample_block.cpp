#include "engine/picture/sample_block.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pontata {

namespace {

constexpr double kOff = 0.05;  // pixels, or samples where those are larger

// Offsets of the nine places in halves of a side.
constexpr std::pair<int, int> kPlaces[9] = {{0, 0}, {2, 0}, {0, 2}, {2, 2}, {1, 0}, {0, 1}, {2, 1}, {1, 2}, {1, 1}};

bool inside(const Vec3& weights) { return weights.x >= 0 && weights.y >= 0 && weights.z >= 0; }

}  // namespace

BlockMap::BlockMap() : nodes_(static_cast<std::size_t>(kNodes) * kNodes) {}

void BlockMap::start(const ChartedWall& wall, const SampleBlock& block, const PreparedPicture& picture,
                     const OnWall& on) {
  wall_ = &wall;
  block_ = &block;
  picture_ = &picture;
  on_ = &on;
  last_ = 0;
  for (Node& n : nodes_) n.state = State::unasked, n.seen = Seen::unasked;
}

bool BlockMap::any_on(int x, int y, int side) const {
  const int right = std::min(x + side, block_->width), top = std::min(y + side, block_->height);
  for (int j = y; j < top; ++j) {
    const auto row = on_->begin() + static_cast<std::ptrdiff_t>(index(0, j));
    if (std::any_of(row + std::min(x, right), row + right, [](std::uint8_t v) { return v != 0; })) return true;
  }
  return false;
}

// Neighbouring nodes mostly lie in one triangle. A sample that is on the wall by its border, yet in no triangle for
// rounding, belongs to the nearest.
std::optional<std::uint32_t> BlockMap::triangle(int i, int j) {
  const ChartPoint p = block_->at(i, j);
  if (inside(wall_->chart->weights(last_, p))) return last_;
  if (!fits_lattice(p)) return std::nullopt;
  auto found = wall_->chart->triangle_at(to_lattice(p));
  if (!found && on(i, j)) found = wall_->chart->triangle_at(to_lattice(wall_->chart->clamp(p)));
  if (found) last_ = *found;
  return found;
}

Vec3 BlockMap::place(std::uint32_t t, ChartPoint p) const {
  return position(wall_->mesh(), {t, wall_->chart->weights(t, p)});
}

const BlockMap::Node& BlockMap::node(int i, int j) {
  Node& n = nodes_[static_cast<std::size_t>(j) * kNodes + static_cast<std::size_t>(i)];
  if (n.state != State::unasked) return n;
  n.state = State::none;
  const ChartPoint p = block_->at(i, j);
  Vec3 at(0, 0, 0);
  if (picture_->needs_place()) {
    const auto t = triangle(i, j);
    if (!t) return n;
    n.triangle = *t;
    at = place(*t, p);
  }
  if (const auto pixel = shown_pixel(picture_->picture(), p, at)) {
    n.pixel = *pixel;
    n.state = State::there;
  }
  return n;
}

// Precondition: the node is there.
bool BlockMap::seen(int i, int j) {
  Node& n = nodes_[static_cast<std::size_t>(j) * kNodes + static_cast<std::size_t>(i)];
  if (n.seen == Seen::unasked) {
    const WallPoint at{n.triangle, wall_->chart->weights(n.triangle, block_->at(i, j))};
    const bool sees = picture_->sight().sees(position(wall_->mesh(), at), normal(wall_->mesh(), at));
    n.seen = sees ? Seen::yes : Seen::no;
  }
  return n.seen == Seen::yes;
}

BlockMap::Nine BlockMap::nine(int x, int y, int side) {
  const double inf = std::numeric_limits<double>::infinity();
  Nine out{{}, true, {inf, inf, -inf, -inf}};
  for (std::size_t k = 0; k < 9; ++k) {
    const Node& n = node(x + kPlaces[k].first * side / 2, y + kPlaces[k].second * side / 2);
    out.at[k] = &n;
    if (n.state != State::there) {
      out.all = false;
      continue;
    }
    PixelBox& b = out.box;
    b = {std::min(b.left, n.pixel.x), std::min(b.top, n.pixel.y), std::max(b.right, n.pixel.x),
         std::max(b.bottom, n.pixel.y)};
  }
  return out;
}

std::optional<EvenPiece> BlockMap::even(const Nine& nine, int x, int y, int side) const {
  const auto at = [&](std::size_t k) { return nine.at[k]->pixel; };
  const Vec2 a = at(0), b = at(1), c = at(2), d = at(3);
  EvenPiece piece{x, y, side, {a, b, c, d}, ((b - a) + (d - c)) / (2.0 * side), ((c - a) + (d - b)) / (2.0 * side)};
  const double off = kOff * std::max(1.0, std::min(glm::length(piece.across), glm::length(piece.up)));
  const Vec2 middles[5] = {0.5 * (a + b), 0.5 * (a + c), 0.5 * (b + d), 0.5 * (c + d), 0.25 * (a + b + c + d)};
  for (std::size_t k = 0; k < 5; ++k)
    if (!(glm::length(at(4 + k) - middles[k]) <= off)) return std::nullopt;
  return piece;
}

bool BlockMap::even_sight(const Nine& nine, int x, int y, int side) {
  if (picture_->has_eye() && picture_->edges().may_pass(nine.box)) return false;
  const bool first = seen(x, y);
  return std::all_of(std::begin(kPlaces), std::end(kPlaces),
                     [&](const auto& k) { return seen(x + k.first * side / 2, y + k.second * side / 2) == first; });
}

// The pixel of one sample, and its change along the triangle it lies in.
std::optional<EvenPiece> BlockMap::single(int x, int y) {
  const Node n = node(x, y);
  if (n.state != State::there) return std::nullopt;
  const auto moved = [&](double dx, double dy) {
    const ChartPoint p = block_->at(x + dx, y + dy);
    const Vec3 at = picture_->needs_place() ? place(n.triangle, p) : Vec3(0, 0, 0);
    return shown_pixel(picture_->picture(), p, at);
  };
  const auto right = moved(1, 0), above = moved(0, 1);
  const Vec2 across = right ? *right - n.pixel : Vec2(0, 0), up = above ? *above - n.pixel : Vec2(0, 0);
  const Vec2 far = 0.5 * (glm::abs(across) + glm::abs(up));
  const PixelBox& a = picture_->area().box();
  if (n.pixel.x - far.x > a.right || n.pixel.x + far.x < a.left || n.pixel.y - far.y > a.bottom ||
      n.pixel.y + far.y < a.top)
    return std::nullopt;
  if (picture_->has_sight() && !seen(x, y)) return std::nullopt;
  return EvenPiece{x, y, 1, {n.pixel, n.pixel + across, n.pixel + up, n.pixel + across + up}, across, up};
}

}  // namespace pontata
