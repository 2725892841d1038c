#include "engine/document/history.h"

#include <cassert>

namespace pontata {

History::History(DocumentRef first) { steps_.push_back({std::move(first), ""}); }

void History::push(Edited edit) {
  // What was saved can no longer be reached when it lay among the steps dropped here.
  if (saved_ != kNever && saved_ > at_) saved_ = kNever;
  steps_.resize(at_ + 1);
  steps_.push_back(std::move(edit));
  ++at_;
}

const std::string& History::undo_name() const {
  assert(can_undo());
  return steps_[at_].did;
}

const std::string& History::redo_name() const {
  assert(can_redo());
  return steps_[at_ + 1].did;
}

void History::undo() {
  if (can_undo()) --at_;
}

void History::redo() {
  if (can_redo()) ++at_;
}

}  // namespace pontata
