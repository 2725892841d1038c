// The values of settings that are more than a number, from and to their text.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/base/result.h"
#include "engine/cartoon/print_choice.h"
#include "engine/plaster/mortar.h"

namespace pontata {

// A number in `unit`; where that is mm or m, a length with its own unit is taken too ("0.5cm" for a key in mm).
Result<double> read_in_unit(const std::string& text, const std::string& unit);

// m2/h; hours for a piece, as "2.5 h for 0.08 m2" (m² too); or "none".
Result<std::optional<double>> read_rate(const std::string& text);
std::string write_rate(const std::optional<double>& rate);

Result<std::vector<double>> read_levels(const std::string& text);  // "2,4,6.1" in m, rising; or "auto"
std::string write_levels(const std::vector<double>& levels);

Result<std::optional<double>> read_area(const std::string& text);  // m2 from 0.01 to 1000, or "none"

Result<SurfaceIs> read_surface(const std::string& text);  // "bare wall" or "arriccio"
std::string write_surface(SurfaceIs surface);

Result<bool> read_left(const std::string& text);  // "left" or "right"
std::string write_left(bool left);

// A number each for the decks, rising decks with commas, or one for all: "2.3" or "2.3,2.1"; "none" for an empty list.
// `what` in messages: "reach"; each from `least` to `greatest`.
Result<std::vector<double>> read_deck_numbers(const std::string& text, std::string_view what, double least,
                                              double greatest);
std::string write_deck_numbers(const std::vector<double>& numbers);

Result<std::string> read_workdays(const std::string& text);  // "1-5", "1-6", "1,3,5"
Result<std::string> read_paper(const std::string& text);

Result<PrintedPicture> read_printed_picture(const std::string& text);  // "full", "faded", "contours"
std::string write_printed_picture(PrintedPicture picture);

// Which copies are printed beside the patterns, and whether these carry marks to prick: "prick,incision,sinopia", some
// of them, or "none". The other choices are those of `before`.
Result<PrintChoice> read_copies(const std::string& text, const PrintChoice& before = {});
std::string write_copies(const PrintChoice& print);

Result<bool> read_yes(const std::string& text);  // "yes" or "no"
std::string write_yes(bool yes);

Result<PlanBy> read_plan_by(const std::string& text);  // "pontata" or "week"
std::string write_plan_by(PlanBy by);

// A place in the building, "X,Y,Z" in lengths.
Result<Vec3> read_place(const std::string& text);
std::string write_place(const Vec3& p);

// Where the eye is and what it looks at, "X,Y,Z X,Y,Z" in lengths; or "none".
Result<std::optional<PlanEye>> read_eye(const std::string& text);
std::string write_eye(const std::optional<PlanEye>& eye);

}  // namespace pontata
