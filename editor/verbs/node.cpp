#include "editor/verbs/moved_report.h"

namespace pontata {

namespace {

struct NodeArguments : MoveArguments {
  std::optional<ChartPoint> at, to;
  bool add = false, remove = false;
};

}  // namespace

VerbTask node_verb(Usage& usage) {
  const auto a = std::make_shared<NodeArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall");
  usage.place(a->at, "--at", "the node, or the place on a seam that is to have one, within 1 cm");
  usage.place(a->to, "--to", "where the node goes");
  usage.flag(a->add, "--add", "put a node there");
  usage.flag(a->remove, "--remove", "take the node away");
  return [a] {
    const int wanted = (a->to ? 1 : 0) + (a->add ? 1 : 0) + (a->remove ? 1 : 0);
    if (!a->at || wanted != 1) return wrong_usage("node", "Give --at and one of --to, --add, --remove.");
    return move_seams(*a, [&](const Document& doc, WallId wall, Progress*) {
      if (a->add) return add_node(doc, wall, *a->at);
      return a->remove ? remove_node(doc, wall, *a->at) : move_node(doc, wall, *a->at, *a->to);
    });
  };
}

}  // namespace pontata
