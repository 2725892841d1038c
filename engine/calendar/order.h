// In which order giornate can be painted: what must come before what, and the order that keeps to it.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/base/ids.h"

namespace pontata {

// What the painter lays down of two giornate.
enum class PairKind {
  before,   // the first is painted before the second
  apart,    // never on one day, though they share no seam
  together  // may be wet on one day though they share a seam
};
struct PairRule {
  GiornataId first, second;
  PairKind kind = PairKind::before;
  bool operator==(const PairRule&) const = default;
};
std::string_view pair_name(PairKind kind);  // "before", "apart", "together"

enum class PrecedenceWhy {
  asked,  // by the painter
  deck,   // worked from a higher deck
  drips,  // water or splashes of the first reach the second
  crown   // the same where the surface is nearly level: a wish only
};
struct Precedence {
  GiornataId before, after;
  PrecedenceWhy why = PrecedenceWhy::asked;
  double weight =
      0;  // m of rim that wets, for drips and crown: where wishes go round in a circle the lightest give way
};

struct Ordered {
  std::vector<GiornataId> order;
  // Giornate that must each come before the next and the last before the first: no order can keep to it. Of `asked` and
  // `deck` alone; drips give way to them. For each of those that is broken a circle as short as any that it is part of;
  // the shortest first, each from its least id, none twice.
  std::vector<std::vector<GiornataId>> circles;
  std::vector<Precedence> broken;  // what the order does not keep to, from the strongest: one or more of each circle
};

// The order nearest to `list` (at every step the first of the list that nothing still to come must precede) that keeps
// to `precedence`. One after the other is taken, and left out where it goes round in a circle with those before it:
// decks first, then what is asked as it was laid down, then drips and then crowns from the heaviest (of equal ones
// those that agree with the list, then those that hold back the later of it). So each that is broken closes a circle
// with stronger ones that are kept. Names that `list` does not hold are passed over. Deterministic; O((n + p) log n)
// where the list agrees with nearly all of them, O(p (n + p)) at worst. Ways and sources: kept_order.h.
Ordered order_by(std::span<const GiornataId> list, std::span<const Precedence> precedence);

}  // namespace pontata
