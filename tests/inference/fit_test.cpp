#include "inference/fit.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "inference/fit_keepers.h"

namespace dapple::tests {

using inference::Fit;
using inference::Reading;

namespace {

scene::Enclosure room(const std::string& more) {
    const auto parsed = scene::parse_enclosure(R"({
      "format": "dapple/enclosure@1", "id": "room", "size_cm": [80, 50, 60],
      "lamps": [{"id": "left", "name": "Left tube", "kind": "tube", "length_cm": 20, "diameter_cm": 1.6,
                 "centre_cm": [20, 25, 55], "along": [1, 0, 0], "aim": [0, 0, -1],
                 "spectrum": "fluorescent_uvb_strong", "output": {"uvi": 5, "at_cm": 30}},
                {"id": "right", "name": "Right tube", "kind": "tube", "length_cm": 20, "diameter_cm": 1.6,
                 "centre_cm": [60, 25, 55], "along": [1, 0, 0], "aim": [0, 0, -1],
                 "spectrum": "fluorescent_uvb_strong", "output": {"uvi": 5, "at_cm": 30}}],
      "spots": [{"id": "bask", "name": "Stone", "position_cm": [20, 25, 20], "height_cm": 4, "role": "bask"}])" +
                                               more + "}");
    if (!parsed) throw std::logic_error(to_text(parsed.error()));
    return *parsed;
}

inference::FitOptions direct() {
    inference::FitOptions options;
    options.field.bounces = 0;
    return options;
}

Reading at(const scene::Enclosure& enclosure, const scene::Vec3& point, double factor) {
    Reading reading;
    reading.where = "line 2";
    reading.point = point;
    reading.quantity = spectrum::Quantity::uvi;
    reading.value = factor * light::Field(enclosure, {0}).at(point).measure(spectrum::Quantity::uvi);
    reading.values = {reading.value};
    return reading;
}

const inference::Factor& factor_of(const Fit& fit, const std::string& id) {
    for (const inference::Factor& factor : fit.factors) {
        if (factor.unknown.of == id) return factor;
    }
    throw std::logic_error("no factor " + id);
}

bool any_says(const std::vector<std::string>& sentences, const std::string& words) {
    for (const std::string& sentence : sentences) {
        if (sentence.find(words) != std::string::npos) return true;
    }
    return false;
}

}  // namespace

TEST(Fit, without_readings_is_what_is_known_beforehand) {
    const Fit fit = inference::fit(room(""), {}, direct());
    const auto& lamp = factor_of(fit, "left");
    EXPECT_EQ(lamp.value, 1);
    EXPECT_NEAR(lamp.interval.second, std::exp(1.6449 * 0.25), 1e-4);  // the prior's own 90 %
    EXPECT_TRUE(any_says(fit.cannot_tell, "Left tube"));
}

TEST(Fit, of_readings_that_agree_with_the_document_leaves_it_as_it_is) {
    const auto enclosure = room("");
    const Fit fit = inference::fit(
        enclosure, {at(enclosure, {0.2, 0.25, 0.2}, 1), at(enclosure, {0.6, 0.25, 0.2}, 1)}, direct());
    EXPECT_NEAR(factor_of(fit, "left").value, 1, 1e-3);
    EXPECT_NEAR(factor_of(fit, "right").value, 1, 1e-3);
    EXPECT_TRUE(fit.set_aside.empty());
}

TEST(Fit, gives_the_weak_lamp_the_blame_and_not_its_neighbour) {
    auto aged = room("");
    aged.lamps[0].output[0].value *= 0.7;
    std::vector<Reading> readings;
    for (const double x : {0.12, 0.2, 0.28, 0.52, 0.6, 0.68}) readings.push_back(at(aged, {x, 0.25, 0.2}, 1));
    const Fit fit = inference::fit(room(""), readings, direct());
    // Six exact readings against priors of 0.25: the priors and the meter's own factor pull a few per cent.
    EXPECT_NEAR(factor_of(fit, "left").value, 0.7, 0.05);
    EXPECT_NEAR(factor_of(fit, "right").value, 1, 0.05);
    EXPECT_TRUE(fit.set_aside.empty());
}

TEST(Fit, narrows_with_every_reading) {
    const auto enclosure = room("");
    double before = 1e9;
    std::vector<Reading> readings;
    for (const double x : {0.15, 0.2, 0.25, 0.3}) {
        readings.push_back(at(enclosure, {x, 0.25, 0.2}, 1));
        const Fit fit = inference::fit(enclosure, readings, direct());
        const auto [low, high] = factor_of(fit, "left").interval;
        EXPECT_LT(high / low, before);
        before = high / low;
    }
}

TEST(Fit, sets_the_covered_meter_aside_and_says_what_may_have_happened) {
    const auto enclosure = room("");
    std::vector<Reading> readings;
    for (const double x : {0.12, 0.2, 0.28, 0.52, 0.6}) readings.push_back(at(enclosure, {x, 0.25, 0.2}, 1));
    readings[1].value *= 0.25;
    const Fit fit = inference::fit(enclosure, readings, direct());
    ASSERT_EQ(fit.set_aside.size(), 1U);
    EXPECT_EQ(fit.set_aside[0].index, 1U);
    EXPECT_NE(fit.set_aside[0].why.find("in the way"), std::string::npos) << fit.set_aside[0].why;
    EXPECT_NEAR(factor_of(fit, "left").value, 1, 0.02);
}

TEST(Fit, names_the_wrong_unit_the_wrong_height_and_the_lamp_that_was_off) {
    const auto enclosure = room("");
    const std::vector<Reading> good = {
        at(enclosure, {0.12, 0.25, 0.2}, 1), at(enclosure, {0.28, 0.25, 0.2}, 1),
        at(enclosure, {0.52, 0.25, 0.2}, 1), at(enclosure, {0.6, 0.25, 0.2}, 1)};
    const auto why = [&](const Reading& odd) {
        std::vector<Reading> all = good;
        all.push_back(odd);
        const Fit fit = inference::fit(enclosure, all, direct());
        return fit.set_aside.size() == 1 && fit.set_aside[0].index == 4 ? fit.set_aside[0].why
                                                                        : "not set aside";
    };
    EXPECT_NE(why(at(enclosure, {0.2, 0.25, 0.2}, 25)).find("mW/m2"), std::string::npos);

    Reading lifted = at(enclosure, {0.2, 0.25, 0.35}, 1);
    lifted.point.z() = 0.2;
    EXPECT_NE(why(lifted).find("15 cm higher"), std::string::npos) << why(lifted);

    auto dark = enclosure;
    dark.lamps[0].output[0].value = 1e-9;
    EXPECT_NE(why(at(dark, {0.2, 0.25, 0.2}, 1)).find("Left tube was off"), std::string::npos);
}

TEST(Fit, says_that_a_lamp_and_the_mesh_under_it_cannot_be_told_apart) {
    const auto enclosure = room(R"(, "screens": [{"id": "lid", "name": "Lid", "min_cm": [0, 0, 50],
        "max_cm": [80, 50, 50], "transmittance": 0.7}])");
    std::vector<Reading> readings;
    for (int i = 0; i < 12; ++i) readings.push_back(at(enclosure, {0.1 + 0.05 * i, 0.25, 0.2}, 1));
    const Fit fit = inference::fit(enclosure, readings, direct());
    EXPECT_TRUE(any_says(fit.cannot_tell, "Left tube")) << nlohmann::json(fit.cannot_tell).dump();
    EXPECT_TRUE(any_says(fit.cannot_tell, "Lid"));
}

TEST(Fit, of_readings_that_are_all_spoiled_says_so_instead_of_pretending) {
    const auto enclosure = room("");
    std::vector<Reading> readings;
    for (const double x : {0.12, 0.2, 0.28, 0.52}) readings.push_back(at(enclosure, {x, 0.25, 0.2}, 25));
    const Fit fit = inference::fit(enclosure, readings, direct());
    EXPECT_EQ(fit.set_aside.size(), 4U);
    EXPECT_TRUE(any_says(fit.doubts, "4 of 4 readings were set aside"));
    EXPECT_NEAR(factor_of(fit, "left").value, 1, 1e-3);
}

TEST(Fit, leaves_temperatures_to_those_they_concern_and_says_so) {
    const auto enclosure = room("");
    Reading warm = at(enclosure, {0.2, 0.25, 0.2}, 1);
    warm.quantity.reset();
    const Fit fit = inference::fit(enclosure, {warm}, direct());
    EXPECT_EQ(fit.unused.size(), 1U);
}

TEST(Fit, keeps_light_and_uv_of_a_lamp_apart) {
    const auto enclosure = room("");
    Reading lux = at(enclosure, {0.2, 0.25, 0.2}, 1);
    lux.quantity = spectrum::Quantity::lux;
    lux.value = 1.3 * light::Field(enclosure, {0}).at(lux.point).measure(spectrum::Quantity::lux);
    lux.values = {lux.value};
    const Fit fit = inference::fit(enclosure, {lux}, direct());
    // Brighter by 30 %: some of it is the lamp's output, some the share of visible light in it.
    EXPECT_GT(factor_of(fit, "left").value, 1.05);
    EXPECT_LT(factor_of(fit, "left").value, 1.25);
}

TEST(Fit, keeps_its_promises_to_simulated_keepers) {
    Keepers keepers(20261125);
    Tally tally;
    for (int i = 0; i < 60; ++i) {
        const Keeper keeper = keepers.next(5);
        add_to(tally, keeper, inference::fit(keeper.document, keeper.readings, direct()), keepers.field());
    }
    // About 600 places in 60 enclosures; those of one enclosure err together, so the share scatters by some 3 %.
    // The full study, with the promise of 87 to 93 %, is bench_keepers.
    EXPECT_GT(tally.coverage(), 0.82);
    EXPECT_LT(tally.coverage(), 0.98);
    EXPECT_LT(Tally::median(tally.fitted_error), 0.5 * Tally::median(tally.unfitted_error));
    EXPECT_GE(tally.spoiled, 15);
    EXPECT_GE(tally.recall(), 0.8);
    EXPECT_GE(tally.precision(), 0.8);
}

TEST(Response, predicts_what_the_field_says_when_the_unknowns_are_changed_in_the_document) {
    const auto enclosure = room(R"(, "screens": [{"id": "lid", "min_cm": [0, 0, 50], "max_cm": [40, 50, 50],
        "transmittance": 0.7}], "furniture": [{"id": "fern", "shape": "foliage", "min_cm": [40, 0, 10],
        "max_cm": [80, 50, 30], "leaf_area_density": 3}])");
    const Fit fit = inference::fit(enclosure, {}, direct());
    auto changed = enclosure;
    changed.lamps[0].output[0].value *= 1.2;
    changed.screens[0].transmittance = 0.7 * 1.1;
    changed.foliage[0].leaf_area_density *= 1.3;
    const Eigen::VectorXd unknowns = Eigen::Vector4d(std::log(1.2), 0, std::log(1.1), std::log(1.3));
    ASSERT_EQ(fit.mean.size(), 4);
    const std::vector<scene::Vec3> places = {{0.2, 0.2, 0.1}, {0.4, 0.25, 0.05}, {0.7, 0.3, 0.02}};
    const auto response = fit.response->at(places, spectrum::Quantity::uvi, {}, true);
    const light::Field truth(changed, {0});
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double light = truth.at(places[i]).measure(spectrum::Quantity::uvi);
        // The aim is that of the document, and the leaves' bend a parabola: together within 2 %.
        EXPECT_NEAR(fit.response->value(response, i, unknowns.data()) / light, 1, 0.02);
    }
    const std::vector<double> together = fit.response->values(response, unknowns.data());
    ASSERT_EQ(together.size(), places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double alone = fit.response->value(response, i, unknowns.data());
        EXPECT_NEAR(together[i], alone, 1e-12 * alone);
    }
}

TEST(Response, has_the_slopes_of_its_values) {
    const auto enclosure = room(R"(, "screens": [{"id": "lid", "min_cm": [0, 0, 50], "max_cm": [40, 50, 50],
        "transmittance": 0.7}], "furniture": [{"id": "fern", "shape": "foliage", "min_cm": [40, 0, 10],
        "max_cm": [80, 50, 30], "leaf_area_density": 3}])");
    const Fit fit = inference::fit(enclosure, {}, direct());
    const std::vector<scene::Vec3> places = {{0.55, 0.25, 0.05}};
    const auto response = fit.response->at(places, spectrum::Quantity::uvi, {}, true);
    Eigen::VectorXd at = Eigen::Vector4d(0.1, -0.2, 0.05, 0.3);
    Eigen::VectorXd slopes;
    fit.response->value(response, 0, at.data(), {}, &slopes);
    constexpr double step = 1e-6;
    for (Eigen::Index i = 0; i < at.size(); ++i) {
        Eigen::VectorXd up = at;
        up[i] += step;
        const double difference =
            (fit.response->value(response, 0, up.data()) - fit.response->value(response, 0, at.data())) /
            step;
        EXPECT_NEAR(slopes[i], difference, 1e-4);  // of forward differences, second derivatives being near 1
    }
}

}  // namespace dapple::tests
