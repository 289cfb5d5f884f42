#include "inference/fit_judge.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "scene/document.h"

namespace dapple::tests {

using inference::FittedJudgeOptions;

namespace {

scene::Enclosure pen(double uvi_at_30_cm) {
    const auto parsed = scene::parse_enclosure(fmt::format(R"({{
      "format": "dapple/enclosure@1", "id": "pen", "size_cm": [60, 40, 50],
      "animals": [{{"species": "crotaphytus_collaris", "back_height_cm": 4, "band": [2.9, 7.4]}}],
      "lamps": [{{"id": "uv", "kind": "tube", "length_cm": 30, "diameter_cm": 1.6, "centre_cm": [30, 20, 46],
                 "along": [1, 0, 0], "aim": [0, 0, -1], "spectrum": "fluorescent_uvb_strong",
                 "output": {{"uvi": {}, "at_cm": 30}}}}],
      "spots": [{{"id": "bask", "name": "Stone", "position_cm": [30, 20, 12], "role": "bask"}}]}})",
                                                           uvi_at_30_cm));
    if (!parsed) throw std::logic_error(to_text(parsed.error()));
    return *parsed;
}

inference::FitOptions direct() {
    inference::FitOptions options;
    options.field.bounces = 0;
    return options;
}

husbandry::Judgement judged(const inference::Fit& fit, const FittedJudgeOptions& options = {}) {
    const auto judgement = inference::judge_fitted(fit, options);
    if (!judgement) throw std::logic_error(to_text(judgement.error()));
    return *judgement;
}

}  // namespace

TEST(FittedVerdict, before_any_reading_has_the_verdict_of_the_document) {
    const auto enclosure = pen(4);
    husbandry::JudgeOptions options;
    options.field.bounces = 0;
    const auto plain = *husbandry::judge(enclosure, options);
    const auto fitted = judged(inference::fit(enclosure, {}, direct()));
    EXPECT_EQ(fitted.spots[0].uvi, plain.spots[0].uvi);
    EXPECT_EQ(fitted.animals[0].verdict.basking.why, plain.animals[0].verdict.basking.why);
    EXPECT_EQ(fitted.animals[0].reach.quantiles, plain.animals[0].reach.quantiles);
    ASSERT_TRUE(fitted.spots[0].interval);
    // One lamp, in its beam: the interval is that of its output, 1.645 x 0.25 either way in logarithms.
    EXPECT_NEAR(std::log(fitted.spots[0].interval->second / fitted.spots[0].uvi), 1.645 * 0.25, 1e-3);
}

TEST(FittedVerdict, is_as_likely_as_the_lamp_is_to_reach_the_band) {
    const double at_document = judged(inference::fit(pen(4), {}, direct())).spots[0].uvi;
    // With the median at the band's low edge, half of the lamps fall short; the high edge is four sd away.
    const auto on_the_edge = pen(4 * 2.9 / at_document);
    FittedJudgeOptions options;
    options.draws = 2000;
    const auto basking =
        judged(inference::fit(on_the_edge, {}, direct()), options).animals[0].verdict.basking;
    EXPECT_NEAR(basking.probability.value(), 0.5, 0.04);  // 3.5 sd of 2000 draws
}

TEST(FittedVerdict, grows_sure_with_readings) {
    const auto enclosure = pen(4);
    const double expected = judged(inference::fit(enclosure, {}, direct())).spots[0].uvi;
    inference::Reading reading;
    reading.where = "line 2";
    reading.point = scene::Vec3(0.3, 0.2, 0.16);
    reading.quantity = spectrum::Quantity::uvi;
    reading.value = 1.25 * expected;
    reading.values = {reading.value};
    const auto before = judged(inference::fit(enclosure, {}, direct()));
    const auto after = judged(inference::fit(enclosure, {reading}, direct()));
    EXPECT_GT(after.spots[0].uvi, before.spots[0].uvi);
    const auto width = [](const husbandry::SpotReading& spot) {
        return std::log(spot.interval->second / spot.interval->first);
    };
    EXPECT_LT(width(after.spots[0]), 0.7 * width(before.spots[0]));
}

TEST(FittedVerdict, is_the_same_every_time) {
    const inference::Fit fit = inference::fit(pen(4), {}, direct());
    EXPECT_EQ(judged(fit).animals[0].verdict.ceiling.probability,
              judged(fit).animals[0].verdict.ceiling.probability);
}

}  // namespace dapple::tests
