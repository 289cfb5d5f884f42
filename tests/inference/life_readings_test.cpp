// Tables of lamp-life readings: forgiving where the meaning is plain, refused with the place of the fault where not.
#include "inference/life_readings.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace dapple::inference {
namespace {

const LifeReadingOptions options = {"life.csv", day_of("2026-06-01")};

std::vector<LifeReading> read(const std::string& text) {
    const auto readings = parse_life_readings(text, options);
    EXPECT_TRUE(readings) << (readings ? "" : to_text(readings.error()));
    return readings ? *readings : std::vector<LifeReading>{};
}

void expect_refused(const std::string& text, const std::vector<std::string>& words) {
    const auto readings = parse_life_readings(text, options);
    ASSERT_FALSE(readings) << text;
    for (const std::string& word : words) {
        EXPECT_NE(to_text(readings.error()).find(word), std::string::npos) << to_text(readings.error());
    }
}

TEST(LifeReadings, are_read_with_dates_or_hours) {
    const auto readings =
        read("date,lamp,spot,value\n2026-03-01,uv,bask,4.1\n2026-04-01T10:30,uv,bask,3.9\n");
    ASSERT_EQ(readings.size(), 2U);
    EXPECT_EQ(readings[0].day, day_of("2026-03-01"));
    EXPECT_EQ(readings[1].day, day_of("2026-04-01"));
    EXPECT_EQ(readings[1].place, "line 3");
    EXPECT_DOUBLE_EQ(readings[1].value, 3.9);
    const auto by_hours = read("lamp,hours,value\nuv,250,4.1\n");
    ASSERT_EQ(by_hours.size(), 1U);
    EXPECT_EQ(by_hours[0].hours, 250);
    EXPECT_FALSE(by_hours[0].day);
}

TEST(LifeReadings, forgive_how_headers_and_numbers_are_written) {
    const auto readings = read("\xEF\xBB\xBF Date ;BULB; Place ;UVI\r\n2026-03-01;uv;bask;4,1\r\n\r\n");
    ASSERT_EQ(readings.size(), 1U);
    EXPECT_EQ(readings[0].lamp, "uv");
    EXPECT_EQ(readings[0].spot, "bask");
    EXPECT_DOUBLE_EQ(readings[0].value, 4.1);
    const auto lux = read(R"([{"date": "2026-03-01", "lamp": "heat", "lux": 21000}])");
    ASSERT_EQ(lux.size(), 1U);
    EXPECT_EQ(lux[0].quantity, spectrum::Quantity::lux);
}

TEST(LifeReadings, that_are_none_are_refused) {
    expect_refused("", {"life.csv", "nothing"});
    expect_refused("date,lamp,value\n", {"no reading"});
    expect_refused("date,value\n2026-01-01,4\n", {"no column lamp"});
    expect_refused("lamp,value\nuv,4\n", {"neither a column date nor hours"});
}

TEST(LifeReadings, with_faults_name_every_line) {
    expect_refused(
        "date,lamp,value\n2026-02-30,uv,4\n3/4/2026,uv,4\n2026-07-01,uv,4\n2026-03-01,,4\n2026-03-01,uv,x\n",
        {"line 2", "2026-02-30", "line 3", "3/4/2026", "line 4", "future date", "2026-06-01", "line 5",
         "no lamp", "line 6", "\"x\""});
    expect_refused("date,lamp,hours,value\n,uv,,4\n,uv,-3,4\n,uv,1e9,4\n", {"line 2", "line 3", "line 4"});
}

TEST(LifeReadings, that_contradict_their_unit_are_refused) {
    expect_refused("date,lamp,uvi\n2026-03-01,uv,21000\n", {"line 2", "quantity"});
    expect_refused("date,lamp,uvi\n2026-03-01,uv,4 lux\n", {"line 2", "4 lux"});
    expect_refused("date,lamp,quantity,uvi\n2026-03-01,uv,lux,4\n", {"line 2", "lux"});
    expect_refused("date,lamp,value\n2026-03-01,uv,-1\n", {"line 2", "-1"});
    expect_refused("date,lamp,lux\n2026-03-01,uv,0\n", {"line 2", "above zero"});
}

TEST(LifeReadings, name_the_nearest_header_for_a_mistyped_one) {
    expect_refused("date,lampe,value\n2026-03-01,uv,4\n", {"lampe", "\"lamp\", perhaps"});
    expect_refused("date,lamp,value,uvi\n2026-03-01,uv,4,4\n", {"\"value\" and \"uvi\""});
}

RC_GTEST_PROP(LifeReadings, are_read_or_refused_whatever_the_bytes, (const std::string& bytes)) {
    const auto readings = parse_life_readings("date,lamp,spot,value,hours\n" + bytes, options);
    RC_ASSERT((readings ? !readings->empty() : !readings.error().empty()));
    const auto bare = parse_life_readings(bytes, options);
    RC_ASSERT((bare ? !bare->empty() : !bare.error().empty()));
}

}  // namespace
}  // namespace dapple::inference
