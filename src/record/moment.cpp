#include "record/moment.h"

#include <fmt/format.h>

#include <charconv>

namespace dapple::record {

namespace {

// Reads a text from the left; once something does not fit, everything after fails.
class Cursor {
  public:
    explicit Cursor(std::string_view text) : rest_(text) {}

    int digits(std::size_t count) {
        if (rest_.size() < count) return fail();
        int value = 0;
        const auto [end, error] = std::from_chars(rest_.data(), rest_.data() + count, value);
        if (error != std::errc() || end != rest_.data() + count || rest_[0] == '-') return fail();
        rest_.remove_prefix(count);
        return value;
    }
    bool take(char wanted) {
        if (rest_.empty() || rest_[0] != wanted) return false;
        rest_.remove_prefix(1);
        return true;
    }
    void expect(char wanted) {
        if (!take(wanted)) fail();
    }
    // Digits after the point as milliseconds; finer ones are cut.
    int milliseconds() {
        int value = 0;
        int scale = 100;
        std::size_t count = 0;
        for (; !rest_.empty() && rest_[0] >= '0' && rest_[0] <= '9'; ++count, rest_.remove_prefix(1)) {
            value += scale * (rest_[0] - '0');
            scale /= 10;
        }
        return count > 0 && count <= 9 ? value : fail();
    }
    bool at_end() const { return rest_.empty(); }
    bool good() const { return good_; }

  private:
    int fail() {
        good_ = false;
        return 0;
    }
    std::string_view rest_;
    bool good_ = true;
};

std::chrono::minutes offset(Cursor& cursor) {
    if (cursor.at_end() || cursor.take('Z')) return std::chrono::minutes(0);
    const int sign = cursor.take('-') ? -1 : 1;
    if (sign > 0) cursor.expect('+');
    const int hours = cursor.digits(2);
    cursor.take(':');
    return std::chrono::minutes(sign * (60 * hours + cursor.digits(2)));
}

}  // namespace

std::string to_text(Moment moment) {
    const auto day = std::chrono::floor<std::chrono::days>(moment);
    const std::chrono::year_month_day date(day);
    const std::chrono::hh_mm_ss time(moment - day);
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                       time.hours().count(), time.minutes().count(), time.seconds().count(),
                       time.subseconds().count());
}

std::optional<Moment> moment_of(std::string_view text) {
    Cursor cursor(text);
    const int year = cursor.digits(4);
    cursor.expect('-');
    const int month = cursor.digits(2);
    cursor.expect('-');
    const int day = cursor.digits(2);
    const std::chrono::year_month_day date{std::chrono::year(year),
                                           std::chrono::month(static_cast<unsigned>(month)),
                                           std::chrono::day(static_cast<unsigned>(day))};
    if (!cursor.good() || !date.ok()) return std::nullopt;
    const Moment midnight = std::chrono::sys_days(date);
    if (cursor.at_end()) return midnight;

    if (!cursor.take('T')) cursor.expect(' ');
    const int hour = cursor.digits(2);
    cursor.expect(':');
    const int minute = cursor.digits(2);
    const int second = cursor.take(':') ? cursor.digits(2) : 0;
    const int milliseconds = cursor.take('.') ? cursor.milliseconds() : 0;
    const auto ahead = offset(cursor);
    if (!cursor.good() || !cursor.at_end() || hour > 23 || minute > 59 || second > 59) return std::nullopt;
    if (ahead > std::chrono::hours(14) || ahead < -std::chrono::hours(12)) return std::nullopt;
    return midnight + std::chrono::hours(hour) + std::chrono::minutes(minute) + std::chrono::seconds(second) +
           std::chrono::milliseconds(milliseconds) - ahead;
}

Clock system_clock() {
    return [] { return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now()); };
}

}  // namespace dapple::record
