// Undo and redo: a list of documents that share almost all their parts.
#pragma once

#include <string>
#include <vector>

#include "engine/document/edits.h"

namespace pontata {

class History {
 public:
  explicit History(DocumentRef first);
  const DocumentRef& current() const { return steps_[at_].document; }
  void push(Edited edit);  // drops what could have been redone
  bool can_undo() const { return at_ > 0; }
  bool can_redo() const { return at_ + 1 < steps_.size(); }
  // What undo would take back, what redo would do again. Precondition: can_undo(), can_redo().
  const std::string& undo_name() const;
  const std::string& redo_name() const;
  void undo();
  void redo();
  // True when the current document is the one last marked as saved.
  bool saved() const { return saved_ == at_; }
  void mark_saved() { saved_ = at_; }

 private:
  std::vector<Edited> steps_;
  std::size_t at_ = 0;
  static constexpr std::size_t kNever = static_cast<std::size_t>(-1);
  std::size_t saved_ = kNever;
};

}  // namespace pontata
