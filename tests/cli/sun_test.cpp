// dapple sun, as a keeper calls it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "cli/console.h"

namespace dapple::tests {

namespace {

using Words = std::vector<std::string>;

Words sun(Words more) {
    Words all = {"sun", "--lat", "48.2", "--lon", "16.4", "--date", "2026-06-21"};
    all.insert(all.end(), more.begin(), more.end());
    return all;
}

void expect_refused(const Outcome& outcome, const Words& words) {
    EXPECT_EQ(outcome.status, 2);
    EXPECT_EQ(outcome.out, "");
    for (const std::string& word : words) EXPECT_NE(outcome.err.find(word), std::string::npos) << outcome.err;
}

// A pen on a summer lawn, its sides and top open or of a material; a board shades its left end.
std::string pen(const std::string& sides = "open", const std::string& top = "open") {
    return R"({"format": "dapple/enclosure@1", "id": "lawn", "size_cm": [200, 100, 60],
      "walls": {"floor": "grass", "left": ")" +
           sides + R"(", "right": ")" + sides + R"(", "front": ")" + sides + R"(", "back": ")" + sides +
           R"(", "top": ")" + top +
           R"("}, "outdoors": {"lat": 48.2, "lon": 16.4, "bearing_deg": 0, "time_zone": "Europe/Vienna"},
      "animals": [{"species": "testudo_hermanni", "back_height_cm": 8, "zone": [3]}],
      "furniture": [{"id": "board", "shape": "box", "min_cm": [0, 0, 30], "max_cm": [60, 100, 32], "material": "wood"}],
      "spots": [{"id": "sunny", "position_cm": [140, 50, 0], "role": "bask"},
                {"id": "shady", "position_cm": [30, 50, 0], "role": "retreat"}]})";
}

}  // namespace

TEST(Sun, answers_as_the_contract_says) {
    const auto answer =
        dapple(sun({"--time-zone", "Europe/Vienna", "--species", "testudo_hermanni", "--json"})).json();
    ASSERT_EQ(answer["curve"].size(), 145U);
    const auto& noon = answer["curve"][78];
    EXPECT_EQ(noon["time"], "2026-06-21T13:00:00+02:00");
    EXPECT_NEAR(noon["elevation_deg"], 65.2, 0.1);
    EXPECT_NEAR(noon["azimuth_deg"], 182, 2);
    EXPECT_NEAR(noon["uvi"], 8, 1);
    EXPECT_EQ(answer["curve"][0]["uvi"], 0);
    EXPECT_EQ(answer["max"]["time"].get<std::string>().substr(0, 15), "2026-06-21T12:5");
    EXPECT_GE(answer["max"]["uvi"], noon["uvi"]);
    ASSERT_GE(answer["windows"].size(), 1U);
    for (const auto& window : answer["windows"]) EXPECT_LT(window["from"], window["to"]);
    EXPECT_GT(answer["dose"]["d3_j_m2"], 0);
    EXPECT_NE(answer["cautions"][0].get<std::string>().find("overheats"), std::string::npos);
}

TEST(Sun, tells_each_zones_window_where_no_animal_is_named) {
    const auto answer = dapple(sun({"--json"})).json();
    ASSERT_EQ(answer["zones"].size(), 4U);
    EXPECT_EQ(answer["time_zone"], "UTC+1");
    EXPECT_EQ(answer["zones"][1]["windows"].size(), 2U);  // too bright for a zone 2 animal at noon
    EXPECT_GE(answer["windows"].size(), 1U);
    const Outcome words = dapple(sun({}));
    for (const char* word : {"UV zone 3", "highest", "Caution"})
        EXPECT_NE(words.out.find(word), std::string::npos) << words.out;
}

TEST(Sun, falls_with_ozone_and_cloud_and_grows_with_height_and_snow) {
    const auto most = [](const Words& more) {
        auto words = sun(more);
        words.emplace_back("--json");
        return dapple(words).json()["max"]["uvi"].get<double>();
    };
    const double plain = most({"--ozone-du", "300"});
    EXPECT_LT(most({"--ozone-du", "400"}), plain);
    EXPECT_NEAR(most({"--ozone-du", "300", "--cloud", "1"}), 0.31 * plain, 1e-6);
    EXPECT_GT(most({"--ozone-du", "300", "--elevation-m", "2000"}), 1.1 * plain);
    EXPECT_GT(most({"--ozone-du", "300", "--albedo", "0.8"}), 1.2 * plain);
}

TEST(Sun, follows_a_forecast_where_there_is_one) {
    const auto answer = dapple(sun({"--time-zone", "Europe/Vienna", "--forecast", "-", "--json"}),
                               "time,uvi\n2026-06-21T12:00,3.5\n2026-06-21T14:00,3.5\n")
                            .json();
    EXPECT_NEAR(answer["curve"][78]["uvi"], 3.5, 1e-9);
}

TEST(Sun, under_a_shade_is_that_of_the_spot_and_of_reach_by_the_hour) {
    const auto answer = dapple({"sun", "--shade", "-", "--date", "2026-06-21", "--json"}, pen()).json();
    EXPECT_EQ(answer["time_zone"], "Europe/Vienna");
    EXPECT_EQ(answer["facing"], "aimed");
    const auto& noon = answer["curve"][78];
    EXPECT_GT(noon["uvi"], noon["open_uvi"]);  // a meter turned to the sun
    const auto& spots = answer["shade"]["spots"];
    EXPECT_EQ(spots[0]["id"], "sunny");
    EXPECT_NEAR(spots[0]["sun_share"][78], 1, 1e-6);
    EXPECT_EQ(spots[1]["sun_share"][78], 0);
    EXPECT_LT(spots[1]["uvi"][78], 0.7 * spots[0]["uvi"][78].get<double>());
    const auto& hours = answer["shade"]["animals"][0]["hours"];
    ASSERT_GT(hours.size(), 14U);
    double best = 0;
    for (const auto& hour : hours) best = std::max(best, hour["share_in_band"].get<double>());
    EXPECT_GT(best, 0.2);
    ASSERT_GE(answer["windows"].size(), 1U);
    const Outcome words = dapple({"sun", "--shade", "-", "--date", "2026-06-21"}, pen());
    EXPECT_NE(words.out.find("by the hour"), std::string::npos) << words.out;
}

TEST(Sun, under_a_shade_tells_what_a_back_at_the_spot_gets) {
    const auto dose = [](const std::string& document, const Words& more) {
        Words words = {"sun", "--shade", "-", "--date", "2026-06-21", "--json"};
        words.insert(words.end(), more.begin(), more.end());
        return dapple(words, document).json();
    };
    const auto open = dose(pen(), {});
    ASSERT_GE(open["windows"].size(), 1U);
    // The most it can be: the windows' length at the highest flat value, which is below the aimed one. 1 UVI is 0.025 W/m2.
    double most = 0;
    for (const auto& moment : open["curve"]) most = std::max(most, moment["uvi"].get<double>());
    const double erythemal = open["dose"]["erythemal_j_m2"];
    EXPECT_GT(erythemal, 0);
    EXPECT_LT(erythemal, 0.025 * most * 16 * 3600);
    EXPECT_GT(open["dose"]["d3_j_m2"],
              erythemal);  // in sunlight there is more of it (tuv_clear_sky_checks.csv)
    // Behind glass the band is met by UVA, and hardly any vitamin D3 comes of it.
    auto behind = pen("float_glass", "float_glass");
    behind.replace(behind.find(R"("zone": [3])"), 11, R"("band": [0.2, 2])");
    const auto glazed = dose(behind, {});
    ASSERT_GE(glazed["windows"].size(), 1U);
    EXPECT_LT(glazed["dose"]["d3_j_m2"], 0.2 * glazed["dose"]["erythemal_j_m2"].get<double>());
}

TEST(Sun, plans_sun_and_shadow_over_the_floor) {
    const auto answer =
        dapple({"sun", "--shade", "-", "--date", "2026-06-21", "--plan", "--json"}, pen()).json();
    const auto& plan = answer["plan"];
    const std::size_t columns = plan["counts"][0], rows = plan["counts"][1], times = plan["times"].size();
    EXPECT_EQ(plan["counts"][2], 1);
    EXPECT_NEAR(plan["min_cm"][2], 8, 1e-9);  // the tortoise's back
    EXPECT_GT(times, 90U);
    EXPECT_LE(columns * rows, 900U);
    for (const char* each : {"uvi", "sun_share", "share_in_sun", "share_in_band"})
        ASSERT_EQ(plan[each].size(), times) << each;
    const auto noon = static_cast<std::size_t>(
        std::find(plan["times"].begin(), plan["times"].end(), "2026-06-21T13:00:00+02:00") -
        plan["times"].begin());
    ASSERT_LT(noon, times);
    // By hand: the sun stands 65.2 degrees high, a little west of south; the board 22 to 24 cm above covers the left 60 cm and
    // throws its shadow 10 cm to the north, so the middle row is dark there and bright beyond, like the spots.
    const auto at = [&](const char* what, double x_cm, double y_cm) {
        const auto column =
            static_cast<std::size_t>(std::lround(x_cm / 200 * static_cast<double>(columns - 1)));
        const auto row = static_cast<std::size_t>(std::lround(y_cm / 100 * static_cast<double>(rows - 1)));
        return plan[what][noon][row * columns + column].get<double>();
    };
    EXPECT_EQ(at("sun_share", 30, 50), 0);
    EXPECT_NEAR(at("sun_share", 140, 50), 1, 1e-3);
    EXPECT_LT(at("uvi", 30, 50), 0.7 * at("uvi", 140, 50));
    EXPECT_NEAR(at("uvi", 140, 50), answer["shade"]["spots"][0]["uvi"][78], 0.05);
    EXPECT_NEAR(at("sun_share", 30, 0), 1, 1e-3);  // in front of the shadow
    EXPECT_NEAR(plan["share_in_sun"][noon].get<double>(), 1 - 0.3 * 0.9, 0.06);
    expect_refused(dapple(sun({"--plan", "--json"})), {"--plan", "--shade"});
    expect_refused(dapple({"sun", "--shade", "-", "--plan"}, pen()), {"--plan", "--json"});
}

TEST(Sun, under_glass_says_what_its_uv_index_is_not) {
    const auto answer =
        dapple({"sun", "--shade", "-", "--date", "2026-06-21", "--json"}, pen("float_glass", "float_glass"))
            .json();
    const auto& spot = answer["shade"]["spots"][0];
    EXPECT_LT(spot["d3_share"], 0.02);
    EXPECT_GT(spot["uvi_share"], 0.05);
    const std::string cautions = answer["cautions"].dump();
    EXPECT_NE(cautions.find("closed box in the sun overheats"), std::string::npos) << cautions;
    EXPECT_NE(cautions.find("no measure of vitamin D"), std::string::npos) << cautions;
}

TEST(Sun, warns_first_of_boxes_that_overheat) {
    const auto first = [](const std::string& document) {
        return dapple({"sun", "--shade", "-", "--date", "2026-06-21", "--json"}, document)
            .json()["cautions"][0]
            .get<std::string>();
    };
    EXPECT_EQ(first(pen("wood", "wood")).rfind("This enclosure has closed or glazed sides", 0), 0U);
    EXPECT_EQ(first(pen("wood", "open")).rfind("Never put an animal", 0), 0U);  // an open table
}

TEST(Sun, refuses_what_it_cannot_use_by_name) {
    expect_refused(dapple({"sun"}), {"--lat: found nothing", "--lon: found nothing", "required"});
    expect_refused(dapple({"sun", "--lat", "91", "--lon", "181"}),
                   {"--lat", "\"91\"", "-90 to 90", "\"181\""});
    struct Case {
        Words words;
        Words says;
    };
    for (const Case& c :
         {Case{{"--date", "2026-02-30"}, {"--date", "2026-02-30", "YYYY-MM-DD"}},
          Case{{"--date", "today"}, {"--date", "today"}}, Case{{"--date", "1850-01-01"}, {"1950 to 2050"}},
          Case{{"--elevation-m", "high"}, {"--elevation-m", "\"high\""}},
          Case{{"--ozone-du", "5"}, {"--ozone-du", "50 to 700"}},
          Case{{"--cloud", "80"}, {"--cloud", "0 to 1"}}, Case{{"--albedo", "-1"}, {"--albedo", "0 to 1"}},
          Case{{"--albedo", "nan"}, {"--albedo", "nan"}},
          Case{{"--time-zone", "Europe/Viena"}, {"--time-zone", "Europe/Vienna"}},
          Case{{"--species", "qqqq zzzz"}, {"--species", "qqqq zzzz"}},
          Case{{"--shade", "/nowhere/pen.json"}, {"/nowhere/pen.json"}},
          Case{{"--forecast", "/nowhere/f.csv"}, {"/nowhere/f.csv", "forecast"}}}) {
        Words words = {"sun", "--lat", "48.2", "--lon", "16.4"};
        words.insert(words.end(), c.words.begin(), c.words.end());
        expect_refused(dapple(words), c.says);
    }
    expect_refused(dapple(sun({"--forecast", "-"}), "time,uvi\nnoon,3\n"),
                   {"standard input at line 2", "noon"});
    std::string wrong = pen();
    wrong.replace(wrong.find("Europe/Vienna"), 13, "Europe/Wien!!");
    expect_refused(dapple({"sun", "--shade", "-"}, wrong), {"/outdoors/time_zone", "Europe/Wien!!"});
}

}  // namespace dapple::tests
