#include "engine/seams/network_delta_guesses.h"

#include <algorithm>

namespace pontata {

void DeltaGuesses::index() {
  for (std::size_t i = 0; i < delta_.seam_at.size(); ++i) seam_index_[delta_.seam_at[i]] = i;
  for (const std::uint32_t s : delta_.seam_at)
    if (seam_before(s) == 1)
      if (const std::uint32_t next = from_.half_edge({s << 1}).next.value; next != kNone) chained_from_[next] = s;
}

std::size_t DeltaGuesses::seam_here(std::uint32_t h) const {
  const auto it = seam_index_.find(h >> 1);
  return it == seam_index_.end() ? kNotHere : it->second;
}

const NetworkHalfEdge* DeltaGuesses::now(std::uint32_t h) const {
  const std::size_t i = seam_here(h);
  if (i != kNotHere) return &delta_.half[2 * i + (h & 1u)];
  return h < from_.half_edge_slots() ? &from_.half_edge({h}) : nullptr;
}

std::uint32_t DeltaGuesses::neighbour_before(std::uint32_t h, bool ahead) const {
  const NetworkHalfEdge* was = before(h);
  return !was ? kNone : (ahead ? was->next.value : was->prev.value) >> 1;
}

std::uint32_t DeltaGuesses::origin_guess(std::uint32_t h) const {
  std::uint32_t g = h;
  for (int turns = 0; turns < 64; ++turns) {
    if (const auto start = starts_.find(g); start != starts_.end()) return start->second;
    const std::size_t i = seam_here(g);
    const NetworkHalfEdge* there = now(g);
    if (!there) break;
    if (i == kNotHere || known_origin_[2 * i + (g & 1u)]) return there->origin.value;
    if (there->prev.value == kNone) break;
    g = there->prev.value ^ 1u;
    if (g == h) break;
  }
  const NetworkHalfEdge* was = before(h);
  return was ? was->origin.value : 0;
}

std::vector<std::size_t> DeltaGuesses::rest_of_cycle(std::uint32_t h, std::int64_t& label) const {
  std::vector<std::size_t> found;
  std::uint32_t g = h;
  do {
    if (const auto face = rims_.find(g); face != rims_.end()) label = face->second;
    const std::size_t i = seam_here(g);
    if (i == kNotHere) {
      if (const auto* there = now(g)) label = number(there->face.value);
      break;
    }
    if (!lives(i)) break;
    found.push_back(2 * i + (g & 1u));
    g = delta_.half[found.back()].next.value;
  } while (g != h && g != kNone && found.size() <= delta_.half.size());
  return found;
}

const LatticePoint* DeltaGuesses::place_of_origin(std::uint32_t h) const {
  const NetworkHalfEdge* there = h == kNone ? nullptr : now(h);
  if (!there || there->origin.value == kNone) return nullptr;
  const std::uint32_t v = there->origin.value;
  const auto it = std::lower_bound(delta_.vertex_at.begin(), delta_.vertex_at.end(), v);
  if (it == delta_.vertex_at.end() || *it != v) return v < from_.vertex_slots() ? &from_.vertex({v}).place : nullptr;
  const auto i = static_cast<std::size_t>(it - delta_.vertex_at.begin());
  return known_place_[i] ? &delta_.vertex[i].place : nullptr;
}

LatticePoint DeltaGuesses::place_guess(std::uint32_t out, LatticePoint last) const {
  const auto step = [&](std::uint32_t h, bool ahead) {
    const NetworkHalfEdge* there = h == kNone ? nullptr : now(h);
    return !there ? kNone : ahead ? there->next.value : there->prev.value;
  };
  const std::uint32_t ahead = step(out, true), behind = step(out, false);
  const LatticePoint *a = place_of_origin(ahead), *b = place_of_origin(behind);
  if (a && b) return {(a->x + b->x) / 2, (a->y + b->y) / 2};
  if (!a && !b) return last;
  const LatticePoint* beyond = a ? place_of_origin(step(ahead, true)) : place_of_origin(step(behind, false));
  const LatticePoint& near = a ? *a : *b;
  return beyond ? LatticePoint{2 * near.x - beyond->x, 2 * near.y - beyond->y} : near;
}

}  // namespace pontata
