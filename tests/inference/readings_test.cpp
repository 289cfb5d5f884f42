#include "inference/readings.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include "scene/document.h"

namespace dapple::tests {

using inference::parse_readings;
using inference::Readings;
using spectrum::Quantity;

namespace {

const scene::Enclosure& pen() {
    static const scene::Enclosure enclosure = *scene::parse_enclosure(R"({
      "format": "dapple/enclosure@1", "id": "pen", "name": "Test pen", "size_cm": [60, 40, 50],
      "animals": [{"species": "crotaphytus_collaris", "back_height_cm": 4}],
      "spots": [{"id": "bask", "name": "Flat stone", "position_cm": [30, 20, 10], "role": "bask"},
                {"id": "cool", "name": "Corner", "position_cm": [55, 5, 0], "role": "retreat"}]
    })");
    return enclosure;
}

Expected<Readings> read(const std::string& text) {
    return parse_readings(text, pen(), {"book.csv", "2026-04-01"});
}

Readings taken(const std::string& text) {
    const auto readings = read(text);
    EXPECT_TRUE(readings) << to_text(readings ? Problems{} : readings.error());
    return readings ? *readings : Readings{};
}

void expect_refused(const std::string& text, const std::vector<std::string>& words) {
    const auto readings = read(text);
    ASSERT_FALSE(readings) << text;
    const std::string all = to_text(readings.error());
    for (const std::string& word : words)
        EXPECT_NE(all.find(word), std::string::npos) << word << " in " << all;
}

}  // namespace

TEST(Readings, are_read_at_the_height_of_the_animals_back) {
    const Readings r = taken("date,enclosure,spot,quantity,value\n2026-03-01,pen,bask,uvi,3.1\n");
    ASSERT_EQ(r.sets.size(), 1U);
    EXPECT_EQ(r.sets[0].spot, "bask");
    EXPECT_NEAR(r.sets[0].point.z(), 0.14, 1e-12);
    EXPECT_EQ(r.sets[0].quantity, Quantity::uvi);
    EXPECT_EQ(r.sets[0].value, 3.1);
    EXPECT_TRUE(r.left_out.empty());
}

TEST(Readings, with_their_own_height_are_read_there) {
    const Readings r = taken("spot,height_in,uvi\nbask,2,3.1\n");
    EXPECT_NEAR(r.sets.at(0).point.z(), 0.10 + 2 * 0.0254, 1e-12);
}

TEST(Readings, take_inches_by_the_name_of_the_column_and_leave_points_as_they_are) {
    const Readings r = taken("X (in), Y (in), Z (in), Value\n10,5,4,2.5\n");
    EXPECT_TRUE(r.sets.at(0).point.isApprox(scene::Vec3(0.254, 0.127, 0.1016)));
}

TEST(Readings, from_a_spreadsheet_with_semicolons_and_decimal_commas_are_understood) {
    const Readings r = taken(
        "\xEF\xBB\xBF"
        "Date;Spot;UVI;Note\r\n2026-03-01 09:30;Flat Stone;3,1;\"calm; clear\"\r\n\r\n");
    ASSERT_EQ(r.sets.size(), 1U);
    EXPECT_EQ(r.sets[0].value, 3.1);
    EXPECT_EQ(r.sets[0].date, "2026-03-01T09:30");
    EXPECT_EQ(r.sets[0].note, "calm; clear");
}

TEST(Readings, of_one_place_and_time_become_one_robust_value) {
    const Readings r = taken(
        "date,spot,uvi\n2026-03-01,bask,3.0\n2026-03-01,bask,3.2\n2026-03-01,bask,0.4\n"
        "2026-03-01,bask,3.1\n2026-03-02,bask,2.0\n");
    ASSERT_EQ(r.sets.size(), 2U);
    EXPECT_EQ(r.sets[0].values.size(), 4U);
    EXPECT_NEAR(r.sets[0].value, 3.05, 1e-12);
    EXPECT_GT(r.sets[0].scatter, 0);
    EXPECT_EQ(r.sets[0].where, "line 2, line 3, line 4, line 5");
}

TEST(Readings, of_several_quantities_share_a_line) {
    const Readings r =
        taken("spot\tuvi\tlux\tUVB \u00b5W/cm\u00b2\ttemperature_f\nbask\t3.1\t12000\t45\t95\n");
    ASSERT_EQ(r.sets.size(), 4U);
    EXPECT_EQ(r.sets[1].quantity, Quantity::lux);
    EXPECT_EQ(r.sets[2].quantity, Quantity::uvb);
    EXPECT_NEAR(r.sets[2].value, 0.45, 1e-12);  // 1 uW/cm2 = 0.01 W/m2
    EXPECT_FALSE(r.sets[3].quantity);
    EXPECT_NEAR(r.sets[3].value, 35, 1e-9);
}

TEST(Readings, in_json_say_the_same_as_in_a_table) {
    const Readings r =
        taken(R"({"readings": [{"date": "2026-03-01", "spot": "bask", "value": [3.0, 3.2, 3.1]},
                                              {"x_cm": 5, "y_cm": 5, "z_cm": 5, "quantity": "lux", "value": 900}]})");
    ASSERT_EQ(r.sets.size(), 2U);
    EXPECT_EQ(r.sets[0].value, 3.1);
    EXPECT_EQ(r.sets[1].quantity, Quantity::lux);
}

TEST(Readings, that_cannot_serve_are_named_and_not_dropped_silently) {
    const Readings r = taken(
        "date,enclosure,spot,uvi,weather\n2026-03-01,pen,bask,3.1,fog\n"
        "2026-03-01,pen,bask,3.1,fog\n2026-03-01,other,bask,2,fog\n");
    EXPECT_EQ(r.sets.size(), 1U);
    const std::string said = to_text(r.left_out);
    for (const char* word : {"weather", "line 3", "line 2", "line 4", "other"}) {
        EXPECT_NE(said.find(word), std::string::npos) << word << " in " << said;
    }
}

TEST(Readings, that_are_wrong_are_refused_with_the_line_and_what_would_do) {
    struct Bad {
        const char* text;
        std::vector<std::string> words;
    };
    const std::vector<Bad> table = {
        {"", {"book.csv", "nothing"}},
        {" \r\n\n", {"nothing"}},
        {"date,spot,uvi\n", {"no reading"}},
        {"spot,uvi\nflat stoen,3\n", {"line 2", "flat stoen", "Flat stone"}},
        {"spot,uvi\nbask,-1\n", {"line 2", "-1", "negative"}},
        {"spot,uvi\nbask,high\n", {"line 2", "high", "number"}},
        {"spot,uvi\nbask,nan\n", {"line 2", "nan"}},
        {"spot,uvi\nbask,\n", {"line 2", "no value"}},
        {"spot,uvi\n,3\n", {"line 2", "no place"}},
        {"spot,lux\nbask,\"12,000\"\n", {"12,000", "3125"}},
        {"spot,uvi\nbask,3,1\n", {"line 2", "decimal comma"}},
        {"spot,uvi\nbask,12000\n", {"line 2", "12000", "lux"}},
        {"spot,uvi\nbask,3.1 lux\n", {"line 2", "3.1 lux", "unit"}},
        {"spot,quantity,unit,value\nbask,uvi,lux,3\n", {"line 2", "uvi", "lux"}},
        {"spot,quantity,value\nbask,uvb,3\n", {"line 2", "uvb_w_m2", "uvb_uw_cm2"}},
        {"spot,quantity,value\nbask,loudness,3\n", {"line 2", "loudness", "uvi"}},
        {"spot,uvb\nbask,3\n", {"uvb_w_m2"}},
        {"date,spot,uvi\n2027-01-01,bask,3\n", {"line 2", "future", "2026-04-01"}},
        {"date,spot,uvi\n2026-02-30,bask,3\n", {"line 2", "2026-02-30", "YYYY-MM-DD"}},
        {"date,spot,uvi\n1/3/26,bask,3\n", {"line 2", "YYYY-MM-DD"}},
        {"x,y,z,uvi\n1,1,1,3\n", {"x_cm", "x_in"}},
        {"x_cm,y_cm,uvi\n1,1,3\n", {"x, y and z"}},
        {"x_cm,y_cm,z_cm,uvi\n90,1,1,3\n", {"line 2", "outside the box", "0 to 60"}},
        {"spot,facing,uvi\nbask,sideways,3\n", {"line 2", "sideways", "aimed"}},
        {"spot,valeu\nbask,3\n", {"valeu", "value"}},
        {"spot,uvi,uvi\nbask,3,3\n", {"two columns"}},
        {"spot,uvi\n\"bask,3\n", {"line 2", "never closed"}},
        {"spot,enclosure,uvi\nbask,shed,3\n", {"none of enclosure", "pen"}},
        {"[3]", {"/0", "object"}},
        {"{\"a\": 1}", {"array of readings"}},
        {"[{\"spot\": \"bask\", \"value\": {}}]", {"/0/value"}},
        {"[{\"spot\":", {"book.csv"}},
    };
    for (const Bad& bad : table) expect_refused(bad.text, bad.words);
}

TEST(Readings, name_every_fault_of_a_file_at_once) {
    expect_refused("date,spot,uvi\n2027-01-01,nowhere,3\n2026-03-01,bask,-2\n", {"future", "nowhere", "-2"});
}

RC_GTEST_PROP(Readings, of_any_bytes_are_readings_or_a_list_of_faults, (const std::string& bytes)) {
    for (const std::string& text :
         {bytes, "spot,uvi,note\nbask,3,\"" + bytes, "spot;value\n" + bytes, "[" + bytes}) {
        const auto readings = read(text);
        const bool has_answer = readings ? !readings->sets.empty() : !readings.error().empty();
        RC_ASSERT(has_answer);
    }
}

}  // namespace dapple::tests
