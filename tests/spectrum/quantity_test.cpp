#include "spectrum/quantity.h"

#include <gtest/gtest.h>

#include <cmath>

#include "columns.h"

namespace dapple::spectrum {

using tests::at;
using tests::number;
using tests::read_reference;

// A quantity of sunlight or of a lamp must be right to half a per cent: a tenth of what the best meters
// promise.
constexpr double half_a_per_cent = 0.005;

TEST(Erythema, equals_its_formula_value_by_value) {
    // ISO/CIE 17166:2019, each piece written out once more; the check table carries six digits.
    const auto& weight_of = weight(Quantity::erythemal);
    for (const auto& row : read_reference("checks/erythema_action_spectrum.csv")) {
        const int nm = static_cast<int>(number(row, "wavelength_nm"));
        EXPECT_NEAR(at(weight_of, nm) / number(row, "weight"), 1, 1e-5) << nm;
    }
    EXPECT_DOUBLE_EQ(at(weight_of, 298), 1);
    EXPECT_DOUBLE_EQ(at(weight_of, 308), std::pow(10, -0.94));
    EXPECT_DOUBLE_EQ(at(weight_of, 328), std::pow(10, -2.82));
    EXPECT_DOUBLE_EQ(at(weight_of, 340), std::pow(10, -3.0));
    EXPECT_DOUBLE_EQ(at(weight_of, 400), std::pow(10, -3.9));
    EXPECT_EQ(at(weight_of, 249), 0);
    EXPECT_EQ(at(weight_of, 401), 0);
}

TEST(Erythema, has_no_step_where_its_pieces_meet) {
    // With the constant of 1987 (139 for 140) the weight would drop by a further 3.4 % at 328 nm.
    const auto& weight_of = weight(Quantity::erythemal);
    EXPECT_NEAR(at(weight_of, 329) / at(weight_of, 328), std::pow(10, -0.015), 1e-12);
    EXPECT_NEAR(at(weight_of, 299) / at(weight_of, 298), std::pow(10, -0.094), 1e-12);
}

TEST(UvIndex, is_forty_times_the_erythemal_irradiance) {
    EXPECT_TRUE(weight(Quantity::uvi).isApprox(40 * weight(Quantity::erythemal)));
}

TEST(PrevitaminD3, equals_the_table_of_CIE_174_value_by_value) {
    for (const auto& row : read_reference("checks/previtamin_d3_action_spectrum.csv")) {
        const int nm = static_cast<int>(number(row, "wavelength_nm"));
        EXPECT_DOUBLE_EQ(at(weight(Quantity::d3), nm), number(row, "weight")) << nm;
    }
    EXPECT_EQ(at(weight(Quantity::d3), 251), 0);
    EXPECT_EQ(at(weight(Quantity::d3), 331), 0);
}

TEST(Actinic, equals_the_table_of_IEC_62471_value_by_value_and_is_logarithmic_between) {
    const auto rows = read_reference("checks/actinic_uv_hazard.csv");
    for (const auto& row : rows) {
        const int nm = static_cast<int>(number(row, "wavelength_nm"));
        EXPECT_NEAR(at(weight(Quantity::actinic), nm) / number(row, "weight"), 1, 1e-12) << nm;
    }
    EXPECT_NEAR(at(weight(Quantity::actinic), 390 + 2),
                std::exp(0.6 * std::log(4.4e-5) + 0.4 * std::log(3.6e-5)), 1e-15);
    EXPECT_EQ(at(weight(Quantity::actinic), 401), 0);
}

TEST(Photopic, follows_the_table_of_the_CIE) {
    // Our own curve is splined between rows 10 nm apart; 0.2 % of the peak is a ninth of what one step of 1
    // nm changes on the flank, and the lamps below tell no difference.
    for (const auto& row : read_reference("checks/photopic_luminosity.csv")) {
        const int nm = static_cast<int>(number(row, "wavelength_nm"));
        EXPECT_NEAR(at(weight(Quantity::lux), nm) / 683, number(row, "v_lambda"), 0.002) << nm;
    }
    EXPECT_NEAR(at(weight(Quantity::lux), 555) / 683, 1, 0.001);
}

TEST(Boxes, add_up_to_the_whole_ultraviolet) {
    const Spectrum sum = weight(Quantity::uvc) + weight(Quantity::uvb) + weight(Quantity::uva);
    const auto lamps = read_reference("checks/lamp_spectra.csv");
    const auto arc = tests::spectrum_column(lamps, "mercury_medium_pressure_quartz");
    EXPECT_NEAR((sum * arc).sum(), integral(arc, 200, 400), 1e-15);
    EXPECT_EQ(at(sum, 280), 1);
    EXPECT_EQ(at(sum, 315), 1);
    EXPECT_DOUBLE_EQ(measure(constant(1), Quantity::uvb), 35);
    EXPECT_DOUBLE_EQ(measure(constant(1), Quantity::uva), 85);
    EXPECT_DOUBLE_EQ(measure(constant(1), Quantity::uvc), 80);
    EXPECT_DOUBLE_EQ(measure(constant(1), Quantity::irradiance), 2300);
}

TEST(Measure, adds_and_scales_with_the_light) {
    const auto rows = read_reference("checks/lamp_spectra.csv");
    const auto a = tests::spectrum_column(rows, "fluorescent_uvb_strong");
    const auto b = tests::spectrum_column(rows, "halogen");
    for (const auto quantity : quantities) {
        const double together = measure(2 * a + 3 * b, quantity);
        EXPECT_NEAR(together, 2 * measure(a, quantity) + 3 * measure(b, quantity), 1e-12 * together)
            << name(quantity);
    }
}

TEST(UvIndex, of_the_standard_sun_is_that_of_ASTM_G173) {
    // Integrals of the standard's spectra, reference/checks/astm_g173.csv.
    const auto sun = read_reference("checks/astm_g173.csv");
    const auto uvi = [&](const char* which) {
        return measure(tests::spectrum_column(sun, which), Quantity::uvi);
    };
    EXPECT_NEAR(uvi("global_tilt_37"), 3.690, half_a_per_cent * 3.690);
    EXPECT_NEAR(uvi("direct_normal"), 2.068, half_a_per_cent * 2.068);
    EXPECT_NEAR(uvi("extraterrestrial"), 388.6, half_a_per_cent * 388.6);
}

TEST(Quantities, of_eighteen_lamps_equal_the_check_values) {
    const auto lamps = read_reference("checks/lamp_spectra.csv");
    const auto metrics = read_reference("checks/lamp_spectra_metrics.csv");
    ASSERT_EQ(metrics.size(), 18U);
    for (const auto& row : metrics) {
        const auto lamp = row.at("lamp");
        const auto light = tests::spectrum_column(lamps, lamp);
        // The check values carry four digits; below 1e-9 there is nothing left to compare.
        const auto equal = [&](double ours, const char* column) {
            if (row.at(column).empty()) return;
            const double theirs = number(row, column);
            EXPECT_NEAR(ours, theirs, half_a_per_cent * theirs + 1e-9) << lamp << ' ' << column;
        };
        // Theirs give a whole nanometre to the bin of its centre, ours half to either side of an edge.
        const double half_280 = 0.5 * at(light, 280);
        const double half_315 = 0.5 * at(light, 315);
        const double half_400 = 0.5 * at(light, 400);
        equal(measure(light, Quantity::uvc) - half_280, "uvc_share");
        equal(measure(light, Quantity::uvb) + half_280 - half_315, "uvb_share");
        equal(measure(light, Quantity::uva) + half_315 - half_400, "uva_share");
        equal(integral(light, 400, last_nm) + half_400, "visible_share");
        const bool seen =
            number(row, "lm_per_w") > 0.1;  // less is the tail of V at 380 nm: nothing to see by
        if (seen) equal(measure(light, Quantity::lux), "lm_per_w");
        equal(measure(light, Quantity::uvi), "uvi_per_w_m2");
        const double erythemal = measure(light, Quantity::erythemal);
        equal(measure(light, Quantity::d3) / erythemal, "d3_per_erythemal");
        equal(measure(light, Quantity::actinic) / erythemal, "actinic_per_erythemal");
        if (seen) {
            equal(1000 * measure(light, Quantity::uvi) / measure(light, Quantity::lux), "uvi_per_klx");
        }
    }
}

TEST(Quantities, of_lamps_behind_tabled_sheets_equal_the_check_values) {
    // The check values take the sheets' measured transmittance linearly between its rows, nothing below the
    // first.
    const auto lamps = read_reference("checks/lamp_spectra.csv");
    const auto plastics = read_reference("checks/plastic_transmittance.csv");
    const auto glass_rows = read_reference("checks/float_glass_optical_constants.csv");
    const std::map<std::string, Spectrum> sheets = {
        {"behind_float_glass_4mm", tests::spectrum_column(glass_rows, "transmittance_4mm")},
        {"behind_acrylic_standard", tests::spectrum_column(plastics, "acrylic_standard")},
        {"behind_acrylic_uv_transmitting", tests::spectrum_column(plastics, "acrylic_uv_transmitting")},
        {"behind_polycarbonate", tests::spectrum_column(plastics, "polycarbonate")}};
    for (const auto& row : read_reference("checks/lamp_spectra_metrics.csv")) {
        const auto light = tests::spectrum_column(lamps, row.at("lamp"));
        for (const auto& [column, sheet] : sheets) {
            const double kept = measure(light * sheet, Quantity::uvi) / measure(light, Quantity::uvi);
            const double theirs = number(row, column);
            EXPECT_NEAR(kept, theirs, half_a_per_cent * theirs) << row.at("lamp") << ' ' << column;
        }
    }
}

TEST(Names, of_quantities_are_those_of_the_documents_and_lead_back) {
    EXPECT_EQ(name(Quantity::uvi), "uvi");
    EXPECT_EQ(name(Quantity::erythemal), "erythemal_w_m2");
    EXPECT_EQ(name(Quantity::irradiance), "irradiance_w_m2");
    for (const auto quantity : quantities) EXPECT_EQ(quantity_named(name(quantity)), quantity);
    EXPECT_EQ(quantity_named("uv"), std::nullopt);
}

}  // namespace dapple::spectrum
