#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>

#include "columns.h"
#include "spectrum/lamp_spectrum.h"
#include "spectrum/material.h"
#include "spectrum/quantity.h"

namespace dapple::spectrum {

using tests::at;
using tests::number;
using tests::read_reference;

namespace {

Optics clear(double index) {
    return {constant(index), constant(0)};
}

const Optics& optics_of(const char* id) {
    return find_material(id)->optics.value();
}

double share_kept(const Spectrum& light, const Spectrum& pane, Quantity quantity) {
    return measure(light * pane, quantity) / measure(light, quantity);
}

}  // namespace

TEST(Pane, without_absorption_passes_two_n_of_n_squared_plus_one) {
    // Both faces at normal incidence with all inter-reflections: 2n / (n^2 + 1) (Born & Wolf 1.5).
    for (const double n : {1.0, 1.33, 1.5, 1.6}) {
        EXPECT_NEAR(at(pane_transmittance(clear(n), 0.004, 1), 550), 2 * n / (n * n + 1), 1e-14);
    }
}

TEST(Pane, at_Brewsters_angle_passes_all_of_one_polarisation) {
    // tan(theta) = n: the parallel half passes whole; the other has r = ((n^2-1)/(n^2+1))^2 at each face.
    const double n = 1.5;
    const double r = std::pow((n * n - 1) / (n * n + 1), 2);
    const double cos_brewster = 1 / std::sqrt(1 + n * n);
    EXPECT_NEAR(at(pane_transmittance(clear(n), 0.004, cos_brewster), 550), 0.5 * (1 + (1 - r) / (1 + r)),
                1e-14);
}

TEST(Pane, passes_nothing_at_grazing_incidence) {
    EXPECT_LT(at(pane_transmittance(clear(1.5), 0.004, 1e-6), 550), 1e-5);
    EXPECT_LT(at(pane_transmittance(clear(1.5), 0.004, 0), 550), 1e-5);
}

TEST(Pane, of_no_substance_is_not_there) {
    const auto air = pane_transmittance(clear(1), 0.004, 0.3);
    EXPECT_NEAR(air.minCoeff(), 1, 1e-14);
    EXPECT_NEAR(air.maxCoeff(), 1, 1e-14);
}

TEST(Pane, of_matched_index_absorbs_as_Beer_and_Lambert_say) {
    const Optics fog{constant(1), constant(100)};
    EXPECT_NEAR(at(pane_transmittance(fog, 0.01, 1), 550), std::exp(-1.0), 1e-14);
    EXPECT_NEAR(at(pane_transmittance(fog, 0.01, 0.5), 550), std::exp(-2.0), 1e-14);
}

TEST(Pane, of_glass_equals_the_table_of_Rubin) {
    // The table prints four decimals of the transmittance and four digits of the absorption.
    const auto pane = pane_transmittance(optics_of("float_glass"), 0.004, 1);
    for (const auto& row : read_reference("checks/float_glass_optical_constants.csv")) {
        const int nm = static_cast<int>(number(row, "wavelength_nm"));
        EXPECT_NEAR(at(pane, nm), number(row, "transmittance_4mm"), 2e-4) << nm;
    }
}

TEST(Pane, equals_the_published_transmittance_of_each_material) {
    const std::map<std::string, std::string> ours = {
        {"float_glass_clear", "float_glass"},
        {"acrylic_standard", "acrylic"},
        {"acrylic_extruded", "acrylic_extruded"},
        {"acrylic_uv_blocking", "acrylic_uv_blocking"},
        {"acrylic_uv_transmitting", "acrylic_uv_transmitting"},
        {"polycarbonate", "polycarbonate"},
        {"polycarbonate_uv_stabilised", "polycarbonate_uv_stabilised"},
        {"pvc_clear", "pvc_clear"},
        {"polystyrene", "polystyrene"},
        {"petg", "petg"}};
    int compared = 0;
    for (const auto& row : read_reference("checks/material_optics.csv")) {
        const auto found = ours.find(row.at("material"));
        if (found == ours.end() || row.at("quantity") != "transmittance") continue;
        const double thickness_m = std::stod(row.at("thickness_or_kind")) / 1000;
        const auto pane = pane_transmittance(*find_material(found->second)->optics, thickness_m, 1);
        for (const int nm : {300, 320, 350, 400, 550, 850}) {
            const auto cell = row.at("at_" + std::to_string(nm) + "_nm");
            if (cell.starts_with('<')) {
                EXPECT_LT(at(pane, nm), std::stod(cell.substr(1)) * 1.01) << row.at("material") << nm;
            } else {
                // 0.006: one measured acrylic sheet passes 0.5 % more than its two faces allow without any
                // absorption, and the rows were averaged over other bands than the table the sheets come
                // from.
                EXPECT_NEAR(at(pane, nm), std::stod(cell), 0.006) << row.at("material") << ' ' << nm;
            }
            ++compared;
        }
    }
    EXPECT_EQ(compared, 12 * 6);  // three thicknesses of glass and nine plastic sheets
}

RC_GTEST_PROP(Pane, never_passes_more_than_it_gets, ()) {
    const auto unit = [] { return *rc::gen::inRange(0, 1000001) / 1e6; };
    const Optics any{constant(1 + 1.5 * unit()), constant(std::pow(10, 8 * unit() - 3))};
    const double thickness_m = 0.1 * unit();
    const auto pane = pane_transmittance(any, thickness_m, unit());
    RC_ASSERT(pane.isFinite().all());
    RC_ASSERT(pane.minCoeff() >= 0);
    RC_ASSERT(pane.maxCoeff() <= 1 + 1e-12);
}

RC_GTEST_PROP(Pane, passes_less_when_thicker_or_more_absorbing, ()) {
    const auto unit = [] { return *rc::gen::inRange(1, 1000001) / 1e6; };
    const double n = 1.3 + 0.4 * unit();
    const double cos_incidence = unit();
    const double thickness_m = 0.02 * unit();
    const double absorption = 1000 * unit();
    const double passed =
        at(pane_transmittance({constant(n), constant(absorption)}, thickness_m, cos_incidence), 400);
    const double thicker =
        at(pane_transmittance({constant(n), constant(absorption)}, 1.5 * thickness_m, cos_incidence), 400);
    RC_ASSERT(thicker <= passed);
}

RC_GTEST_PROP(Pane, is_the_same_from_either_side, ()) {
    // Reciprocity: a ray inside a medium of index n meets the face with n' = 1/n at the refracted angle and
    // loses the same share. The pane's transmittance without absorption follows from that face alone.
    const double n = 1.2 + *rc::gen::inRange(0, 1001) / 1000.0;
    const double cos_out = *rc::gen::inRange(1, 1001) / 1000.0;
    const double cos_in = std::sqrt(1 - (1 - cos_out * cos_out) / (n * n));
    const auto from_inside = [&](double a, double b) { return std::pow((a - b) / (a + b), 2); };
    const double across = from_inside(n * cos_in, cos_out);
    const double along = from_inside(cos_in, n * cos_out);
    const double expected = 0.5 * ((1 - across) / (1 + across) + (1 - along) / (1 + along));
    RC_ASSERT(std::abs(at(pane_transmittance(clear(n), 0.003, cos_out), 400) - expected) < 1e-12);
}

TEST(FloatGlass, leaves_the_sun_some_uv_index_but_no_vitamin_d) {
    // Shares of the UV index behind 4 mm, by the radiation model TUV's direct and diffuse light
    // (trade_checks.csv). All of it is taken at normal incidence, as there; the printed shares have two
    // digits.
    const auto sky = read_reference("checks/tuv_clear_sky_spectra.csv");
    const auto pane = pane_transmittance(optics_of("float_glass"), 0.004, 1);
    const std::map<std::string, double> kept = {{"0", 0.082}, {"30", 0.099}, {"60", 0.186}, {"75", 0.31}};
    for (const auto& [zenith, share] : kept) {
        const Spectrum sun = tests::spectrum_column(sky, "direct_" + zenith) +
                             tests::spectrum_column(sky, "diffuse_" + zenith);
        EXPECT_NEAR(share_kept(sun, pane, Quantity::uvi), share, 0.005) << zenith;
        EXPECT_LT(share_kept(sun, pane, Quantity::d3), 0.02) << zenith;
        EXPECT_GT(share_kept(sun, pane, Quantity::uva), 0.6) << zenith;
    }
}

TEST(FloatGlass, takes_the_uv_index_of_uvb_lamps) {
    const auto pane = pane_transmittance(optics_of("float_glass"), 0.004, 1);
    for (const char* id : {"fluorescent_uvb_weak", "fluorescent_uvb_mid", "fluorescent_uvb_strong",
                           "mercury_vapour", "mercury_vapour_self_ballasted", "metal_halide", "led_uvb"}) {
        EXPECT_LT(share_kept(find_lamp_spectrum(id)->relative, pane, Quantity::uvi), 0.015) << id;
    }
}

TEST(FloatGlass, is_read_between_its_rows_by_the_logarithm_of_its_absorption) {
    // The absorption edge of glass is exponential in energy (Urbach); a straight line in the transmittance
    // between 310 and 320 nm would pass five times as much of a narrow line at 312 nm.
    const auto& optics = optics_of("float_glass");
    EXPECT_NEAR(at(optics.absorption_per_m, 315), std::sqrt(2025.0 * 540.0), 1);
    EXPECT_LT(at(pane_transmittance(optics, 0.001, 1), 309), 1e-9);
}

TEST(Plastics, differ_by_grade_in_the_uvb_they_pass) {
    // trade_checks.csv; 280-315 nm with equal power at each wavelength, sheets of the measured thickness.
    const auto passes = [](const char* id, double thickness_m) {
        const auto pane = pane_transmittance(optics_of(id), thickness_m, 1);
        return std::pair{pane.segment(280 - first_nm, 36).minCoeff(),
                         pane.segment(280 - first_nm, 36).maxCoeff()};
    };
    for (const char* id : {"polycarbonate_uv_stabilised", "pvc_clear", "petg", "acrylic_uv_blocking"}) {
        EXPECT_LT(passes(id, 0.003).second, 0.001) << id;
    }
    EXPECT_LT(passes("polycarbonate", 0.002).second, 0.001);
    EXPECT_LT(passes("polystyrene", 0.003).second, 0.005);
    EXPECT_GT(passes("acrylic", 0.003).first, 0.07);
    EXPECT_LT(passes("acrylic", 0.003).second, 0.175);
    EXPECT_GT(passes("acrylic_uv_transmitting", 0.003).first, 0.70);
    EXPECT_LT(passes("acrylic_uv_transmitting", 0.003).second, 0.90);
}

}  // namespace dapple::spectrum
