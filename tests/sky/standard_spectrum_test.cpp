// ASTM G173-03 in its own atmosphere (SMARTS 2.9.2: US Standard Atmosphere 1976, air mass 1.5, ozone 0.3438 atm-cm, rural
// aerosol of optical depth 0.084 at 500 nm, light sandy soil), and SPCTRAL2 against an independent program.
#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "reference.h"
#include "sky/clear_sky.h"
#include "sky/radiance.h"
#include "sky/visible.h"

namespace dapple::sky {
namespace {

using namespace tests;
using scene::Vec3;

constexpr double zenith_deg = 48.19, tilt_deg = 37;

Conditions g173() {
    Conditions c;
    c.air.ozone_du = 343.8;
    // Shettle & Fenn's rural aerosol below 500 nm: exponent 0.933 (Gueymard 2001, Solar Energy 71:325, SMARTS); absorbs a
    // little more than the continental one.
    c.air.aerosol = {0.084 * std::pow(500 / 550.0, 0.933), 0.933, 0.94, 0.65};
    c.albedo = 0.05;  // of soil in the ultraviolet; the standard does not tabulate its soil
    return c;
}

struct Bands {
    std::map<int, double> global, direct;  // by beginning of the five nanometres
};

Bands standard() {
    Bands bands;
    for (const Row& row : read_reference("checks/astm_g173.csv")) {
        const double nm = number(row, "wavelength_nm");
        if (nm < 300 || nm > 400) continue;
        for (int from = 300; from < 400; from += 5) {
            if (nm < from || nm > from + 5) continue;
            const double weight =
                nm == from || nm == from + 5 ? 0.25 : 0.5;  // trapezoid on the half nanometres
            bands.global[from] += weight * number(row, "global_tilt_37");
            bands.direct[from] += weight * number(row, "direct_normal");
        }
    }
    return bands;
}

// Below 325 nm the standard's global irradiance lies 10-18 % below ours: it is the diffuse part that differs. The standard's
// comes from the parameterised diffuse light of SMARTS, whose diffuse light over its beam is there 64-80 % of that of the full
// radiative-transfer model with which ours agrees within 5 % in these very bands (clear_sky_test.cpp; decision 0015). Held
// here to a fifth, and to 10 % from 325 nm. Below 315 nm its beam is 2-4 % brighter, as if its ozone were taken at wavelengths
// in air; from there within 2 %.
constexpr int parameterised_below_nm = 325;
constexpr int absorbed_below_nm = 315;

TEST(StandardSpectrum, is_met_in_its_own_atmosphere) {
    const auto c = g173();
    const auto light = clear_sky(c, zenith_deg);
    const double rad = M_PI / 180;
    const Vec3 to_sun(std::sin(zenith_deg * rad), 0, std::cos(zenith_deg * rad));
    const Vec3 normal(std::sin(tilt_deg * rad), 0, std::cos(tilt_deg * rad));
    const auto parts = upper_parts(20, 40);
    const Bands want = standard();
    for (int from = 300; from < 400; from += 5) {
        double tilted = 0;
        const auto beams = sky_beams(c, light, from + 2, to_sun, parts);
        for (std::size_t i = 0; i < parts.size(); ++i)
            tilted += beams[i] * std::max(0.0, normal.dot(parts[i].direction));
        const double beam = spectrum::integral(light.direct, from, from + 5) / to_sun.z();
        const double sky = spectrum::integral(light.diffuse, from, from + 5);
        const double ground = c.albedo * (beam * to_sun.z() + sky) * (1 - normal.z()) / 2;
        const double direct_ratio = beam / want.direct.at(from);
        const double global_ratio =
            (beam * normal.dot(to_sun) + tilted * sky + ground) / want.global.at(from);
        EXPECT_NEAR(direct_ratio, 1, from < absorbed_below_nm ? 0.04 : 0.02) << from;
        EXPECT_NEAR(global_ratio, 1, from < parameterised_below_nm ? 0.2 : 0.1) << from;
    }
}

TEST(VisibleSky, is_that_of_an_independent_program) {
    std::map<std::string, std::pair<VisibleShare, double>> skies;
    for (const Row& row : read_reference("sky/spctral2_checks.csv")) {
        const VisibleAir air{number(row, "pressure_pa") / 100,
                             number(row, "water_cm"),
                             number(row, "ozone_atm_cm"),
                             number(row, "aod_500"),
                             1.14,
                             number(row, "albedo")};
        const double zenith = number(row, "zenith_deg");
        if (!skies.contains(row.at("zenith_deg")))
            skies[row.at("zenith_deg")] = {visible_sky(air, zenith), zenith};
        const double nm = number(row, "wavelength_nm");
        if (nm != std::round(nm)) continue;
        const int sample = static_cast<int>(nm) - spectrum::first_nm;
        const auto& sky = skies.at(row.at("zenith_deg")).first;
        EXPECT_NEAR(sky.direct_normal[sample], number(row, "direct"), 1e-5 + 1e-4 * number(row, "direct"))
            << nm;
        EXPECT_NEAR(sky.diffuse[sample], number(row, "diffuse"), 1e-5 + 1e-4 * number(row, "diffuse")) << nm;
    }
    EXPECT_EQ(skies.size(), 4U);
}

TEST(VisibleSky, has_the_irradiance_of_the_standard_beam) {
    // ASTM G173's direct beam, 280-2500 nm: 900.1 W/m2 to 4000 nm. SPCTRAL2 is good to about 5 %.
    double want = 0, last_nm = 0, last = 0;
    for (const Row& row : read_reference("checks/astm_g173.csv")) {
        const double nm = number(row, "wavelength_nm"), value = number(row, "direct_normal");
        if (nm > 2500) break;
        if (last_nm > 0) want += (nm - last_nm) * (value + last) / 2;
        last_nm = nm;
        last = value;
    }
    auto c = g173();
    c.air.aerosol.exponent = 1.14;
    const auto light = clear_sky(c, zenith_deg);
    EXPECT_NEAR(spectrum::integral(light.direct) / std::cos(zenith_deg * M_PI / 180) / want, 1, 0.05);
}

}  // namespace
}  // namespace dapple::sky
