// Read by libical, which knows nothing of ours: RFC 5545 is what is checked.
#include "paper/calendar.h"

#include <gtest/gtest.h>
#include <libical/ical.h>

#include <map>
#include <memory>

#include "paper/collection.h"

namespace dapple::paper {

namespace {

using record::Due;
using record::DueKind;
using record::Settling;
using tests::moment;

struct Event {
    std::string uid, summary, description, url;
    std::string start, end;  // yyyymmdd
    bool all_day;
    int alarms;
};

struct Free {
    void operator()(icalcomponent* component) const { icalcomponent_free(component); }
};

std::string or_empty(const char* text) {
    return text == nullptr ? std::string() : std::string(text);
}

std::string day_of(const icaltimetype& time) {
    return fmt::format("{:04}{:02}{:02}", time.year, time.month, time.day);
}

// Fails on anything libical has to complain of.
std::vector<Event> parsed(const std::string& text) {
    const std::unique_ptr<icalcomponent, Free> calendar(icalparser_parse_string(text.c_str()));
    std::vector<Event> events;
    if (!calendar) {
        ADD_FAILURE() << "no calendar:\n" << text;
        return events;
    }
    EXPECT_EQ(icalcomponent_isa(calendar.get()), ICAL_VCALENDAR_COMPONENT);
    EXPECT_EQ(icalcomponent_count_errors(calendar.get()), 0);
    EXPECT_NE(icalrestriction_check(calendar.get()), 0) << icalcomponent_as_ical_string(calendar.get());
    EXPECT_EQ(icalcomponent_count_errors(calendar.get()), 0) << icalcomponent_as_ical_string(calendar.get());
    for (icalcomponent* e = icalcomponent_get_first_component(calendar.get(), ICAL_VEVENT_COMPONENT);
         e != nullptr; e = icalcomponent_get_next_component(calendar.get(), ICAL_VEVENT_COMPONENT)) {
        const icaltimetype start = icalcomponent_get_dtstart(e);
        icalproperty* url = icalcomponent_get_first_property(e, ICAL_URL_PROPERTY);
        events.push_back({or_empty(icalcomponent_get_uid(e)), or_empty(icalcomponent_get_summary(e)),
                          or_empty(icalcomponent_get_description(e)),
                          url == nullptr ? "" : or_empty(icalproperty_get_url(url)), day_of(start),
                          day_of(icalcomponent_get_dtend(e)), start.is_date != 0,
                          icalcomponent_count_components(e, ICAL_VALARM_COMPONENT)});
    }
    return events;
}

Due due(const std::string& thing, const std::string& title, const std::string& day) {
    return {DueKind::survey,           "home", thing, thing, title, "why", *inference::day_of(day), 0,
            Settling::survey_enclosure};
}

const CalendarOptions plain{.now = moment("2026-06-01T09:30:15Z")};

}  // namespace

TEST(Calendar, another_program_reads_what_is_due) {
    const auto events = parsed(to_icalendar({due("north", "Survey north", "2026-06-09")}, plain));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0].summary, "Survey north");
    EXPECT_EQ(events[0].start, "20260609");
    EXPECT_EQ(events[0].end, "20260610");  // the day after: DTEND is exclusive, RFC 5545 section 3.6.1
    EXPECT_TRUE(events[0].all_day);
    EXPECT_EQ(events[0].alarms, 0);
    EXPECT_EQ(events[0].url, "");
}

TEST(Calendar, words_that_mean_something_to_the_format_come_through) {
    const std::string title =
        "Survey \"the long wall\"; left, right \\ both\nBEGIN:VEVENT ünd 東 — and on for so many words that "
        "the line "
        "must be folded more than once, in between characters of several bytes: "
        "ääääääääääääääääääääääääääääääääääääää";
    const auto events = parsed(to_icalendar({due("x", title, "2026-06-09")}, plain));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0].summary, title);
}

TEST(Calendar, no_line_is_longer_than_75_octets_and_each_ends_with_crlf) {
    std::string title = "Survey ";
    while (title.size() < 600) title += "ä";
    const std::string text = to_icalendar({due("x", title, "2026-06-09")}, plain);
    std::size_t begin = 0;
    while (begin < text.size()) {
        const std::size_t end = text.find('\n', begin);
        ASSERT_NE(end, std::string::npos);
        ASSERT_GT(end, begin);
        EXPECT_EQ(text[end - 1], '\r');
        EXPECT_LE(end - 1 - begin, 75U);  // RFC 5545 section 3.1
        // No character is cut in two: a line never begins inside one.
        const std::size_t first = text[begin] == ' ' ? begin + 1 : begin;
        EXPECT_NE(static_cast<unsigned char>(text[first]) & 0xC0U, 0x80U);
        begin = end + 1;
    }
}

TEST(Calendar, what_is_overdue_stands_on_today_and_says_since_when) {
    const auto events = parsed(to_icalendar({due("north", "Survey", "2026-04-20")}, plain));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0].start, "20260601");
    EXPECT_NE(events[0].description.find("2026-04-20"), std::string::npos);
}

TEST(Calendar, the_last_day_of_a_year_ends_with_the_next) {
    const auto events = parsed(to_icalendar({due("north", "Survey", "2027-12-31")}, plain));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0].end, "20280101");
}

TEST(Calendar, alarms_and_links_only_where_they_are_asked_for) {
    CalendarOptions options = plain;
    options.remind_hour = 9;
    options.public_url = "https://reptiles.example.org/";
    const auto events = parsed(to_icalendar({due("north", "Survey", "2026-06-09")}, options));
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0].alarms, 1);
    EXPECT_EQ(events[0].url, "https://reptiles.example.org/survey/north");
}

TEST(Calendar, an_empty_one_is_a_calendar_still) {
    // RFC 5545 asks for a component; libical's restrictions do not, and feeds without events are common practice.
    const std::unique_ptr<icalcomponent, Free> calendar(
        icalparser_parse_string(to_icalendar({}, plain).c_str()));
    ASSERT_TRUE(calendar);
    EXPECT_EQ(icalcomponent_count_components(calendar.get(), ICAL_VEVENT_COMPONENT), 0);
}

TEST(Calendar, of_a_record_keeps_its_uids_while_dates_move) {
    tests::Collection collection;
    collection.add_enclosure("dry-wall", {{"survey_every_days", 14}});
    collection.add("meter", {{"name", "Meter"}, {"measures", "uvi"}, {"bought_on", "2026-03-10"}}, "m1");
    collection.add("task", {{"title", "Raise the ledge"}, {"due_on", "2026-07-01"}}, "t1");
    collection.read("dry-wall", "wall-top", "2026-05-30T10:00:00Z", 3.4);
    record::LampLives lives;
    const auto by_uid = [&] {
        const auto text = calendar(collection.store(), lives, {"home"}, plain);
        EXPECT_TRUE(text);
        std::map<std::string, std::string> starts;
        for (const Event& event : parsed(*text)) starts[event.uid] = event.start;
        return starts;
    };
    const auto before = by_uid();
    EXPECT_EQ(before.size(), 3U);
    EXPECT_EQ(before.at("survey-dry-wall@dapple.invalid"), "20260613");  // fourteen days on
    EXPECT_EQ(before.at("calibration-m1@dapple.invalid"), "20270310");   // twelve months on
    EXPECT_EQ(before.at("task-t1@dapple.invalid"), "20260701");
    collection.read("dry-wall", "wall-top", "2026-06-01T08:00:00Z", 3.4);
    const auto after = by_uid();
    EXPECT_EQ(after.size(), 3U);
    EXPECT_EQ(after.at("survey-dry-wall@dapple.invalid"), "20260615");
}

}  // namespace dapple::paper
