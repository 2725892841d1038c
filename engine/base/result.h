// A value or a Problem. Bad user input (a broken file, an outline that crosses itself) is a value that
// says what is wrong, where, and what to do; exceptions are kept for broken preconditions in our own code.
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <variant>

namespace pontata {

// Plain words for the painter. `where` names the file, wall or place; `what` what is wrong; `remedy` what to do.
struct Problem {
  std::string what;
  std::string where;
  std::string remedy;

  // "where: what. remedy" in one line, empty parts left out.
  std::string message() const;
};

template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : state_(std::move(value)) {}
  Result(Problem problem) : state_(std::move(problem)) {}

  bool ok() const { return std::holds_alternative<T>(state_); }
  explicit operator bool() const { return ok(); }

  // Precondition: ok(). Throws std::logic_error otherwise.
  const T& value() const& { return check(), std::get<T>(state_); }
  T& value() & { return check(), std::get<T>(state_); }
  T&& value() && { return check(), std::get<T>(std::move(state_)); }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  const T* operator->() const { return &value(); }
  T* operator->() { return &value(); }

  // Precondition: !ok().
  const Problem& problem() const { return std::get<Problem>(state_); }

 private:
  void check() const {
    if (!ok()) throw std::logic_error("Result without a value: " + problem().message());
  }
  std::variant<T, Problem> state_;
};

// Success without a value.
struct Done {};
using Outcome = Result<Done>;

}  // namespace pontata
