// A small project made by edits: a flat wall 4 by 3 m with two neighbouring giornate and a zone.
#pragma once

#include <catch2/catch.hpp>

#include "engine/document/edits.h"

namespace pontata {

inline std::vector<ChartPoint> box(double u, double v, double width, double height) {
  return {{u, v}, {u + width, v}, {u + width, v + height}, {u, v + height}};
}

template <class E>
DocumentRef done(const Result<E>& edited) {
  INFO((edited ? std::string() : edited.problem().message()));
  REQUIRE(edited.ok());
  return edited->document;
}

inline DocumentRef flat_wall(const std::string& name = "wall") {
  ShapeSpec shape;
  shape.width = 4;
  shape.height = 3;
  return done(add_shape_wall(Document{}, name, shape, {{1, 2, 3}, 30}));
}

inline DocumentRef small_project() {
  auto doc = flat_wall();
  const WallId wall = doc->walls[0]->id;
  doc = done(draw_outline(*doc, wall, box(0.5, 0.5, 1, 1), false, "Angel"));
  doc = done(draw_outline(*doc, wall, box(1.5, 0.5, 1, 1), false, ""));
  doc = done(add_zone(*doc, wall, ZoneKind::detail, box(0.7, 0.7, 0.3, 0.3), "face", 0.06));
  return done(set_parameter(*doc, "rate", "0.35"));
}

}  // namespace pontata
