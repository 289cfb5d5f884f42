// ASTM G173-03 in its own atmosphere (SMARTS 2.9.2: US Standard Atmosphere 1976, air mass 1.5, ozone 0.3438 atm-cm, rural
// aerosol of optical depth 0.084 at 500 nm, light sandy soil), the same atmosphere solved in 16 streams by an independent
// library, and SPCTRAL2 against an independent program.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <string>
#include <tuple>

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
    // Shettle & Fenn's rural aerosol below 500 nm: exponent 0.933 (Gueymard 2001, Solar Energy 71:325), at 350 nm and 50 %
    // humidity a scattered share of 0.94 and an asymmetry of 0.68 (Gueymard 1995, FSEC-PF-270-95).
    c.air.aerosol = {0.084 * std::pow(500 / 550.0, 0.933), 0.933, 0.94, 0.68};
    c.albedo = 0.05;
    return c;
}

// Albedo of the standard's light sandy soil, as SMARTS carries it, at its corners.
double light_sandy_soil(double nm) {
    if (nm < 320) return 0.032 + (0.040 - 0.032) * (nm - 300) / 20;
    if (nm < 380) return 0.040 + (0.102 - 0.040) * (nm - 320) / 60;
    return 0.102 + (0.113 - 0.102) * (nm - 380) / 20;
}

constexpr double rad = M_PI / 180;
const Vec3 to_sun(std::sin(zenith_deg* rad), 0, std::cos(zenith_deg* rad));
const Vec3 normal(std::sin(tilt_deg* rad), 0, std::cos(tilt_deg* rad));

// Five nanometres of our light, W/m2.
struct Band {
    double beam, sky;         // direct normal; diffuse on the horizontal
    double sky_on_tilt;       // as bright as each part of the sky is
    double even_sky_on_tilt;  // as if all its parts were alike
    double ground_on_tilt;
    double on_tilt() const { return beam * normal.dot(to_sun) + sky_on_tilt + ground_on_tilt; }
    double on_tilt_of_even_sky() const {
        return beam * normal.dot(to_sun) + even_sky_on_tilt + ground_on_tilt;
    }
};

Band band(const Conditions& c, int from) {
    const auto light = clear_sky(c, zenith_deg);
    const auto parts = upper_parts(20, 40);
    const auto beams = sky_beams(c, light, from + 2, to_sun, parts);
    double tilted = 0;
    for (std::size_t i = 0; i < parts.size(); ++i)
        tilted += beams[i] * std::max(0.0, normal.dot(parts[i].direction));
    const double beam = spectrum::integral(light.direct, from, from + 5) / to_sun.z();
    const double sky = spectrum::integral(light.diffuse, from, from + 5);
    return {beam, sky, tilted * sky, sky * (1 + normal.z()) / 2,
            c.albedo * (beam * to_sun.z() + sky) * (1 - normal.z()) / 2};
}

TEST(StandardAtmosphere, has_the_light_of_sixteen_streams_direct_diffuse_and_on_a_tilt) {
    // What is left below 310 nm is the step of 1 nm, where the light nearly doubles from one nanometre to the next.
    int seen = 0;
    std::map<std::string, double> worst;
    for (const Row& row : read_reference("sky/standard_atmosphere_checks.csv")) {
        const int from = static_cast<int>(number(row, "from_nm"));
        const Band ours = band(g173(), from);
        for (const auto& [column, value, within] : {std::tuple{"direct_normal", ours.beam, 0.025},
                                                    std::tuple{"diffuse_horizontal", ours.sky, 0.015},
                                                    std::tuple{"sky_on_tilt", ours.sky_on_tilt, 0.03},
                                                    std::tuple{"ground_on_tilt", ours.ground_on_tilt, 0.02},
                                                    std::tuple{"global_tilt", ours.on_tilt(), 0.02}}) {
            const double ratio = value / number(row, column);
            EXPECT_NEAR(ratio, 1, within) << column << " from " << from << " nm";
            worst[column] = std::max(worst[column], std::abs(ratio - 1));
        }
        ++seen;
    }
    EXPECT_EQ(seen, 20);
    for (const auto& [column, most] : worst) RecordProperty(column, std::to_string(most));
}

TEST(StandardAtmosphere, has_the_sky_of_sixteen_streams_on_surfaces_that_face_the_sun) {
    const auto parts = upper_parts(20, 40);
    double worst = 0;
    int seen = 0;
    for (const Row& row : read_reference("sky/standard_sky_checks.csv")) {
        const double zenith = number(row, "zenith_deg"), tilt = number(row, "tilt_deg") * rad;
        const Vec3 sun(std::sin(zenith * rad), 0, std::cos(zenith * rad));
        const Vec3 facing(std::sin(tilt), 0, std::cos(tilt));
        const auto beams = sky_beams(g173(), clear_sky(g173(), zenith),
                                     static_cast<int>(number(row, "wavelength_nm")), sun, parts);
        double tilted = 0;
        for (std::size_t i = 0; i < parts.size(); ++i)
            tilted += beams[i] * std::max(0.0, facing.dot(parts[i].direction));
        const double ratio = tilted / number(row, "tilted_over_horizontal");
        EXPECT_NEAR(ratio, 1, zenith < 65 ? 0.04 : 0.07)
            << zenith << " deg, tilt " << row.at("tilt_deg") << ", " << row.at("wavelength_nm") << " nm";
        worst = std::max(worst, std::abs(ratio - 1));
        ++seen;
    }
    EXPECT_EQ(seen, 35);
    RecordProperty("worst", std::to_string(worst));
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

// SMARTS takes the sky on a tilt as even where aerosol scatters less than half of what air does, as here (its version history,
// 2.7). Its diffuse ultraviolet is a fit, not scattering in layers, and the fit of the version behind the standard was too low:
// the author put another in its place in 2.9.3, mended in 2.9.5. In that version's run of the standard's atmosphere (its
// example 6) the light on the tilt over the beam is more than in the standard by these factors, and by 1.047 falling to 1.015 from 320
// nm on. Sixteen streams say the same within 4.2 %. So below 320 nm the standard is met within 15 % as printed and within 10 % with
// the light its own author gives it since; from there within 10 % as printed.
const std::map<int, double> later_diffuse_light = {{300, 1.116}, {305, 1.167}, {310, 1.126}, {315, 1.069}};

TEST(StandardSpectrum, is_met_in_its_own_atmosphere) {
    const Bands want = standard();
    double worst_as_printed = 0, worst = 0;
    for (int from = 300; from < 400; from += 5) {
        auto c = g173();
        c.albedo = light_sandy_soil(from + 2.5);
        const Band ours = band(c, from);
        // Below 315 nm the standard's beam is 3-4 % brighter: its ozone absorbs less than Malicet's.
        EXPECT_NEAR(ours.beam / want.direct.at(from), 1, from < 315 ? 0.04 : 0.02) << from;
        const double as_printed = ours.on_tilt_of_even_sky() / want.global.at(from);
        const auto later = later_diffuse_light.find(from);
        const double ratio = later == later_diffuse_light.end() ? as_printed : as_printed / later->second;
        EXPECT_NEAR(as_printed, 1, 0.15) << from;
        EXPECT_NEAR(ratio, 1, 0.07) << from;
        worst_as_printed = std::max(worst_as_printed, std::abs(as_printed - 1));
        worst = std::max(worst, std::abs(ratio - 1));
    }
    RecordProperty("worst_as_printed", std::to_string(worst_as_printed));
    RecordProperty("worst", std::to_string(worst));
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
