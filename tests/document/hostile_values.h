// Values that a project file should not hold, put in the place of each it holds.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace pontata {

// Every value of the JSON, of long lists the first few, replaced by each of these in turn.
template <class F>
void with_each_value_replaced(nlohmann::ordered_json& json, const nlohmann::ordered_json::json_pointer& at, F&& look) {
  using Json = nlohmann::ordered_json;
  Json& value = json[at];
  if (value.is_structured()) {
    std::vector<std::string> keys;
    for (const auto& item : value.items()) keys.push_back(item.key());
    if (value.is_array() && keys.size() > 3) keys.resize(3);
    for (const auto& key : keys)
      with_each_value_replaced(json, value.is_array() ? at / static_cast<std::size_t>(std::stoul(key)) : at / key,
                               look);
  }
  const Json kept = json[at];
  for (const Json& hostile : {Json(), Json(-1), Json(1e300), Json(9223372036854775807), Json("x"), Json(true),
                              Json::array(), Json::object(), Json::array({1, 2, 3})}) {
    json[at] = hostile;
    look(at.to_string() + " = " + hostile.dump());
  }
  json[at] = kept;
}

}  // namespace pontata
