// Groups of atoms while they are being made: who borders whom, what each holds, and moves that keep groups whole.
// Internal to engine/proposal.
#pragma once

#include <span>
#include <vector>

#include "engine/proposal/gather.h"

namespace pontata {

struct AtomLink {
  std::uint32_t to = 0;
  double cost = 0;
};

class Grouping {
 public:
  // Atoms start without a group (kNoAtom).
  explicit Grouping(const AtomGraph& graph);

  const AtomGraph& graph() const { return graph_; }
  std::size_t atoms() const { return group_.size(); }
  std::span<const AtomLink> links(std::uint32_t a) const {
    return std::span(links_).subspan(first_[a], first_[a + 1] - first_[a]);
  }
  std::uint32_t group(std::uint32_t a) const { return group_[a]; }
  double hours(std::uint32_t a) const { return graph_.atoms[a].hours; }

  std::uint32_t new_group(int deck);
  std::size_t groups() const { return load_.size(); }  // some may be empty
  double load(std::uint32_t g) const { return load_[g]; }
  std::uint32_t count(std::uint32_t g) const { return count_[g]; }
  int deck(std::uint32_t g) const { return deck_[g]; }
  void set_deck(std::uint32_t g, int deck) { deck_[g] = deck; }
  std::vector<std::uint32_t> members(std::uint32_t g) const;

  bool may_take(std::uint32_t g, std::uint32_t a) const {
    return graph_.atoms[a].deck_low <= deck_[g] && deck_[g] <= graph_.atoms[a].deck_high;
  }
  void put(std::uint32_t a, std::uint32_t g);  // from whatever group it was in
  // The group stays in one piece without this atom, and does not become empty.
  bool spares(std::uint32_t a) const;
  // What the atom's borders to a group cost.
  double cost_to(std::uint32_t a, std::uint32_t g) const;
  double cost() const;  // of all borders between groups

 private:
  const AtomGraph& graph_;
  std::vector<std::uint32_t> first_;
  std::vector<AtomLink> links_;
  std::vector<std::uint32_t> group_, count_;
  std::vector<double> load_;
  std::vector<int> deck_;
  mutable std::vector<std::uint32_t> seen_, stack_;  // for spares
  mutable std::uint32_t stamp_ = 0;
};

// Groups for atoms that have none: each deck's connected parts are shared out evenly among as few groups as hold their
// hours at this average, grown from seeds far from each other, always the emptiest first.
void start_groups(Grouping& grouping, double hours);
// One group parted in two of about the same hours, each connected. False for a single atom.
bool part_group(Grouping& grouping, std::uint32_t g);

}  // namespace pontata
