#include "engine/document/json_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "engine/document/plain_text.h"

namespace pontata {

void JsonReader::fault(const std::string& what) const {
  throw JsonFault((place_.empty() ? "the file" : place_) + " " + what);
}

JsonReader JsonReader::at(const std::string& key) const {
  if (!value_.is_object()) fault("must be an object");
  const auto found = value_.find(key);
  const std::string place = place_.empty() ? key : place_ + "." + key;
  if (found == value_.end()) throw JsonFault(place + " is missing");
  return {*found, place};
}

std::optional<JsonReader> JsonReader::find(const std::string& key) const {
  if (!value_.is_object()) fault("must be an object");
  const auto found = value_.find(key);
  if (found == value_.end() || found->is_null()) return std::nullopt;
  return at(key);
}

std::vector<JsonReader> JsonReader::items() const {
  if (!value_.is_array()) fault("must be a list");
  std::vector<JsonReader> list;
  for (std::size_t i = 0; i < value_.size(); ++i) list.emplace_back(value_[i], fmt::format("{}[{}]", place_, i));
  return list;
}

void JsonReader::only(std::initializer_list<const char*> keys) const {
  if (!value_.is_object()) fault("must be an object");
  for (const auto& item : value_.items())
    if (std::none_of(keys.begin(), keys.end(), [&](const char* k) { return item.key() == k; }))
      fault("holds \"" + item.key() + "\", which is not known");
}

double JsonReader::number(double least, double greatest) const {
  if (!value_.is_number()) fault("must be a number");
  const double v = value_.get<double>();
  if (!std::isfinite(v) || v < least || v > greatest) fault(fmt::format("must lie between {} and {}", least, greatest));
  return v;
}

std::int64_t JsonReader::whole(std::int64_t least, std::int64_t greatest) const {
  const bool too_large =
      value_.is_number_unsigned() && value_.get<std::uint64_t>() > static_cast<std::uint64_t>(INT64_MAX);
  if (!value_.is_number_integer() || too_large) fault("must be a whole number");
  const auto v = value_.get<std::int64_t>();
  if (v < least || v > greatest) fault(fmt::format("must lie between {} and {}", least, greatest));
  return v;
}

std::uint32_t JsonReader::id(std::uint32_t least) const { return static_cast<std::uint32_t>(whole(least, 100000000)); }

bool JsonReader::truth() const {
  if (!value_.is_boolean()) fault("must be true or false");
  return value_.get<bool>();
}

std::string JsonReader::text() const {
  if (!value_.is_string()) fault("must be text");
  auto t = value_.get<std::string>();
  if (t.size() > 4096 || !is_plain_text(t)) fault("must be readable text");
  return t;
}

Vec3 JsonReader::place3() const {
  const auto list = items();
  if (list.size() != 3) fault("must be three numbers");
  constexpr double kFar = 1e6;
  return {list[0].number(-kFar, kFar), list[1].number(-kFar, kFar), list[2].number(-kFar, kFar)};
}

ChartPoint JsonReader::chart_place() const {
  const auto list = items();
  if (list.size() != 2) fault("must be two numbers");
  constexpr double kFar = 4096;
  return {list[0].number(-kFar, kFar), list[1].number(-kFar, kFar)};
}

Ring JsonReader::ring() const {
  Ring ring;
  for (const auto& item : items()) {
    const auto pair = item.items();
    if (pair.size() != 2) item.fault("must be two whole numbers");
    ring.push_back({pair[0].whole(-kLatticeLimit, kLatticeLimit), pair[1].whole(-kLatticeLimit, kLatticeLimit)});
  }
  if (ring.size() < 3) fault("needs at least 3 points");
  return ring;
}

std::string source_path(const JsonReader& json, const std::string& folder) {
  const std::filesystem::path path = json.at("path").text();
  return (path.is_absolute() ? path : std::filesystem::path(folder) / path).lexically_normal().string();
}

std::string hash_text(const JsonReader& json) {
  const std::string hash = json.at("sha256").text();
  if (hash.size() != 64 || hash.find_first_not_of("0123456789abcdef") != std::string::npos)
    json.at("sha256").fault("must be 64 hexadecimal digits");
  return hash;
}

}  // namespace pontata
