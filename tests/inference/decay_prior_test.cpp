// What is known of lamps' decay before any reading.
#include "inference/decay_prior.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "reference.h"
#include "spectrum/lamp_spectrum.h"

namespace dapple::inference {
namespace {

constexpr double hours_a_month = 12 * 365.25 / 12;  // at 12 hours a day

TEST(DecayPrior, of_mercury_vapour_agrees_with_keepers_who_replace_at_6_to_12_months) {
    const auto rows = tests::read_reference("checks/trade_checks.csv");
    const auto row = std::find_if(rows.begin(), rows.end(), [](const tests::Row& r) {
        return r.at("fact").find("mercury-vapour lamp is sold to last a year") != std::string::npos;
    });
    ASSERT_NE(row, rows.end());
    EXPECT_NE(row->at("fact").find("replace at 6 to 12 months"), std::string::npos);
    // 70 % of the output is where trade speaks of a lamp as worn out; the median lamp reaches it in that time.
    const double months = decay_prior(LampKind::mercury_vapour).hours_to(0.7) / hours_a_month;
    EXPECT_GE(months, 6);
    EXPECT_LE(months, 12);
}

TEST(DecayPrior, lets_lamps_that_make_uv_with_mercury_fade_faster_than_leds_and_halogens) {
    for (const LampKind kind :
         {LampKind::fluorescent_tube, LampKind::compact, LampKind::mercury_vapour, LampKind::metal_halide}) {
        EXPECT_GT(decay_prior(kind).median_per_1000h, 2 * decay_prior(LampKind::led).median_per_1000h);
        EXPECT_GT(decay_prior(kind).median_per_1000h, 2 * decay_prior(LampKind::halogen).median_per_1000h);
    }
}

TEST(DecayPrior, says_where_every_value_is_from) {
    for (const LampKind kind : lamp_kinds) {
        const DecayPrior& prior = decay_prior(kind);
        EXPECT_FALSE(prior.source.empty());
        EXPECT_FALSE(prior.burn_in_source.empty());
        EXPECT_GT(prior.log_sd, 0);
        EXPECT_EQ(lamp_kind_named(name(kind)), kind);
    }
}

TEST(DecayPrior, knows_the_kind_of_every_lamp_with_a_spectrum_of_the_library) {
    scene::Lamp lamp;
    lamp.shape = scene::Spot{0.1, 1, 2, -scene::Vec3::UnitZ(), std::nullopt};
    for (const auto& [id, kind] : {std::pair{"fluorescent_uvb_strong", LampKind::fluorescent_tube},
                                   {"mercury_vapour", LampKind::mercury_vapour},
                                   {"metal_halide", LampKind::metal_halide},
                                   {"led_uvb", LampKind::led},
                                   {"led_white", LampKind::led},
                                   {"halogen", LampKind::halogen}}) {
        const auto* spectrum = spectrum::find_lamp_spectrum(id);
        ASSERT_NE(spectrum, nullptr) << id;
        lamp.spectrum = *spectrum;
        EXPECT_EQ(kind_of(lamp), kind) << id;
    }
    lamp.spectrum = *spectrum::find_lamp_spectrum("fluorescent_uvb_mid");
    lamp.shape = scene::Tube{0.1, 0.05, scene::Vec3::UnitX(), -scene::Vec3::UnitZ(), -1, true};
    EXPECT_EQ(kind_of(lamp), LampKind::compact);
    lamp.spectrum.id = "my-own";
    EXPECT_EQ(kind_of(lamp), LampKind::unknown);
}

}  // namespace
}  // namespace dapple::inference
