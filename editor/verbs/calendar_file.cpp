#include "editor/verbs/calendar_file.h"

#include <fmt/format.h>

#include <algorithm>

namespace pontata {

namespace {

std::string compact(Date d) { return fmt::format("{:04}{:02}{:02}", d.year, d.month, d.day); }

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || c == ';' || c == ',') out += '\\';
    if (c == '\n')
      out += "\\n";
    else
      out += c;
  }
  return out;
}

// A content line, folded at 75 octets without cutting a character.
std::string line(const std::string& text) {
  std::string out;
  std::size_t used = 0;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t next = i + 1;
    while (next < text.size() && (static_cast<unsigned char>(text[next]) & 0xc0) == 0x80) ++next;
    if (used + next - i > 75) {
      out += "\r\n ";
      used = 1;
    }
    out += text.substr(i, next - i);
    used += next - i;
    i = next;
  }
  return out + "\r\n";
}

}  // namespace

std::string icalendar_text(const std::vector<CalendarEvent>& events) {
  Date stamp{2000, 1, 1};
  if (!events.empty())
    stamp = std::min_element(events.begin(), events.end(), [](const auto& a, const auto& b) {
              return a.date < b.date;
            })->date;
  std::string text = line("BEGIN:VCALENDAR") + line("VERSION:2.0") + line("PRODID:-//Pontata//Plan of giornate//EN") +
                     line("CALSCALE:GREGORIAN");
  for (const auto& event : events) {
    text += line("BEGIN:VEVENT") + line("UID:" + event.uid) + line("DTSTAMP:" + compact(stamp) + "T000000Z");
    text += line("DTSTART;VALUE=DATE:" + compact(event.date)) +
            line("DTEND;VALUE=DATE:" + compact(add_days(event.last.value_or(event.date), 1)));
    text += line("SUMMARY:" + escaped(event.summary)) + line("DESCRIPTION:" + escaped(event.description)) +
            line("END:VEVENT");
  }
  return text + line("END:VCALENDAR");
}

}  // namespace pontata
