#include "inference/life_calendar.h"

#include <algorithm>

namespace dapple::inference {

namespace {

constexpr double days_a_year = 365.25;
constexpr double days_a_month = days_a_year / 12;

}  // namespace

std::optional<CalendarComparison> compare_with_calendar(const DecayPosterior& posterior, const Limit& limit,
                                                        const LifeSeries& series, const Leaving& leaving,
                                                        const LifeOptions& options) {
    const double start = series.from_new ? 0 : series.first_hours();
    const double span = series.last_hours() - series.first_hours();
    const double furthest = series.first_hours() + options.most_span * span;
    const double life_days = (std::min(leaving.hours, furthest) - start) / series.hours_a_day;
    const double calendar_days = options.every_months * days_a_month;
    if (life_days < 1 || leaving.hours <= series.first_hours()) return std::nullopt;
    if (leaving.beyond_limit && life_days < calendar_days) return std::nullopt;

    // Expected days out of the band within `days` of a new lamp: the integral of the probability of being out.
    const auto days_out = [&](double days) {
        constexpr int steps = 200;
        double sum = 0;
        for (int i = 0; i < steps; ++i) {
            const double hours = start + (i + 0.5) / steps * days * series.hours_a_day;
            sum += posterior.probability_below(limit.spot, hours / 1000, limit.log_value, limit.blur);
        }
        return sum / steps * days;
    };
    CalendarComparison comparison = {};
    comparison.every_months = options.every_months;
    comparison.measured_months = life_days / days_a_month;
    comparison.at_least = leaving.beyond_limit;
    comparison.lamps_saved_a_year = days_a_year / calendar_days - days_a_year / life_days;
    if (options.price) comparison.money_saved_a_year = *options.price * comparison.lamps_saved_a_year;
    comparison.days_out_avoided_a_year = days_out(calendar_days) * days_a_year / calendar_days;
    return comparison;
}

}  // namespace dapple::inference
