#include "editor/verbs/usage.h"

#include <CLI/CLI.hpp>
#include <charconv>

#include "engine/base/text.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

[[noreturn]] void refuse(const std::string& flag, const Problem& problem) {
  throw CLI::ValidationError(flag, problem.message());
}

std::vector<double> lengths(const std::string& flag, const std::string& text, std::size_t count, const char* example) {
  std::vector<double> values;
  for (const auto& part : split(text, ',')) {
    const auto value = parse_length(part);
    if (!value) refuse(flag, value.problem());
    values.push_back(*value);
  }
  if (values.size() != count)
    refuse(flag, {"\"" + text + "\" is not a place", "", std::string("Write it like ") + example + "."});
  return values;
}

// A whole number from 1 on; else refused with the problem's words.
std::uint32_t read_number(const std::string& flag, const std::string& text, const Problem& otherwise) {
  std::uint32_t number = 0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, number);
  if (read.ec != std::errc{} || read.ptr != end || number == 0) refuse(flag, otherwise);
  return number;
}
std::uint32_t read_id(const std::string& flag, const std::string& text) {
  return read_number(flag, text, {"\"" + text + "\" is not an id", "", "Write one that measure shows, like 7."});
}
std::uint32_t read_count(const std::string& flag, const std::string& text) {
  return read_number(flag, text, {"\"" + text + "\" is not a number from 1 on", "", "Write it like 3."});
}

CLI::Validator not_empty() {
  return CLI::Validator([](const std::string& s) { return s.empty() ? std::string("is empty") : std::string(); }, "");
}

}  // namespace

void Usage::needs(std::string& value, const std::string& name, const std::string& help) {
  app_.add_option(name, value, help)->required()->type_name("")->check(not_empty());
}

void Usage::may_take(std::optional<std::string>& value, const std::string& name, const std::string& help) {
  app_.add_option_function<std::string>(
          name, [&value](const std::string& s) { value = s; }, help)
      ->type_name("");
}

void Usage::needs_id(std::uint32_t& value, const std::string& name, const std::string& help) {
  app_.add_option_function<std::string>(
          name, [&value, name](const std::string& s) { value = read_id(name, s); }, help)
      ->required()
      ->type_name("");
}

void Usage::may_take_id(std::optional<std::uint32_t>& value, const std::string& name, const std::string& help) {
  app_.add_option_function<std::string>(
          name, [&value, name](const std::string& s) { value = read_id(name, s); }, help)
      ->type_name(name.starts_with("--") ? "ID" : "");
}

void Usage::text(std::optional<std::string>& value, const std::string& flag, const std::string& kind,
                 const std::string& help) {
  app_.add_option_function<std::string>(
          flag, [&value](const std::string& s) { value = s; }, help)
      ->type_name(kind);
}

void Usage::text_required(std::string& value, const std::string& flag, const std::string& kind,
                          const std::string& help) {
  app_.add_option(flag, value, help)->required()->type_name(kind)->check(not_empty());
}

void Usage::texts(std::vector<std::string>& values, const std::string& flag, const std::string& kind,
                  const std::string& help) {
  app_.add_option(flag, values, help)->type_name(kind)->allow_extra_args(false);
}

void Usage::choice(std::optional<std::string>& value, const std::string& flag, const std::vector<std::string>& choices,
                   const std::string& help) {
  std::string known;
  for (const auto& c : choices) known += (known.empty() ? "" : "|") + c;
  const auto take = [&value, flag, choices, known](const std::string& s) {
    if (std::find(choices.begin(), choices.end(), s) == choices.end())
      refuse(flag, {"\"" + s + "\" is not known", "", "Choose one of " + known + "."});
    value = s;
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name(known);
}

void Usage::length(std::optional<double>& metres, const std::string& flag, const std::string& help) {
  const auto take = [&metres, flag](const std::string& s) {
    const auto read = parse_length(s);
    if (!read) refuse(flag, read.problem());
    metres = *read;
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("LENGTH");
}

void Usage::angle(std::optional<double>& degrees, const std::string& flag, const std::string& help) {
  const auto take = [&degrees, flag](const std::string& s) {
    const auto read = parse_angle_deg(s);
    if (!read) refuse(flag, read.problem());
    degrees = *read;
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("ANGLE");
}

void Usage::count(std::optional<std::uint32_t>& value, const std::string& flag, const std::string& help) {
  const auto take = [&value, flag](const std::string& s) { value = read_count(flag, s); };
  app_.add_option_function<std::string>(flag, take, help)->type_name("N");
}

void Usage::number(std::optional<double>& value, const std::string& flag, const std::string& help) {
  const auto take = [&value, flag](const std::string& s) {
    const auto read = parse_number(s);
    if (!read) refuse(flag, read.problem());
    value = *read;
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("NUMBER");
}

void Usage::place(std::optional<ChartPoint>& value, const std::string& flag, const std::string& help) {
  const auto take = [&value, flag](const std::string& s) {
    const auto v = lengths(flag, s, 2, "0.5,1.25 or 50cm,1.25m (U,V)");
    value = ChartPoint{v[0], v[1]};
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("U,V");
}

void Usage::place3(std::optional<Vec3>& value, const std::string& flag, const std::string& help) {
  const auto take = [&value, flag](const std::string& s) {
    const auto v = lengths(flag, s, 3, "0,2.5,3 (X,Y,Z)");
    value = Vec3{v[0], v[1], v[2]};
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("X,Y,Z");
}

void Usage::box(std::optional<std::pair<Vec3, Vec3>>& value, const std::string& flag, const std::string& help) {
  const auto take = [&value, flag](const std::string& s) {
    const auto v = lengths(flag, s, 6, "0,-1,0,4,1,3 (two opposite corners)");
    const Vec3 a{v[0], v[1], v[2]}, b{v[3], v[4], v[5]};
    value = std::pair{glm::min(a, b), glm::max(a, b)};
    for (int k = 0; k < 3; ++k)
      if (!(value->first[k] < value->second[k]))
        refuse(flag, {"the box \"" + s + "\" has no room inside", "", "Give two corners that differ in X, Y and Z."});
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("X0,Y0,Z0,X1,Y1,Z1");
}

void Usage::size(std::optional<std::pair<int, int>>& value, const std::string& flag, const std::string& help) {
  const auto take = [&value, flag](const std::string& s) {
    int w = 0, h = 0;
    const char* end = s.data() + s.size();
    const auto first = std::from_chars(s.data(), end, w);
    const bool cross = first.ec == std::errc{} && first.ptr != end && *first.ptr == 'x';
    const auto second = cross ? std::from_chars(first.ptr + 1, end, h) : first;
    if (!cross || second.ec != std::errc{} || second.ptr != end || w < 16 || h < 16 || w > 8192 || h > 8192)
      refuse(flag, {"\"" + s + "\" is not a size in pixels between 16 and 8192", "", "Write it like 1600x1200."});
    value = std::pair{w, h};
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("WxH");
}

void Usage::ids(std::vector<std::uint32_t>& value, const std::string& flag, const std::string& help) {
  const auto take = [&value, flag](const std::string& s) {
    for (const auto& part : split(s, ',')) value.push_back(read_id(flag, part));
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("ID,...");
}

namespace {

Date read_date(const std::string& flag, const std::string& text) {
  const auto date = parse_date(text);
  if (!date) refuse(flag, date.problem());
  return *date;
}

}  // namespace

void Usage::date(std::optional<Date>& value, const std::string& flag, const std::string& help) {
  app_.add_option_function<std::string>(
          flag, [&value, flag](const std::string& s) { value = read_date(flag, s); }, help)
      ->type_name("DATE");
}

void Usage::dates(std::optional<std::pair<Date, Date>>& value, const std::string& flag, const std::string& help) {
  const auto take = [&value, flag](const std::string& s) {
    const std::size_t dots = s.find("..");
    const Date from = read_date(flag, s.substr(0, dots));
    value = std::pair{from, dots == std::string::npos ? from : read_date(flag, s.substr(dots + 2))};
  };
  app_.add_option_function<std::string>(flag, take, help)->type_name("DATE[..DATE]");
}

void Usage::flag(bool& value, const std::string& flag, const std::string& help) { app_.add_flag(flag, value, help); }

}  // namespace pontata
