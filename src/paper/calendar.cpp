#include "paper/calendar.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

namespace dapple::paper {

namespace {

using inference::Day;

constexpr std::size_t longest_line = 75;  // octets without the line's end: RFC 5545 section 3.1

// A content line, folded between characters, never within one.
std::string folded(const std::string& line) {
    std::string text;
    std::size_t used = 0;
    for (std::size_t i = 0; i < line.size();) {
        std::size_t next = i + 1;
        while (next < line.size() && (static_cast<unsigned char>(line[next]) & 0xC0u) == 0x80u) ++next;
        if (used + (next - i) > longest_line) {
            text += "\r\n ";
            used = 1;
        }
        text.append(line, i, next - i);
        used += next - i;
        i = next;
    }
    return text + "\r\n";
}

// TEXT of RFC 5545 section 3.3.11: backslash, semicolon, comma and line ends are escaped; control characters cannot stand.
std::string escaped(const std::string& words) {
    std::string text;
    for (const char c : words) {
        if (c == '\n') {
            text += "\\n";
        } else if (c == '\\' || c == ';' || c == ',') {
            text += {'\\', c};
        } else if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) {
            text += c;
        }
    }
    return text;
}

std::string date_of(Day day) {
    const std::chrono::year_month_day date(day);
    return fmt::format("{:04}{:02}{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()));
}

std::string stamp_of(record::Moment now) {
    const Day day = std::chrono::floor<std::chrono::days>(now);
    const std::chrono::hh_mm_ss time(std::chrono::floor<std::chrono::seconds>(now - day));
    return fmt::format("{}T{:02}{:02}{:02}Z", date_of(day), time.hours().count(), time.minutes().count(),
                       time.seconds().count());
}

const char* category(record::DueKind kind) {
    switch (kind) {
        case record::DueKind::survey:
            return "Survey";
        case record::DueKind::lamp:
            return "Lamp";
        case record::DueKind::calibration:
            return "Calibration";
        case record::DueKind::task:
            return "Task";
    }
    return "Task";
}

// Where the one action that settles it is done.
std::string link_to(const record::Due& due, std::string url) {
    while (url.ends_with('/')) url.pop_back();
    if (url.empty()) return {};
    return due.kind == record::DueKind::survey ? url + "/survey/" + due.thing : url + "/";
}

std::string alarm(int hour, const std::string& title) {
    return folded("BEGIN:VALARM") + folded("ACTION:DISPLAY") + folded(fmt::format("TRIGGER:PT{}H", hour)) +
           folded("DESCRIPTION:" + escaped(title)) + folded("END:VALARM");
}

std::string event(const record::Due& due, const CalendarOptions& options) {
    const Day today = std::chrono::floor<std::chrono::days>(options.now);
    const Day on = std::max(due.due, today);
    std::string why = due.why;
    if (due.due < today) why += " It was due on " + inference::to_text(due.due) + ".";
    std::string text = folded("BEGIN:VEVENT");
    text += folded(fmt::format("UID:{}-{}@dapple.invalid", name(due.kind), due.thing));
    text += folded("DTSTAMP:" + stamp_of(options.now));
    text += folded("DTSTART;VALUE=DATE:" + date_of(on));
    text += folded("DTEND;VALUE=DATE:" + date_of(on + std::chrono::days(1)));
    text += folded("SUMMARY:" + escaped(due.title));
    text += folded("DESCRIPTION:" + escaped(why));
    text += folded(std::string("CATEGORIES:") + category(due.kind));
    text += folded("TRANSP:TRANSPARENT");  // nobody is busy all day for it
    const std::string link = link_to(due, options.public_url);
    if (!link.empty()) text += folded("URL:" + link);
    if (options.remind_hour) text += alarm(*options.remind_hour, due.title);
    return text + folded("END:VEVENT");
}

}  // namespace

std::string to_icalendar(const std::vector<record::Due>& list, const CalendarOptions& options) {
    std::string text = folded("BEGIN:VCALENDAR") + folded("VERSION:2.0") +
                       folded("PRODID:-//Dapple//Dapple " DAPPLE_VERSION "//EN") +
                       folded("CALSCALE:GREGORIAN") + folded("X-WR-CALNAME:" + escaped(options.name));
    for (const record::Due& due : list) text += event(due, options);
    return text + folded("END:VCALENDAR");
}

record::Result<std::string> calendar(const record::Store& store, record::LampLives& lives,
                                     const std::vector<std::string>& sites, const CalendarOptions& options) {
    record::DueOptions wanted;
    wanted.ahead_days = options.ahead_days;
    const Day today = std::chrono::floor<std::chrono::days>(options.now);
    const auto list = record::due_list(store, lives, sites, today, wanted);
    if (!list) return tl::unexpected(list.error());
    return to_icalendar(*list, options);
}

}  // namespace dapple::paper
