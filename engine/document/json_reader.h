// Reading JSON that may be wrong: every value is checked for its kind and range, and a fault tells the place in the
// file. For the project file's reader only, which catches JsonFault and makes it a Problem.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/vec.h"

namespace pontata {

struct JsonFault : std::runtime_error {
  using std::runtime_error::runtime_error;
};

class JsonReader {
 public:
  JsonReader(const nlohmann::ordered_json& value, std::string place) : value_(value), place_(std::move(place)) {}

  JsonReader at(const std::string& key) const;                   // a key that must be there
  std::optional<JsonReader> find(const std::string& key) const;  // absent or null: none
  std::vector<JsonReader> items() const;                         // of an array
  void only(std::initializer_list<const char*> keys) const;      // refuses any other key

  double number(double least, double greatest) const;
  std::int64_t whole(std::int64_t least, std::int64_t greatest) const;
  std::uint32_t id(std::uint32_t least = 1) const;
  bool truth() const;
  std::string text() const;  // readable characters, at most 4096 bytes
  Vec3 place3() const;       // [x, y, z] in m, within 1000 km
  ChartPoint chart_place() const;
  Ring ring() const;  // [[x, y], ...] lattice integers, at least 3

  const nlohmann::ordered_json& raw() const { return value_; }
  const std::string& place() const { return place_; }
  [[noreturn]] void fault(const std::string& what) const;

 private:
  const nlohmann::ordered_json& value_;
  std::string place_;
};

// "path" of a picture or scan, taken from `folder` where it is not absolute; "sha256", checked for its form.
std::string source_path(const JsonReader& json, const std::string& folder);
std::string hash_text(const JsonReader& json);

}  // namespace pontata
