// A project of one wall whose giornate are those of a network made for it.
#pragma once

#include <functional>

#include "engine/document/edits.h"

namespace pontata::busy {

// `build` gets the wall's meter; giornata ids are those its faces name, from 1 on without gaps but for a few.
inline DocumentRef project(const ShapeSpec& shape, const std::function<Network(const EdgeMeter&)>& build) {
  const DocumentRef bare = add_shape_wall(Document{}, "wall", shape, Placement3{})->document;
  auto item = std::make_shared<WallItem>(*bare->walls[0]);
  item->network = build(item->wall->metric->meter());
  auto doc = std::make_shared<Document>(*bare);
  for (const FaceId f : item->network.faces())
    while (doc->giornate.size() < item->network.face(f).owner.value) {
      Giornata g;
      g.id = {static_cast<std::uint32_t>(doc->giornate.size()) + 1};
      g.wall = item->id, g.number = static_cast<int>(g.id.value);
      g.alive = !item->network.faces_of(g.id).empty();
      doc->giornate.push_back(g);
    }
  doc->walls[0] = item;
  return doc;
}

}  // namespace pontata::busy
