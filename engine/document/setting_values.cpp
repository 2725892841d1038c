#include "engine/document/setting_values.h"

#include <fmt/format.h>

#include <cmath>

#include "engine/base/text.h"
#include "engine/base/units.h"
#include "engine/cartoon/cartoon.h"

namespace pontata {

namespace {

bool is_weekday(const std::string& text) { return text.size() == 1 && text[0] >= '1' && text[0] <= '7'; }

}  // namespace

Result<double> read_in_unit(const std::string& text, const std::string& unit) {
  auto plain = parse_number(text);
  if (plain || (unit != "mm" && unit != "m")) return plain;
  const auto length = parse_length(text);
  if (!length) return length.problem();
  // Twelve decimals keep "7mm" exactly 7.
  return unit == "m" ? *length : std::round(*length * 1e15) / 1e12;
}

namespace {

// "2.5 h for 0.08 m2" -> m2/h.
std::optional<double> rate_of_a_piece(const std::string& text) {
  const auto between = text.find("for");
  if (between == std::string::npos) return std::nullopt;
  const auto number_before = [](std::string part, std::initializer_list<std::string_view> units) {
    std::erase_if(part, [](char c) { return c == ' '; });
    std::optional<double> found;
    for (const std::string_view unit : units)
      if (!found && part.ends_with(unit))
        if (const auto value = parse_number(part.substr(0, part.size() - unit.size())); value && *value > 0)
          found = *value;
    return found;
  };
  const auto hours = number_before(text.substr(0, between), {"h"});
  const auto area = number_before(text.substr(between + 3), {"m2", "m²"});
  return hours && area ? std::optional(*area / *hours) : std::nullopt;
}

}  // namespace

Result<std::optional<double>> read_rate(const std::string& text) {
  if (text == "none") return std::optional<double>{};
  const auto plain = parse_number(text);
  const auto rate = plain ? std::optional(*plain) : rate_of_a_piece(text);
  if (!rate || *rate < 0.001 || *rate > 100)
    return Problem{"\"" + text + "\" is not a rate", "",
                   "Give square metres an hour from 0.001 to 100, or what one piece took: 2.5 h for 0.08 m2; or none."};
  return rate;
}

std::string write_rate(const std::optional<double>& rate) { return rate ? format_number(*rate) : "none"; }

Result<std::vector<double>> read_levels(const std::string& text) {
  std::vector<double> levels;
  if (text == "auto") return levels;
  for (const auto& part : split(text, ',')) {
    const auto level = parse_length(part);
    if (!level || std::abs(*level) > 1000 || (!levels.empty() && *level <= levels.back()) || levels.size() >= 200)
      return Problem{"\"" + text + "\" is not a list of deck heights", "",
                     "Give heights in metres, rising, like 2,4,6.1, or auto."};
    levels.push_back(*level);
  }
  return levels;
}

std::string write_levels(const std::vector<double>& levels) {
  std::string text;
  for (const double level : levels) text += (text.empty() ? "" : ",") + format_number(level);
  return text.empty() ? "auto" : text;
}

Result<std::optional<double>> read_area(const std::string& text) {
  if (text == "none") return std::optional<double>{};
  const auto value = parse_number(text);
  if (!value || *value < 0.01 || *value > 1000)
    return Problem{"\"" + text + "\" is not an area", "", "Give square metres from 0.01 to 1000, or none."};
  return std::optional<double>(*value);
}

Result<SurfaceIs> read_surface(const std::string& text) {
  if (text == "arriccio") return SurfaceIs::arriccio;
  if (text == "bare wall" || text == "bare") return SurfaceIs::bare_wall;
  return Problem{"\"" + text + "\" is no surface to plaster on", "", "Say bare wall or arriccio."};
}

std::string write_surface(SurfaceIs surface) { return surface == SurfaceIs::arriccio ? "arriccio" : "bare wall"; }

Result<bool> read_left(const std::string& text) {
  if (text == "left" || text == "right") return text == "left";
  return Problem{"\"" + text + "\" is no hand", "", "Say right or left."};
}

std::string write_left(bool left) { return left ? "left" : "right"; }

Result<std::vector<double>> read_deck_numbers(const std::string& text, std::string_view what, double least,
                                              double greatest) {
  std::vector<double> numbers;
  if (text == "none") return numbers;
  for (const auto& part : split(text, ',')) {
    const auto value = parse_number(part);
    if (!value || *value < least || *value > greatest || numbers.size() >= 200)
      return Problem{fmt::format("\"{}\" is not a {} for the decks", text, what), "",
                     fmt::format("Give one number for all, or one for each deck from the lowest, each from {} to {}.",
                                 format_number(least), format_number(greatest))};
    numbers.push_back(*value);
  }
  return numbers;
}

std::string write_deck_numbers(const std::vector<double>& numbers) {
  return numbers.empty() ? "none" : write_levels(numbers);
}

Result<std::string> read_workdays(const std::string& text) {
  for (const auto& part : split(text, ',')) {
    const auto ends = split(part, '-');
    const bool single = ends.size() == 1 && is_weekday(ends[0]);
    const bool range = ends.size() == 2 && is_weekday(ends[0]) && is_weekday(ends[1]) && ends[0] <= ends[1];
    if (!single && !range)
      return Problem{"\"" + text + "\" does not name days of the week", "",
                     "1 is Monday, 7 Sunday: write 1-5, 1-6 or 1,3,5."};
  }
  return text;
}

Result<std::string> read_paper(const std::string& text) {
  const auto paper = paper_named(text);
  if (!paper) return paper.problem();
  return paper->name;
}

namespace {

// One of a few words, by its place among them.
Result<std::size_t> one_of(const std::string& text, std::initializer_list<const char*> words) {
  std::size_t i = 0;
  std::string all;
  for (const char* word : words) {
    if (text == word) return i;
    all += (i++ ? " or " : "") + std::string(word);
  }
  return Problem{"\"" + text + "\" is none of the choices", "", "Give " + all + "."};
}

}  // namespace

Result<Vec3> read_place(const std::string& text) {
  const auto parts = split(text, ',');
  Vec3 out{0, 0, 0};
  bool sound = parts.size() == 3;
  for (std::size_t k = 0; sound && k < 3; ++k) {
    const auto value = parse_length(parts[k]);
    sound = value && std::abs(*value) < 1e5;
    if (sound) out[static_cast<int>(k)] = *value;
  }
  if (sound) return out;
  return Problem{"\"" + text + "\" is no place in the building", "", "Give three lengths such as 0,-3,1.6."};
}

std::string write_place(const Vec3& p) {
  return format_number(p.x) + "," + format_number(p.y) + "," + format_number(p.z);
}

Result<PrintedPicture> read_printed_picture(const std::string& text) {
  const auto which = one_of(text, {"full", "faded", "contours"});
  if (!which) return which.problem();
  return static_cast<PrintedPicture>(*which);
}

std::string write_printed_picture(PrintedPicture picture) {
  return picture == PrintedPicture::full ? "full" : picture == PrintedPicture::faded ? "faded" : "contours";
}

Result<PrintChoice> read_copies(const std::string& text, const PrintChoice& before) {
  PrintChoice out = before;
  out.prick = out.incision = out.sinopia = false;
  if (text == "none") return out;
  for (const std::string& part : split(text, ',')) {
    const auto which = one_of(part, {"prick", "incision", "sinopia"});
    if (!which)
      return Problem{"\"" + part + "\" is no copy of a pattern", "",
                     "Give some of prick,incision,sinopia with commas, or none."};
    (*which == 0 ? out.prick : *which == 1 ? out.incision : out.sinopia) = true;
  }
  return out;
}

std::string write_copies(const PrintChoice& print) {
  std::string out;
  for (const auto& [there, word] :
       {std::pair{print.prick, "prick"}, {print.incision, "incision"}, {print.sinopia, "sinopia"}})
    if (there) out += (out.empty() ? "" : ",") + std::string(word);
  return out.empty() ? "none" : out;
}

Result<bool> read_yes(const std::string& text) {
  const auto which = one_of(text, {"yes", "no"});
  if (!which) return which.problem();
  return *which == 0;
}

std::string write_yes(bool yes) { return yes ? "yes" : "no"; }

Result<PlanBy> read_plan_by(const std::string& text) {
  const auto which = one_of(text, {"pontata", "week"});
  if (!which) return which.problem();
  return *which == 0 ? PlanBy::pontata : PlanBy::week;
}

std::string write_plan_by(PlanBy by) { return by == PlanBy::pontata ? "pontata" : "week"; }

Result<std::optional<PlanEye>> read_eye(const std::string& text) {
  if (text == "none") return std::optional<PlanEye>{};
  const auto parts = split(text, ' ');
  if (parts.size() != 2)
    return Problem{"\"" + text + "\" does not say where the eye is and what it looks at", "",
                   "Give two places with a space between, such as 0,-3,1.6 0,0,2.5, or none."};
  const auto at = read_place(parts[0]), look = read_place(parts[1]);
  if (!at) return at.problem();
  if (!look) return look.problem();
  if (glm::distance(*at, *look) < 0.01)
    return Problem{"the eye stands where it looks", "", "Give two places a metre or more apart."};
  return std::optional(PlanEye{*at, *look});
}

std::string write_eye(const std::optional<PlanEye>& eye) {
  return eye ? write_place(eye->at) + " " + write_place(eye->look) : "none";
}

}  // namespace pontata
