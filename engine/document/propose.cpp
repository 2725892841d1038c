#include "engine/document/propose.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "engine/document/edit_parts.h"
#include "engine/document/flow.h"
#include "engine/document/numbering.h"
#include "engine/document/giornata_records.h"

namespace pontata {

namespace {

std::string least_words(std::size_t n) { return fmt::format("{} {}", n, n == 1 ? "giornata" : "giornate"); }

// Ids to keep: those asked for and those that are held.
Result<std::vector<GiornataId>> kept(const Document& doc, const WallItem& item, const ProposeOptions& options) {
  for (const GiornataId id : options.keep) {
    const Giornata* g = doc.giornata(id);
    if (!g || g->wall != item.id)
      return Problem{fmt::format("there is no giornata with the id {} on \"{}\"", id.value, item.name), "",
                     "measure --json lists the ids."};
  }
  std::vector<GiornataId> keep = options.keep;
  const SeamHold hold = held_seams(doc);
  for (const Giornata& g : doc.giornate)
    if (g.alive && g.wall == item.id && (g.printed || g.state == GiornataState::redo || !hold(g.id).empty()))
      keep.push_back(g.id);
  std::ranges::sort(keep);
  keep.erase(std::unique(keep.begin(), keep.end()), keep.end());
  return keep;
}

// The lowest place of the other giornate, from which decks are counted that nobody set.
std::optional<double> foot_of(const Document& doc, const WallItem& but, Flow& flow) {
  std::optional<double> foot;
  for (const auto& item : doc.walls)
    if (item->id != but.id)
      for (const auto& m : flow.figures(doc, item->id)->measure.giornate)
        foot = std::min(foot.value_or(m.lowest_m), m.lowest_m);
  return foot;
}

Result<ProposalInput> input_of(const Document& doc, const WallItem& item, const ProposeOptions& options, Flow& flow,
                               Progress* progress) {
  if (const auto read = check_pictures(item); !read) return read.problem();
  auto keep = kept(doc, item, options);
  if (!keep) return keep.problem();
  ProposalInput input;
  input.wall = item.wall;
  input.network = &item.network;
  input.giornate = doc.giornate;
  input.zones = item.zones;
  input.contours = flow.contours(doc, item.id, progress);
  input.draped = flow.draped(doc, item.id);
  input.ribs = find_ribs(*item.wall);
  input.calendar = doc.settings.calendar;
  input.hours = options.hours;
  input.keep = std::move(*keep);
  input.tip_mm = doc.settings.review.tip_mm;
  input.contour_mm = doc.settings.review.contour_mm;
  input.foot_m = foot_of(doc, item, flow);
  input.first_id = next_giornata(doc).value;
  return input;
}

Edited edit_of(const Document& doc, const WallItem& item, const ProposalInput& input, const Proposal& proposal) {
  auto next = with_network(doc, item, proposal.network);
  for (const Giornata& g : doc.giornate)
    if (g.alive && g.wall == item.id && !std::ranges::binary_search(input.keep, g.id)) retire_giornata(*next, g.id);
  for (std::size_t k = 0; k < proposal.fresh.size(); ++k) add_giornata(*next, item.id, "");
  return {std::move(next), fmt::format("Layout of {} on {}", least_words(proposal.fresh.size()), item.name)};
}

Result<ProposedLayout> proposed(const Document& doc, const WallItem& item, const ProposalInput& input,
                                const ProposalSettings& settings, Flow& flow, Progress* progress) {
  auto proposal = propose_layout(input, settings, progress);
  if (!proposal) return proposal.problem();
  ProposedLayout made{edit_of(doc, item, input, *proposal), std::move(*proposal), {}};
  number_in_order(doc, made.edit, flow);  // so that what is said of a giornata names it as it will be named
  made.figures = flow.layout(*made.edit.document, item.id, progress);
  if (is_cancelled(progress)) return Problem{"stopped before a layout was found", "", ""};
  return made;
}

// What is tried one after the other: the settings asked for, then others about them.
std::vector<ProposalSettings> variants(const ProposalSettings& asked, int count) {
  std::vector<ProposalSettings> list;
  for (int k = 0; k < count; ++k) {
    ProposalSettings s = asked;
    s.seed = asked.seed + static_cast<std::uint32_t>(k);
    if (k % 3 == 1) s.contours = std::min(1.0, asked.contours + 0.15);
    if (k % 3 == 2) s.size = std::max(0.2, asked.size * 0.85);
    if (k >= 3) s.contours = std::max(0.0, s.contours - 0.2);
    list.push_back(s);
  }
  return list;
}

auto rank(const ProposedLayout& l) {
  return std::tuple(l.figures.over_hours, l.figures.disconnected, l.figures.decide, l.proposal.seam_cost);
}

}  // namespace

Result<ProposedLayout> propose(const Document& doc, WallId wall, const ProposeOptions& options, Progress* progress) {
  Flow flow;
  auto several = propose_several(doc, wall, options, 1, flow, progress);
  if (!several) return several.problem();
  return std::move(several->front());
}

Result<std::vector<ProposedLayout>> propose_several(const Document& doc, WallId wall, const ProposeOptions& options,
                                                    int count, Flow& flow, Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const auto input = input_of(doc, **item, options, flow, progress);
  if (!input) return input.problem();
  if (is_cancelled(progress)) return Problem{"stopped before a layout was found", "", ""};
  std::vector<ProposedLayout> found;
  std::optional<Problem> failed;
  for (const ProposalSettings& settings : variants(options.settings, std::clamp(count, 1, 12))) {
    auto made = proposed(doc, **item, *input, settings, flow, progress);
    if (!made) {
      // One that could not be laid leaves the others; none at all is told.
      if (is_cancelled(progress)) return made.problem();
      failed = made.problem();
      continue;
    }
    const bool same = std::ranges::any_of(found, [&](const ProposedLayout& l) {
      return l.proposal.fresh.size() == made->proposal.fresh.size() && l.proposal.seam_cost == made->proposal.seam_cost;
    });
    if (!same) found.push_back(std::move(*made));
  }
  if (found.empty()) return *failed;
  std::ranges::stable_sort(found, {}, rank);
  return found;
}

std::vector<std::vector<ChartPoint>> seam_lines(const Network& network) {
  std::vector<std::vector<ChartPoint>> lines;
  for (std::uint32_t s = 0; s < network.half_edge_slots() / 2; ++s)
    if (network.alive(SeamId{s}) && !network.on_border({s}))
      lines.push_back({to_chart(network.origin({s << 1})), to_chart(network.target({s << 1}))});
  return lines;
}

}  // namespace pontata
