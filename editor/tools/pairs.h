// The pairs of places that are being marked on a picture and on its wall, and what setting the picture by them gives.
// They are kept apart from the project until they are set, one state for each picture.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/base/ids.h"
#include "engine/picture/control_points.h"
#include "engine/picture/placed_picture.h"

namespace pontata {

struct Workbench;

class Pairs {
 public:
  struct Pair {
    std::optional<Vec2> pixel;        // on the picture
    std::optional<ChartPoint> place;  // on the wall; one of the two may still be missing in the last pair
    bool whole() const { return pixel && place; }
    bool operator==(const Pair&) const = default;
  };

  // Takes up the chosen picture, and what the project now says of its points; begins to work out the setting where it
  // changed. Call once a frame.
  void follow(Workbench& bench);
  void forget();  // another project: nothing of what was marked stays

  bool ready() const { return picture_ != nullptr; }
  const std::vector<Pair>& all() const;
  const FitOptions& options() const;
  std::size_t changes() const;  // steps since the picture was last set
  std::size_t whole() const;    // pairs with both places

  // Completes the pair that lacks this place, or begins a new one.
  void put(Vec2 pixel);
  void put(ChartPoint place);
  void add(Vec2 pixel, ChartPoint place);  // both at once, one step; in place of a pair half marked
  void begin_move();                       // before the first move() of a drag, so that the drag is one step
  void move(std::size_t pair, Vec2 pixel);
  void move(std::size_t pair, ChartPoint place);
  void end_move() { moving_ = false; }
  void remove(std::size_t pair);
  void choose_options(const FitOptions& options);
  bool take_back();  // the last step; false when there is none
  void give_up();    // all steps
  // Hands them to the project as one undo step.
  void set(Workbench& bench);

  std::optional<std::size_t> chosen;   // pair
  std::string lens;                    // as typed
  std::string pixel_text, place_text;  // of a pair, as typed

  // What setting by the present pairs gives; null while it is being worked out or less than two pairs are there.
  const Result<Fitted>* fitted() const;
  bool working() const { return asked_ != 0; }

 private:
  struct State {
    std::vector<Pair> pairs;
    FitOptions options;
    bool operator==(const State&) const = default;
  };
  struct Work {
    State set;  // as the project has it
    State now;
    std::vector<State> before;  // one per step
  };
  State& change();  // the present state, the step kept
  Work& work() { return works_[id_]; }
  const Work* work_now() const;
  void ask(Workbench& bench);

  std::map<PictureId, Work> works_;
  PictureId id_, lens_of_;
  PlacedRef picture_;
  bool moving_ = false;

  struct Answer {
    PictureId of;
    State state;
    std::shared_ptr<const ChartedWall> wall;
    std::shared_ptr<const Result<Fitted>> result;
  };
  Answer answer_;
  long asked_ = 0, number_ = 0;  // the question under way, 0: none
};

// The pairs that have both places, in order.
std::vector<ControlPoint> whole_pairs(const std::vector<Pairs::Pair>& pairs);

}  // namespace pontata
