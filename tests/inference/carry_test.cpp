// A fit carried over to a changed enclosure: what was learnt stays with the things it was learnt of.
#include "inference/carry.h"

#include <gtest/gtest.h>

#include <cmath>

#include "inference/fit_judge.h"
#include "scene/document.h"

namespace dapple::tests {

using inference::Fit;
using inference::Reading;
using scene::Vec3;

namespace {

constexpr const char* room = R"({
  "format": "dapple/enclosure@1", "id": "room", "size_cm": [80, 50, 60],
  "animals": [{"species": "crotaphytus_collaris", "back_height_cm": 4, "climbs": false, "band": [2.9, 7.4]}],
  "lamps": [{"id": "left", "name": "Left tube", "kind": "tube", "length_cm": 20, "diameter_cm": 1.6,
             "centre_cm": [20, 25, 55], "along": [1, 0, 0], "aim": [0, 0, -1],
             "spectrum": "fluorescent_uvb_strong", "output": {"uvi": 5, "at_cm": 30}},
            {"id": "right", "name": "Right tube", "kind": "tube", "length_cm": 20, "diameter_cm": 1.6,
             "centre_cm": [60, 25, 55], "along": [1, 0, 0], "aim": [0, 0, -1],
             "spectrum": "fluorescent_uvb_strong", "output": {"uvi": 5, "at_cm": 30}}],
  "screens": [{"id": "lid", "name": "Lid", "min_cm": [0, 0, 50], "max_cm": [80, 50, 50],
               "mesh": {"pitch_mm": 3, "wire_mm": 0.5}}],
  "furniture": [{"id": "stone", "shape": "box", "min_cm": [10, 15, 0], "max_cm": [30, 35, 10], "material": "slate",
                 "perch": true}],
  "spots": [{"id": "bask", "name": "Stone", "position_cm": [20, 25, 10], "role": "bask"}]})";

scene::Enclosure document() {
    const auto parsed = scene::parse_enclosure(room);
    if (!parsed) throw std::logic_error(to_text(parsed.error()));
    return *parsed;
}

inference::FitOptions direct() {
    inference::FitOptions options;
    options.field.bounces = 0;
    return options;
}

// Of an enclosure whose left tube gives 0.7 and whose right tube gives 1.2 of what its document says.
Fit fitted() {
    auto aged = document();
    aged.lamps[0].output[0].value *= 0.7;
    aged.lamps[1].output[0].value *= 1.2;
    const light::Field truth(aged, {0});
    std::vector<Reading> readings;
    for (const double x : {0.12, 0.2, 0.28, 0.52, 0.6, 0.68}) {
        Reading reading;
        reading.point = Vec3(x, 0.25, 0.2);
        reading.quantity = spectrum::Quantity::uvi;
        reading.value = truth.at(reading.point).measure(spectrum::Quantity::uvi);
        reading.values = {reading.value};
        readings.push_back(reading);
    }
    return inference::fit(document(), readings, direct());
}

std::size_t index_of(const Fit& fit, const std::string& id) {
    for (std::size_t i = 0; i < fit.unknowns.size(); ++i) {
        if (fit.unknowns[i].of == id) return i;
    }
    throw std::logic_error("no unknown " + id);
}

double correlation(const Fit& fit, const std::string& one, const std::string& other) {
    const auto i = static_cast<Eigen::Index>(index_of(fit, one));
    const auto j = static_cast<Eigen::Index>(index_of(fit, other));
    return fit.covariance(i, j) / std::sqrt(fit.covariance(i, i) * fit.covariance(j, j));
}

inference::Prediction at_bask(const Fit& fit) {
    const auto spots = inference::predict_spots(fit);
    if (!spots) throw std::logic_error(to_text(spots.error()));
    return spots->front().second;
}

}  // namespace

TEST(CarriedFit, to_the_same_enclosure_is_the_fit_itself) {
    const Fit fit = fitted();
    const Fit carried = inference::carry(fit, document(), {}, direct());
    ASSERT_EQ(carried.unknowns.size(), fit.unknowns.size());
    EXPECT_EQ(carried.mean, fit.mean);
    EXPECT_EQ(carried.covariance, fit.covariance);
    EXPECT_EQ(at_bask(carried).value, at_bask(fit).value);
    EXPECT_EQ(at_bask(carried).sd, at_bask(fit).sd);
    ASSERT_EQ(carried.factors.size(), fit.factors.size());
    EXPECT_NEAR(carried.factors[0].interval.second, fit.factors[0].interval.second, 1e-12);
    EXPECT_EQ(carried.cannot_tell, fit.cannot_tell);
}

TEST(CarriedFit, predicts_in_the_moved_lamps_light_what_the_aged_lamps_give_there) {
    auto moved = document();
    moved.lamps[0].centre.z() -= 0.1;  // 45 cm up: below the lid now
    auto aged = moved;
    aged.lamps[0].output[0].value *= 0.7;
    aged.lamps[1].output[0].value *= 1.2;
    const double truth = light::Field(aged, {0}).at(Vec3(0.2, 0.25, 0.14)).measure(spectrum::Quantity::uvi);
    const auto there = at_bask(inference::carry(fitted(), moved, {}, direct()));
    EXPECT_LT(there.interval().first, truth);
    EXPECT_GT(there.interval().second, truth);
    // The readings were taken through the lid, whose own doubt of 15 % they leave shared out between it and the lamps.
    EXPECT_NEAR(there.value / truth, 1, 0.15);
    const auto unfitted = at_bask(inference::fit(moved, {}, direct()));
    EXPECT_GT(unfitted.value / truth, 1.3);
}

TEST(CarriedFit, matches_things_by_their_ids_wherever_they_stand_in_the_document) {
    const Fit fit = fitted();
    auto swapped = document();
    std::swap(swapped.lamps[0], swapped.lamps[1]);
    const Fit carried = inference::carry(fit, swapped, {}, direct());
    for (const char* id : {"left", "right", "lid", "uvi"}) {
        EXPECT_EQ(carried.mean[static_cast<Eigen::Index>(index_of(carried, id))],
                  fit.mean[static_cast<Eigen::Index>(index_of(fit, id))])
            << id;
    }
    EXPECT_DOUBLE_EQ(correlation(carried, "left", "lid"), correlation(fit, "left", "lid"));
    EXPECT_NEAR(at_bask(carried).value, at_bask(fit).value, 1e-9);
    EXPECT_NEAR(at_bask(carried).sd, at_bask(fit).sd, 1e-9);
}

TEST(CarriedFit, leaves_out_what_is_gone_and_begins_what_is_new_from_its_prior) {
    const Fit fit = fitted();
    auto changed = document();
    changed.screens.clear();
    scene::Lamp third = changed.lamps[0];
    third.id = "third";
    changed.lamps.push_back(third);
    const Fit carried = inference::carry(fit, changed, {}, direct());
    EXPECT_THROW(index_of(carried, "lid"), std::logic_error);
    const auto i = static_cast<Eigen::Index>(index_of(carried, "third"));
    EXPECT_EQ(carried.mean[i], 0);
    EXPECT_DOUBLE_EQ(carried.covariance(i, i), 0.25 * 0.25);
    EXPECT_EQ(correlation(carried, "third", "left"), 0);
    EXPECT_DOUBLE_EQ(correlation(carried, "left", "right"), correlation(fit, "left", "right"));
}

TEST(CarriedFit, knows_nothing_of_a_lamp_that_was_exchanged_under_its_old_id) {
    const Fit carried = inference::carry(fitted(), document(), {"left"}, direct());
    const auto i = static_cast<Eigen::Index>(index_of(carried, "left"));
    EXPECT_EQ(carried.mean[i], 0);
    EXPECT_DOUBLE_EQ(carried.covariance(i, i), 0.25 * 0.25);
    EXPECT_EQ(correlation(carried, "left", "right"), 0);
}

TEST(CarriedFit, keeps_the_share_of_a_lamps_light_in_another_part_of_the_spectrum) {
    Reading lux;
    lux.point = Vec3(0.2, 0.25, 0.2);
    lux.quantity = spectrum::Quantity::lux;
    lux.value = 5000;
    lux.values = {lux.value};
    const Fit fit = inference::fit(document(), {lux}, direct());
    auto swapped = document();
    std::swap(swapped.lamps[0], swapped.lamps[1]);
    const Fit carried = inference::carry(fit, swapped, {}, direct());
    const auto share_of_left = [](const Fit& some) -> const inference::Unknown& {
        for (const auto& unknown : some.unknowns) {
            if (unknown.kind == inference::Unknown::Kind::spectrum && unknown.of == "left") return unknown;
        }
        throw std::logic_error("no share of the left tube");
    };
    EXPECT_EQ(share_of_left(fit).index, 0);
    EXPECT_EQ(share_of_left(carried).index, 1);
}

TEST(CarriedFit, is_judged_with_probabilities_like_any_other) {
    const Fit fit = fitted();
    auto open = document();
    open.screens.clear();
    const auto before = inference::judge_fitted(fit);
    const auto after = inference::judge_fitted(inference::carry(fit, open, {}, direct()));
    ASSERT_TRUE(before && after);
    ASSERT_TRUE(after->spots[0].interval);
    EXPECT_GT(after->spots[0].uvi, before->spots[0].uvi);
    EXPECT_TRUE(after->animals[0].verdict.basking.probability);
}

}  // namespace dapple::tests
