// Undo and redo: the present document, and packed steps to those before and after it (step_pack.h).
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "engine/document/edits.h"
#include "engine/document/step_pack.h"

namespace pontata {

class History {
 public:
  explicit History(DocumentRef first);
  const DocumentRef& current() const { return current_; }
  // One step; drops what could have been redone. Costs what the two documents do not share.
  void push(Edited edit);
  bool can_undo() const { return !past_.empty(); }
  bool can_redo() const { return !future_.empty(); }
  // What undo would take back, what redo would do again. Precondition: can_undo(), can_redo().
  const std::string& undo_name() const;
  const std::string& redo_name() const;
  // The document becomes equal to the one it was (the same project text), and is the very same one where somebody still
  // holds that. Costs what the two do not share.
  void undo();
  void redo();
  // True when the current document is the one last marked as saved.
  bool saved() const { return saved_ == past_.size(); }
  void mark_saved() { saved_ = past_.size(); }

  std::size_t steps() const { return past_.size() + future_.size(); }
  // What one step keeps in memory, oldest first: its own bytes and the parts held for it, without the surfaces and
  // pictures behind them. Precondition: step < steps().
  std::size_t step_bytes(std::size_t step) const;

 private:
  struct Step {
    std::string name;
    StepPack pack;                       // what makes the document on the other side of this step of the present one
    std::weak_ptr<const Document> held;  // that document, where somebody else held it
  };
  static Step step_to(const DocumentRef& from, DocumentRef to, std::string name);
  void cross(std::vector<Step>& out_of, std::vector<Step>& into);

  DocumentRef current_;
  std::vector<Step> past_, future_;  // the nearest last
  static constexpr std::size_t kNever = static_cast<std::size_t>(-1);
  std::size_t saved_ = kNever;
};

}  // namespace pontata
