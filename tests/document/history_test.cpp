#include "engine/document/history.h"

#include <catch2/catch.hpp>

using namespace pontata;

namespace {

DocumentRef document(std::uint32_t mark) {
  auto doc = std::make_shared<Document>();
  doc->next_zone = mark;
  return doc;
}

}  // namespace

TEST_CASE("undo and redo give back the very same documents, to any depth") {
  const auto first = document(1);
  History history(first);
  std::vector<DocumentRef> all{first};
  for (std::uint32_t i = 2; i < 50; ++i) {
    all.push_back(document(i));
    history.push({all.back(), "step " + std::to_string(i)});
  }
  for (std::size_t i = all.size(); i-- > 1;) {
    CHECK(history.current() == all[i]);
    CHECK(history.undo_name() == "step " + std::to_string(i + 1));
    history.undo();
  }
  CHECK(history.current() == first);
  CHECK_FALSE(history.can_undo());
  history.undo();
  CHECK(history.current() == first);
  while (history.can_redo()) history.redo();
  CHECK(history.current() == all.back());
  history.redo();
  CHECK(history.current() == all.back());
}

TEST_CASE("a new step drops what could have been redone") {
  History history(document(1));
  history.push({document(2), "two"});
  history.undo();
  CHECK(history.redo_name() == "two");
  const auto three = document(3);
  history.push({three, "three"});
  CHECK_FALSE(history.can_redo());
  CHECK(history.current() == three);
  history.undo();
  CHECK(history.current()->next_zone == 1);
}

TEST_CASE("the saved mark follows the document that was saved") {
  History history(document(1));
  CHECK_FALSE(history.saved());
  history.mark_saved();
  CHECK(history.saved());
  history.push({document(2), "two"});
  CHECK_FALSE(history.saved());
  history.undo();
  CHECK(history.saved());
}

TEST_CASE("once the saved step is dropped nothing counts as saved") {
  History history(document(1));
  history.push({document(2), "two"});
  history.mark_saved();
  history.undo();
  CHECK_FALSE(history.saved());
  history.push({document(3), "three"});
  CHECK_FALSE(history.saved());
  history.undo();
  CHECK_FALSE(history.saved());
}
