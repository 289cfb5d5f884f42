// Days, windows, clocks, cloud, ozone and forecasts.
#include "sky/day.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>

#include "reference.h"
#include "sky/cloud.h"
#include "sky/ozone.h"
#include "spectrum/quantity.h"

namespace dapple::sky {
namespace {

using namespace tests;
using namespace date::literals;
using namespace std::chrono_literals;

const Problem nowhere = {"", "--time-zone", "", ""};

Clock clock_of(const char* zone) {
    return Clock::named(zone, nowhere).value();
}

TEST(Clock, keeps_daylight_saving) {
    const auto vienna = clock_of("Europe/Vienna");
    EXPECT_EQ(vienna.text(vienna.begin_of(2026_y / 6 / 21)), "2026-06-21T00:00:00+02:00");
    EXPECT_EQ(vienna.text(vienna.begin_of(2026_y / 1 / 21)), "2026-01-21T00:00:00+01:00");
    EXPECT_EQ(vienna.end_of(2026_y / 3 / 29) - vienna.begin_of(2026_y / 3 / 29), 23h);
    EXPECT_EQ(vienna.end_of(2026_y / 10 / 25) - vienna.begin_of(2026_y / 10 / 25), 25h);
    EXPECT_EQ(vienna.minutes(date::sys_days(2026_y / 6 / 21) + 11h), "13:00");
    EXPECT_EQ(vienna.day_of(date::sys_days(2026_y / 6 / 21) + 23h), 2026_y / 6 / 22);
    // Beirut leaves midnight out when its summer time begins.
    const auto beirut = clock_of("Asia/Beirut");
    EXPECT_EQ(beirut.text(beirut.begin_of(2026_y / 3 / 29)), "2026-03-29T01:00:00+03:00");
    // Half hours and the other side of the date line.
    EXPECT_EQ(clock_of("Asia/Kolkata").text(date::sys_days(2026_y / 6 / 21)), "2026-06-21T05:30:00+05:30");
    EXPECT_EQ(clock_of("America/St_Johns").text(date::sys_days(2026_y / 1 / 21)),
              "2026-01-20T20:30:00-03:30");
}

TEST(Clock, goes_by_longitude_where_no_zone_is_known) {
    EXPECT_EQ(Clock::by_longitude(16).name(), "UTC+1");
    EXPECT_EQ(Clock::by_longitude(-112).name(), "UTC-7");
    EXPECT_EQ(Clock::by_longitude(3).name(), "UTC");
    EXPECT_EQ(Clock::by_longitude(-112).text(date::sys_days(2026_y / 6 / 21)), "2026-06-20T17:00:00-07:00");
}

TEST(Clock, names_the_nearest_zone_for_one_it_does_not_know) {
    const auto wrong = Clock::named("Europe/Viena", nowhere);
    ASSERT_FALSE(wrong);
    EXPECT_EQ(
        wrong.error().front().message(),
        "at --time-zone: found \"Europe/Viena\"; allowed: \"Europe/Vienna\", which is nearest, or another "
        "IANA time zone");
}

TEST(Clock, reads_days_of_the_years_for_which_the_sun_is_known) {
    EXPECT_EQ(read_day("2026-06-21"), 2026_y / 6 / 21);
    EXPECT_EQ(read_day("1950-01-01"), 1950_y / 1 / 1);
    for (const char* wrong : {"", "2026-02-30", "2026-06-21T12:00", "21.6.2026", "1949-12-31", "2051-01-01"})
        EXPECT_FALSE(read_day(wrong)) << wrong;
}

TEST(Ozone, is_the_climatology_in_the_middle_of_its_months_and_bands) {
    for (const Row& row : read_reference("checks/ozone_climatology.csv")) {
        const double middle = (number(row, "month") - 0.5) / 12 * 365.25;
        EXPECT_NEAR(climatological_ozone_du(number(row, "latitude_deg"), middle), number(row, "ozone_du"),
                    1e-9);
    }
    EXPECT_NEAR(climatological_ozone_du(40, 0), climatological_ozone_du(40, 365.25), 1e-9);
    EXPECT_EQ(climatological_ozone_du(90, 100), climatological_ozone_du(80, 100));
}

TEST(Cloud, takes_from_the_uv_index_what_the_weather_services_say) {
    for (const Row& row : read_reference("checks/solar_uvi_checks.csv")) {
        if (row.at("kind") != "cloud_factor" || row.at("source").find("EPA") == std::string::npos) continue;
        const std::string& class_of = row.at("condition");
        const double cover = class_of == "clear"            ? 0
                             : class_of.starts_with("scat") ? 0.45
                             : class_of.starts_with("brok") ? 0.8
                                                            : 1;
        EXPECT_DOUBLE_EQ(cloud_factor_uv(cover), number(row, "value")) << class_of;
    }
}

TEST(Cloud, leaves_only_diffuse_light_when_it_covers_everything) {
    const auto clear = clear_sky({}, 40.0);
    const auto covered = under_cloud(clear, 1);
    EXPECT_EQ(covered.direct.sum(), 0);
    EXPECT_NEAR(
        measure(covered.total(), spectrum::Quantity::uvi) / measure(clear.total(), spectrum::Quantity::uvi),
        0.31, 1e-9);
    const auto half = under_cloud(clear, 0.5);
    EXPECT_NEAR(half.direct.sum(), clear.direct.sum() / 2, 1e-9);
    EXPECT_GT(half.diffuse.sum(), clear.diffuse.sum());
}

TEST(UvTable, says_what_the_spectra_say) {
    Conditions c;
    const UvTable table(c, {220, 260, 310, 370, 450});
    for (const double du : {230.0, 285.0, 330.0, 420.0}) {
        for (const double zenith : {1.0, 33.3, 58.6, 61.5, 74.4, 79.6, 84.8}) {
            c.air.ozone_du = du;
            const auto light = clear_sky(c, zenith).total();
            EXPECT_NEAR(table.at(du, zenith).uvi / measure(light, spectrum::Quantity::uvi), 1, 0.005)
                << du << " " << zenith;
            EXPECT_NEAR(table.at(du, zenith).d3_w_m2 / measure(light, spectrum::Quantity::d3), 1, 0.01)
                << du << " " << zenith;
        }
    }
    EXPECT_EQ(table.at(300, 90).uvi, 0);
}

TEST(ADay, has_its_highest_uv_index_when_the_sun_is_highest) {
    const auto clock = clock_of("Europe/Vienna");
    const OpenSky sky({48.2, 16.4, 170}, {});
    const auto day = curve(sky, clock.begin_of(2026_y / 6 / 21), clock.end_of(2026_y / 6 / 21), 10min);
    EXPECT_EQ(day.size(), 145U);
    const Moment top = highest(sky, day);
    // Solar noon: 12:56 local daylight time at 16.4 E (equation of time -1.8 min).
    EXPECT_NEAR(
        std::chrono::duration<double>(top.time - (clock.begin_of(2026_y / 6 / 21) + 12h + 56min)).count(), 0,
        120);
    EXPECT_NEAR(top.elevation_deg, 90 - 48.2 + 23.44, 0.02);
    EXPECT_NEAR(top.azimuth_deg, 180, 1);
    EXPECT_EQ(day.front().uv.uvi, 0);
    // Madronich 2007 at that zenith angle and the climatology's ozone, within his and our 12 %.
    const double mu = std::sin(top.elevation_deg * M_PI / 180);
    const double formula = 12.5 * std::pow(mu, 2.42) * std::pow(sky.ozone_du(top.time) / 300, -1.23) / 1.0329;
    EXPECT_NEAR(top.uv.uvi / formula, 1, 0.12);
}

TEST(ADay, begins_and_ends_with_the_sun_as_published) {
    // NREL SPA web calculator (header of solar_position_checks_more.csv): 2015-01-02 rise 07:21:55, set 16:47:43, UTC-7;
    // centre at -0.8333 deg without refraction.
    const Site boulder{39.742476, -105.1786, 1830};
    const auto clock = clock_of("America/Denver");
    const auto up = windows([&](Instant t) { return std::optional(sun_position(t, boulder).elevation_deg); },
                            -0.8333, 90, clock.begin_of(2015_y / 1 / 2), clock.end_of(2015_y / 1 / 2), 10min);
    ASSERT_EQ(up.size(), 1U);
    const auto local = [&](Instant t) {
        return std::chrono::duration<double>(t - clock.begin_of(2015_y / 1 / 2)).count();
    };
    EXPECT_NEAR(local(up[0].from), 7 * 3600 + 21 * 60 + 55, 3);
    EXPECT_NEAR(local(up[0].to), 16 * 3600 + 47 * 60 + 43, 3);
}

TEST(Windows, are_the_times_in_the_band_and_two_on_a_day_too_bright_at_noon) {
    const auto clock = clock_of("Europe/Rome");
    const OpenSky sky({38, 15, 0}, {});
    const Instant begin = clock.begin_of(2026_y / 6 / 21), end = clock.end_of(2026_y / 6 / 21);
    const auto value = [&](Instant t) { return std::optional(sky.uv(t).uvi); };
    const auto two = windows(value, 1.1, 3.0, begin, end, 10min);
    ASSERT_EQ(two.size(), 2U);
    for (const Window& w : two) {
        EXPECT_LT(w.from, w.to);
        EXPECT_NEAR(sky.uv(w.from).uvi, w.from == two[0].from ? 1.1 : 3.0, 0.01);
        EXPECT_NEAR(sky.uv(w.to).uvi, w.from == two[0].from ? 3.0 : 1.1, 0.01);
    }
    EXPECT_EQ(windows(value, 0.5, 20, begin, end, 10min).size(), 1U);
    EXPECT_TRUE(windows(value, 15, 20, begin, end, 10min).empty());
}

TEST(Windows, say_nothing_while_the_sun_is_down) {
    const Instant begin = date::sys_days(2026_y / 12 / 21);
    const OpenSky tromso({69.65, 18.96, 0}, {});
    const auto value = [&](Instant t) -> std::optional<double> {
        const auto sun = tromso.sun(t);
        if (tromso.zenith_as_seen_deg(sun) >= 90) return std::nullopt;
        return tromso.uv(t, sun).uvi;
    };
    EXPECT_TRUE(windows(value, 0, 0.7, begin, begin + 24h, 10min).empty());
}

TEST(ADose, is_what_the_window_brings) {
    const OpenSky sky({0, 0, 0}, {});
    const Instant noon = date::sys_days(2026_y / 3 / 20) + 12h;
    const auto hour = dose(sky, {{noon - 30min, noon + 30min}});
    EXPECT_NEAR(hour.erythemal, 3600 * sky.uv(noon).uvi / 40, 0.03 * hour.erythemal);
    EXPECT_NEAR(hour.d3, 3600 * sky.uv(noon).d3_w_m2, 0.03 * hour.d3);
    EXPECT_EQ(dose(sky, {}).d3, 0);
}

TEST(AForecast, takes_the_models_place_where_it_speaks) {
    const auto clock = clock_of("Europe/Vienna");
    const auto forecast =
        parse_forecast("time,uvi\n2026-06-21T12:00,4\n2026-06-21T13:00,5\n", "f.csv", clock);
    ASSERT_TRUE(forecast);
    const OpenSky sky({48.2, 16.4, 170}, {}, *forecast), model({48.2, 16.4, 170}, {});
    const Instant noon = clock.begin_of(2026_y / 6 / 21) + 12h;
    EXPECT_NEAR(sky.uv(noon + 30min).uvi, 4.5, 1e-9);
    EXPECT_NEAR(sky.uv(noon + 30min).d3_w_m2 / 4.5,
                model.uv(noon + 30min).d3_w_m2 / model.uv(noon + 30min).uvi, 1e-9);
    EXPECT_EQ(sky.uv(noon - 1min).uvi, model.uv(noon - 1min).uvi);
    EXPECT_EQ(sky.uv(noon + 61min).uvi, model.uv(noon + 61min).uvi);
}

TEST(AForecast, may_be_json_with_offsets_and_a_source) {
    const auto clock = clock_of("Europe/Vienna");
    const auto forecast = parse_forecast(
        R"({"source": "weather service", "forecast": [{"time": "2026-06-21T10:00:00Z", "uvi": 4},
            {"time": "2026-06-21T13:00+02:00", "uvi": 5}, {"time": "2026-06-21T20:00", "uvi": 0}]})",
        "f.json", clock);
    ASSERT_TRUE(forecast);
    EXPECT_EQ(forecast->source, "weather service");
    ASSERT_EQ(forecast->entries.size(), 3U);
    EXPECT_EQ(forecast->entries[1].time - forecast->entries[0].time, 1h);
    EXPECT_FALSE(forecast->uvi(forecast->entries[1].time + 2h));  // seven hours without a word
}

TEST(AForecast, that_cannot_be_read_is_refused_with_place_and_reason) {
    const auto clock = clock_of("Europe/Vienna");
    struct Case {
        const char* text;
        const char* says;
    };
    for (const Case& c :
         {Case{"", "f at : "}, Case{"a,b\n1,2\n", "line 1"}, Case{"time,uvi\n", "at least one time"},
          Case{"time,uvi\nnoon,3\n", "line 2: found \"noon\""},
          Case{"time,uvi\n2026-06-21T12:00,-1\n", "line 2: found \"-1\"; allowed: a UV index from 0 to 50"},
          Case{"time,uvi\n2026-06-21T12:00,nan\n", "\"nan\""},
          Case{"time,uvi\n2026-06-21T12:00\n", "1 cells"},
          Case{"time,uvi\n2026-02-30T12:00,3\n", "2026-02-30"},
          Case{"time,uvi\n2026-06-21T12:00,3\n2026-06-21T11:00,3\n", "ascend"},
          Case{"{\"forecast\": 3}", "/forecast"}, Case{"{\"forecst\": []}", "/forecst"},
          Case{"{\"forecast\": [3]}", "/forecast/0"}, Case{"{", "no JSON object"},
          Case{"{\"forecast\": [{\"time\": 3, \"uvi\": \"a\"}]}", "/forecast/0/uvi"}}) {
        const auto forecast = parse_forecast(c.text, "f", clock);
        ASSERT_FALSE(forecast) << c.text;
        if (c.text[0] == 0) continue;
        EXPECT_NE(to_text(forecast.error()).find(c.says), std::string::npos) << to_text(forecast.error());
    }
}

}  // namespace
}  // namespace dapple::sky
