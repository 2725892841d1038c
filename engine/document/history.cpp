#include "engine/document/history.h"

#include <cassert>

namespace pontata {

History::History(DocumentRef first) : current_(std::move(first)) {}

// `to` is let go of here.
History::Step History::step_to(const DocumentRef& from, DocumentRef to, std::string name) {
  Step step{std::move(name), pack_step(*from, *to), {}};
  step.name.shrink_to_fit();
  if (to.use_count() > 1) step.held = to;
  return step;
}

void History::push(Edited edit) {
  // What was saved can no longer be reached when it lay among the steps dropped here.
  if (saved_ != kNever && saved_ > past_.size()) saved_ = kNever;
  future_.clear();
  DocumentRef before = std::exchange(current_, std::move(edit.document));
  past_.push_back(step_to(current_, std::move(before), std::move(edit.did)));
}

const std::string& History::undo_name() const {
  assert(can_undo());
  return past_.back().name;
}

const std::string& History::redo_name() const {
  assert(can_redo());
  return future_.back().name;
}

void History::cross(std::vector<Step>& out_of, std::vector<Step>& into) {
  if (out_of.empty()) return;
  Step step = std::move(out_of.back());
  out_of.pop_back();
  DocumentRef there = step.held.lock();
  if (!there) there = unpack_step(*current_, step.pack);
  DocumentRef left = std::exchange(current_, std::move(there));
  into.push_back(step_to(current_, std::move(left), std::move(step.name)));
}

void History::undo() { cross(past_, future_); }

void History::redo() { cross(future_, past_); }

std::size_t History::step_bytes(std::size_t step) const {
  assert(step < steps());
  const Step& s = step < past_.size() ? past_[step] : future_[steps() - 1 - step];
  const std::string none;
  const std::size_t name = s.name.capacity() > none.capacity() ? s.name.capacity() + 1 : 0;
  return sizeof(Step) + name + s.pack.size();
}

}  // namespace pontata
