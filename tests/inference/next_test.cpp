#include "inference/next.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "inference/next_keepers.h"
#include "inference/next_question.h"
#include "light/field.h"
#include "scene/document.h"

namespace dapple::tests {

using inference::Probe;
using inference::Question;

namespace {

Eigen::VectorXd one(double x) {
    return Eigen::VectorXd::Constant(1, x);
}
Eigen::MatrixXd variance(double v) {
    return Eigen::MatrixXd::Constant(1, 1, v);
}

// Two tubes, each over its own half; the animal basks under the left one, whose light is at the band's edge.
scene::Enclosure two_halves(const std::string& animals) {
    const auto parsed = scene::parse_enclosure(fmt::format(R"({{
      "format": "dapple/enclosure@1", "id": "pen", "size_cm": [120, 40, 50], "animals": [{}],
      "lamps": [{{"id": "left", "kind": "tube", "length_cm": 30, "diameter_cm": 1.6, "centre_cm": [25, 20, 46],
                 "spread": {{"forward_power": 4}}, "along": [0, 1, 0], "aim": [0, 0, -1],
                 "spectrum": "fluorescent_uvb_strong", "output": {{"uvi": 4, "at_cm": 30}}}},
                {{"id": "right", "kind": "tube", "length_cm": 30, "diameter_cm": 1.6, "centre_cm": [95, 20, 46],
                 "spread": {{"forward_power": 4}}, "along": [0, 1, 0], "aim": [0, 0, -1],
                 "spectrum": "fluorescent_uvb_strong", "output": {{"uvi": 2, "at_cm": 30}}}}],
      "furniture": [{{"id": "wall", "shape": "box", "min_cm": [58, 0, 0], "max_cm": [62, 40, 50], "material": "slate"}}],
      "spots": [{{"id": "bask", "name": "Stone", "position_cm": [25, 20, 8], "height_cm": 4, "role": "bask"}},
                {{"id": "far", "name": "Far end", "position_cm": [95, 20, 8], "height_cm": 4}}]}})",
                                                           animals));
    if (!parsed) throw std::logic_error(to_text(parsed.error()));
    return *parsed;
}

const char* const lizard =
    R"({"species": "crotaphytus_collaris", "back_height_cm": 4, "band": [3.4, 9], "climbs": false})";

inference::FitOptions direct() {
    inference::FitOptions options;
    options.field.bounces = 0;
    return options;
}

inference::Reading reading_at(const scene::Vec3& point, double uvi) {
    inference::Reading reading;
    reading.point = point;
    reading.quantity = spectrum::Quantity::uvi;
    reading.value = uvi;
    reading.values = {uvi};
    return reading;
}

std::vector<inference::NextReading> next_of(const inference::Fit& fit) {
    const auto next = inference::next_readings(fit);
    if (!next) throw std::logic_error(to_text(next.error()));
    return *next;
}

}  // namespace

TEST(Question, that_is_wide_open_is_worth_one_bit_and_a_perfect_reading_settles_it) {
    const Question question{"whether", 0, one(1), 0, 1e9};
    EXPECT_NEAR(inference::entropy(question, 0, 0.04), 1, 1e-12);
    EXPECT_NEAR(inference::probability(question, variance(0.04)), 0.5, 1e-12);
    // Cut into 41 steps, the step at the limit itself stays open: 1 - its weight of 0.08.
    EXPECT_GT(inference::gain(question, Probe{one(1), 0, 1}, variance(0.04)), 0.9);
    EXPECT_NEAR(inference::gain(question, Probe{one(1), 1e9, 1}, variance(0.04)), 0, 1e-6);
    EXPECT_NEAR(inference::gain(question, Probe{one(0), 0.01, 1}, variance(0.04)), 0, 1e-6);
}

TEST(Question, without_limits_is_worth_how_much_narrower_the_light_becomes) {
    const Question question{"what", 0, one(1), 0, 0};
    // Noise as large as the doubt halves the variance: half a bit.
    EXPECT_NEAR(inference::gain(question, Probe{one(1), 0.04, 1}, variance(0.04)), 0.5, 1e-12);
}

TEST(NextReading, is_under_the_lamp_that_is_in_doubt) {
    const auto next = next_of(inference::fit(two_halves(lizard), {}, direct()));
    ASSERT_FALSE(next.empty());
    EXPECT_LT(next.front().point.x(), 0.58);
    EXPECT_GT(next.front().gain, 0.2);
    EXPECT_NE(next.front().settles.find("Stone"), std::string::npos) << next.front().settles;
    for (std::size_t i = 1; i < next.size(); ++i) EXPECT_LE(next[i].gain, next[i - 1].gain);
}

TEST(NextReading, turns_to_the_other_half_once_this_one_was_measured) {
    const auto enclosure = two_halves(lizard);
    const inference::Fit fit = inference::fit(
        enclosure, std::vector<inference::Reading>(4, reading_at({0.25, 0.2, 0.12}, 6.5)), direct());
    // The stone is known to lie well inside the band; whether the far half is dark enough no reading here could tell.
    const auto next = next_of(fit);
    EXPECT_GT(next.front().point.x(), 0.62);
    EXPECT_NE(next.front().settles.find("retreat"), std::string::npos) << next.front().settles;
    for (const inference::NextReading& one : next) EXPECT_EQ(one.settles.find("Stone"), std::string::npos);
}

TEST(NextReading, is_not_needed_once_both_halves_are_known) {
    const auto enclosure = two_halves(lizard);
    std::vector<inference::Reading> readings(4, reading_at({0.25, 0.2, 0.12}, 6.0));
    readings.insert(readings.end(), 4, reading_at({0.95, 0.2, 0.12}, 3.0));
    const auto outlook = inference::outlook(inference::fit(enclosure, readings, direct()));
    ASSERT_TRUE(outlook);
    EXPECT_LT(outlook->doubt, 0.05);
    EXPECT_NE(inference::to_text(next_of(inference::fit(enclosure, readings, direct()))).find("settled"),
              std::string::npos);
}

TEST(NextReading, at_the_same_place_tells_less_each_time_where_the_question_is_how_much) {
    const auto enclosure = two_halves("");
    std::vector<inference::Reading> readings;
    double before = 1e9;
    for (int i = 0; i < 4; ++i) {
        const auto outlook = inference::outlook(inference::fit(enclosure, readings, direct()));
        ASSERT_TRUE(outlook);
        ASSERT_EQ(outlook->places.at(0).spot, "bask");
        EXPECT_LT(outlook->places[0].gain, before);
        before = outlook->places[0].gain;
        const double expected =
            light::Field(enclosure, {0}).at({0.25, 0.2, 0.12}).measure(spectrum::Quantity::uvi);
        readings.push_back(reading_at({0.25, 0.2, 0.12}, expected));
    }
}

TEST(NextReading, makes_simulated_keepers_certain_sooner_than_a_random_choice) {
    constexpr std::size_t readings = 3;
    Saving saving(readings);
    std::mt19937_64 random(7);
    for (std::uint64_t i = 0; i < 60; ++i) {
        Keepers keepers(100 + i);
        saving.add(keepers, keepers.next(0), random);
    }
    // How many readings it saves (0.56 of those of a random choice) takes the 400 enclosures of bench_keepers to say;
    // the mean doubt of 60 scatters by more than the first reading's advantage.
    EXPECT_LT(saving.as_certain_as(readings), readings);
}

TEST(NextReading, of_an_enclosure_with_neither_animal_nor_spot_is_refused) {
    auto empty = two_halves("");
    empty.spots.clear();
    const auto next = inference::next_readings(inference::fit(empty, {}, direct()));
    ASSERT_FALSE(next);
    EXPECT_NE(to_text(next.error()).find("neither an animal nor a spot"), std::string::npos);
}

TEST(NextReading, where_nobody_lives_tells_what_the_spots_read) {
    const auto next = next_of(inference::fit(two_halves(""), {}, direct()));
    ASSERT_EQ(next.size(), 2U);
    EXPECT_NE(next.front().settles.find("reads"), std::string::npos);
    const nlohmann::json json = inference::to_json(next);
    EXPECT_TRUE(json.at("next")[0].contains("spot"));
}

}  // namespace dapple::tests
