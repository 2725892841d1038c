#include "engine/seams/network_cut.h"

#include <algorithm>
#include <set>

#include "engine/base/predicates.h"

namespace pontata {

namespace {

// Seams whose new vertices nothing uses: no stretch ends there, no other course passes, no old vertex lies there.
std::vector<SeamId> needless_seams(const Network& network, const Courses& courses, const LaidLine& laid) {
  std::set<LatticePoint> used;
  for (const auto* list : {&laid.fresh, &laid.shared})
    for (const auto& [a, b] : *list) used.insert({a, b});
  std::map<LatticePoint, int> passed;
  for (const auto& [s, course] : courses)
    for (std::size_t i = 1; i + 1 < course.size(); ++i) ++passed[course[i]];
  std::vector<SeamId> found;
  for (const auto& [s, course] : courses) {
    bool needless = true;
    for (std::size_t i = 1; i + 1 < course.size() && needless; ++i)
      needless = !used.count(course[i]) && passed[course[i]] == 1 && !network.vertex_at(course[i]);
    if (needless) found.push_back(s);
  }
  return found;
}

// Seam s meets other seams only at its own ends.
bool clear(const Network& network, SeamId s) {
  const LatticePoint a = network.origin({s.value << 1}), b = network.target({s.value << 1});
  bool ok = true;
  network.grid().along(a, b, 1, [&](std::uint32_t other) {
    if (other == s.value || !ok) return;
    const LatticePoint c = network.origin({other << 1}), d = network.target({other << 1});
    const bool at_end = a == c || a == d || b == c || b == d;
    ok = at_end ? !((c != a && c != b && on_segment(a, b, c)) || (d != a && d != b && on_segment(a, b, d)) ||
                    (a != c && a != d && on_segment(c, d, a)) || (b != c && b != d && on_segment(c, d, b)))
                : !segments_meet(a, b, c, d);
  });
  return ok;
}

}  // namespace

std::vector<Stretch> net_stretches(const std::vector<LatticePoint>& line, bool closed) {
  std::map<Stretch, int> runs;
  const std::size_t count = closed ? line.size() : line.size() - 1;
  for (std::size_t i = 0; i < count; ++i) {
    const LatticePoint a = line[i], b = line[(i + 1) % line.size()];
    if (a < b) ++runs[{a, b}];
    if (b < a) --runs[{b, a}];
  }
  std::vector<Stretch> found;
  for (const auto& [ends, n] : runs) {
    if (n > 0) found.push_back(ends);
    if (n < 0) found.push_back({ends.second, ends.first});
  }
  return found;
}

std::optional<LaidLine> lay_line(const Network& network, const EdgeMeter& meter, const Courses& courses,
                                 const std::vector<Stretch>& stretches, const Wanted& wanted) {
  LaidLine laid{NetworkEditor(network, meter), {}, {}, {}};
  NetworkEditor& editor = laid.editor;
  if (!editor.lead_seams(courses)) return std::nullopt;
  const Network ground = editor.network();
  std::vector<HalfEdgeId> fresh;
  std::vector<Stretch> drawn;
  const auto note_elsewhere = [&](FaceId f) {
    if (f != Network::kOutside && !wanted(f)) laid.elsewhere.insert(editor.network().face(f).owner);
  };
  for (const auto& [a, b] : stretches) {
    if (const auto there = editor.edge_between(a, b)) {
      const auto wanted_side = [&](HalfEdgeId h) { return wanted(editor.network().half_edge(h).face); };
      // Sides of new seams are not known yet, but `there` is an old one: each stretch comes once.
      if (wanted_side(*there) || wanted_side(Network::twin(*there))) laid.shared.push_back({a, b});
      note_elsewhere(editor.network().half_edge(*there).face);
      continue;
    }
    const auto h = editor.add_seam(a, b, {kNone}, {kNone});
    if (!h) return std::nullopt;
    fresh.push_back(*h);
    fresh.push_back(Network::twin(*h));
    drawn.push_back({a, b});
  }
  if (!editor.label_new(fresh, ground)) return std::nullopt;
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    const HalfEdgeId h = fresh[2 * i];
    const FaceId label = editor.network().half_edge(h).face;
    if (wanted(label)) {
      laid.fresh.push_back(drawn[i]);
      continue;
    }
    note_elsewhere(label);
    editor.remove_seam(Network::seam_of(h));
  }
  return laid;
}

LaidLine lay_lean(const Network& network, const EdgeMeter& meter, const Courses& courses, LaidLine full,
                  const Wanted& wanted) {
  const auto needless = needless_seams(network, courses, full);
  if (needless.empty()) return full;
  Courses needed = courses;
  for (const SeamId s : needless) needed.erase(s);
  std::vector<Stretch> stretches = full.fresh;
  stretches.insert(stretches.end(), full.shared.begin(), full.shared.end());
  std::sort(stretches.begin(), stretches.end());
  auto lean = lay_line(network, meter, needed, stretches, wanted);
  if (!lean || lean->fresh.size() != full.fresh.size() || lean->shared.size() != full.shared.size()) return full;
  for (const SeamId s : needless)
    if (!clear(lean->editor.network(), s)) return full;
  lean->elsewhere = full.elsewhere;
  return std::move(*lean);
}

}  // namespace pontata
