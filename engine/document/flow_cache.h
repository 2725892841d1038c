// What the flow keeps: one result per step, with what it was made from.
#pragma once

#include <memory>
#include <string>
#include <vector>

namespace pontata {

// Immutable inputs by identity (held, so that an address is never used again), small ones by value as text.
struct FlowInputs {
  std::vector<std::shared_ptr<const void>> shared;
  std::string values;
  bool operator==(const FlowInputs&) const = default;
};

template <class T>
class Kept {
 public:
  // The kept result when it was made from the same inputs, else what `make` makes.
  template <class Make>
  std::shared_ptr<const T> get(FlowInputs inputs, Make&& make) {
    if (!value_ || !(inputs == inputs_)) {
      value_ = std::make_shared<const T>(make());
      inputs_ = std::move(inputs);
    }
    return value_;
  }

  // What was made elsewhere from these inputs.
  void set(FlowInputs inputs, T value) {
    value_ = std::make_shared<const T>(std::move(value));
    inputs_ = std::move(inputs);
  }

  // Work that was cancelled half way is not kept.
  void forget() { value_ = nullptr; }

 private:
  FlowInputs inputs_;
  std::shared_ptr<const T> value_;
};

}  // namespace pontata
