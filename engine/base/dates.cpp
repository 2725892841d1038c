#include "engine/base/dates.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>

namespace pontata {

namespace {

std::chrono::sys_days days_of(Date d) {
  return std::chrono::sys_days{std::chrono::year{d.year} / std::chrono::month{static_cast<unsigned>(d.month)} /
                               std::chrono::day{static_cast<unsigned>(d.day)}};
}

bool read_digits(std::string_view text, int& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size() && text.front() != '-';
}

Problem bad_workdays(std::string_view text) {
  return {fmt::format("\"{}\" does not name working days", text), "",
          "Number the days from 1, Monday, to 7, Sunday: 1-5, 1-6, or 1,3,5."};
}

bool mark_range(std::string_view item, Workdays& days) {
  if (item.size() != 1 && (item.size() != 3 || item[1] != '-')) return false;
  const int first = item.front() - '0';
  const int last = item.back() - '0';
  if (first < 1 || last > 7 || first > last) return false;
  for (int d = first; d <= last; ++d) days[static_cast<std::size_t>(d)] = true;
  return true;
}

}  // namespace

Result<Date> parse_date(std::string_view iso) {
  const Problem problem{fmt::format("\"{}\" is not a date", iso), "", "Write year-month-day, like 2027-05-04."};
  Date d;
  if (iso.size() != 10 || iso[4] != '-' || iso[7] != '-') return problem;
  if (!read_digits(iso.substr(0, 4), d.year) || !read_digits(iso.substr(5, 2), d.month) ||
      !read_digits(iso.substr(8, 2), d.day))
    return problem;
  const std::chrono::year_month_day ymd{std::chrono::year{d.year}, std::chrono::month{static_cast<unsigned>(d.month)},
                                        std::chrono::day{static_cast<unsigned>(d.day)}};
  if (d.year < 1 || !ymd.ok()) return problem;
  return d;
}

std::string format_date(Date d) { return fmt::format("{:04}-{:02}-{:02}", d.year, d.month, d.day); }

Date add_days(Date d, int days) {
  const std::chrono::year_month_day ymd{days_of(d) + std::chrono::days{days}};
  return {static_cast<int>(ymd.year()), static_cast<int>(static_cast<unsigned>(ymd.month())),
          static_cast<int>(static_cast<unsigned>(ymd.day()))};
}

Date add_months(Date d, int months) {
  const int from_zero = 12 * d.year + d.month - 1 + months;
  const std::chrono::year year{from_zero / 12};
  const std::chrono::month month{static_cast<unsigned>(from_zero % 12 + 1)};
  const auto last = static_cast<unsigned>(std::chrono::year_month_day_last{year / month / std::chrono::last}.day());
  return {static_cast<int>(year), from_zero % 12 + 1, std::min(d.day, static_cast<int>(last))};
}

int days_between(Date from, Date to) { return static_cast<int>((days_of(to) - days_of(from)).count()); }

int weekday(Date d) { return static_cast<int>(std::chrono::weekday{days_of(d)}.iso_encoding()); }

Result<Workdays> parse_workdays(std::string_view text) {
  Workdays days{};
  std::string_view rest = text;
  while (true) {
    const std::size_t comma = rest.find(',');
    std::string_view item = rest.substr(0, comma);
    while (!item.empty() && item.front() == ' ') item.remove_prefix(1);
    while (!item.empty() && item.back() == ' ') item.remove_suffix(1);
    if (!mark_range(item, days)) return bad_workdays(text);
    if (comma == std::string_view::npos) return days;
    rest.remove_prefix(comma + 1);
  }
}

}  // namespace pontata
