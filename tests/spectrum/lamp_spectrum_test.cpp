#include "spectrum/lamp_spectrum.h"

#include <gtest/gtest.h>

#include <set>

#include "columns.h"
#include "spectrum/quantity.h"

namespace dapple::spectrum {

using tests::number;
using tests::read_reference;

TEST(LampSpectra, carry_what_the_documents_promise) {
    for (const char* id : {"fluorescent_uvb_weak", "fluorescent_uvb_mid", "fluorescent_uvb_strong",
                           "mercury_vapour", "metal_halide", "led_uvb", "led_white", "halogen"}) {
        EXPECT_NE(find_lamp_spectrum(id), nullptr) << id;
    }
    EXPECT_EQ(find_lamp_spectrum("candle"), nullptr);
}

TEST(LampSpectra, say_where_they_come_from_and_are_never_negative) {
    std::set<std::string> ids;
    for (const auto& lamp : lamp_spectra()) {
        EXPECT_TRUE(ids.insert(lamp.id).second) << lamp.id;
        EXPECT_FALSE(lamp.name.empty()) << lamp.id;
        EXPECT_EQ(lamp.source.find("synthetic: "), 0U) << lamp.id;
        ASSERT_EQ(lamp.relative.size(), samples) << lamp.id;
        EXPECT_TRUE(lamp.relative.isFinite().all()) << lamp.id;
        EXPECT_GE(lamp.relative.minCoeff(), 0) << lamp.id;
        EXPECT_GT(lamp.relative.maxCoeff(), 0) << lamp.id;
    }
}

TEST(LampSpectra, give_the_quantities_of_an_independent_quadrature) {
    // reference/spectra/make_values.py: 0.1 nm steps and another library's V(lambda). Half a per cent: what 1
    // nm steps cost where the erythema weight falls by a fifth a nanometre (0.2164^2 / 12 = 0.4 %).
    const auto rows = read_reference("spectra/lamp_spectra_values.csv");
    ASSERT_EQ(rows.size(), lamp_spectra().size());
    for (const auto& row : rows) {
        const auto* const lamp = find_lamp_spectrum(row.at("id"));
        ASSERT_NE(lamp, nullptr) << row.at("id");
        for (const auto quantity : quantities) {
            if (quantity == Quantity::erythemal) continue;
            const double theirs = number(row, std::string(name(quantity)));
            if (quantity == Quantity::lux && theirs < 0.1) continue;  // V below 380 nm: no light to see by
            // The absolute part is far below what anybody can read: the foot of a white diode's blue band.
            EXPECT_NEAR(measure(lamp->relative, quantity), theirs, 0.005 * theirs + 5e-9)
                << lamp->id << ' ' << name(quantity);
        }
    }
}

TEST(LampSpectra, keep_the_power_and_light_of_the_tables_they_were_modelled_on) {
    const auto columns = read_reference("checks/lamp_spectra.csv");
    const std::vector<std::pair<std::string, std::string>> modelled = {
        {"fluorescent_uvb_weak", "fluorescent_uvb_weak"},
        {"fluorescent_uvb_mid", "fluorescent_uvb_mid"},
        {"fluorescent_uvb_strong", "fluorescent_uvb_strong"},
        {"metal_halide", "metal_halide"},
        {"led_white", "led_white"}};
    for (const auto& [id, column] : modelled) {
        const auto& ours = find_lamp_spectrum(id)->relative;
        const auto theirs = tests::spectrum_column(columns, column);
        for (const auto quantity : {Quantity::uvi, Quantity::uva, Quantity::lux, Quantity::irradiance}) {
            const double expected = measure(theirs, quantity);
            EXPECT_NEAR(measure(ours, quantity), expected, 0.005 * expected) << id << ' ' << name(quantity);
        }
    }
}

TEST(LampSpectra, of_filaments_carry_most_of_their_power_in_the_near_infrared) {
    // Planck: of 3000 K, about 16 % of 300-2500 nm lie below 780 nm; of 2400 K some 6 %.
    const auto share_below_780 = [](const char* id) {
        const auto& power = find_lamp_spectrum(id)->relative;
        return integral(power, 200, 780) / integral(power);
    };
    EXPECT_NEAR(share_below_780("halogen"), 0.16, 0.02);
    EXPECT_LT(share_below_780("infrared_heat_lamp"), share_below_780("incandescent"));
    EXPECT_LT(share_below_780("incandescent"), share_below_780("halogen"));
}

TEST(LampSpectra, of_stronger_uvb_tubes_give_more_uv_for_the_same_light) {
    const auto uvi_per_klx = [](const char* id) {
        const auto& power = find_lamp_spectrum(id)->relative;
        return 1000 * measure(power, Quantity::uvi) / measure(power, Quantity::lux);
    };
    EXPECT_LT(uvi_per_klx("fluorescent_daylight"), uvi_per_klx("fluorescent_uvb_weak"));
    EXPECT_LT(uvi_per_klx("fluorescent_uvb_weak"), uvi_per_klx("fluorescent_uvb_mid"));
    EXPECT_LT(uvi_per_klx("fluorescent_uvb_mid"), uvi_per_klx("fluorescent_uvb_strong"));
}

}  // namespace dapple::spectrum
