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
  // Giornate that must each come before the next and the last before the first: no order can keep to it. Each circle
  // starts with its least id. Only circles of `asked` and `deck` are told; drips give way to them.
  std::vector<std::vector<GiornataId>> circles;
  std::vector<Precedence> broken;  // what the order does not keep to: drips and crown, and one of each circle
};

// The order nearest to `list` (at every step the first of the list that nothing still to come must precede) that keeps
// to `precedence`. Asked and deck hold always, unless they go round in a circle; drips hold unless they go round in a
// circle with those or with each other, then the lightest give way; crown gives way to all. Names that `list` does not
// hold are passed over. Deterministic; O((n + p) log n) without circles.
Ordered order_by(std::span<const GiornataId> list, std::span<const Precedence> precedence);

}  // namespace pontata
