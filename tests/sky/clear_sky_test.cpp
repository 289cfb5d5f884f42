// The clear sky against a full radiative-transfer model (NCAR TUV), Madronich 2007 and ASTM G173.
#include "sky/clear_sky.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <map>

#include "reference.h"
#include "sky/scattering.h"
#include "spectrum/quantity.h"

namespace dapple::sky {
namespace {

using namespace tests;
using spectrum::Quantity;

Conditions tuv() {
    Conditions c;
    c.air.ozone_du = 300;
    c.albedo = 0.1;
    return c;
}

TEST(ClearSky, has_the_uv_of_a_full_radiative_transfer_model) {
    const auto rows = read_reference("checks/tuv_clear_sky_checks.csv");
    std::vector<double> zeniths;
    for (const Row& row : rows) zeniths.push_back(number(row, "solar_zenith_deg"));
    const auto skies = clear_sky(tuv(), zeniths);
    double worst = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (zeniths[i] > 75) continue;
        const double within = 0.03;
        for (const auto& [column, quantity] : {std::pair{"tuv_uvi", Quantity::uvi},
                                               {"tuv_d3", Quantity::d3},
                                               {"tuv_uvb", Quantity::uvb},
                                               {"tuv_uva", Quantity::uva}}) {
            const double ratio = measure(skies[i].total(), quantity) / number(rows[i], column);
            EXPECT_NEAR(ratio, 1, within) << column << " at " << zeniths[i];
            worst = std::max(worst, std::abs(ratio - 1));
        }
        EXPECT_NEAR(measure(skies[i].direct, Quantity::uvi) / number(rows[i], "uvi_direct"), 1, within);
        EXPECT_NEAR(measure(skies[i].diffuse, Quantity::uvi) / number(rows[i], "uvi_diffuse"), 1, within);
    }
    RecordProperty("worst", std::to_string(worst));
}

TEST(ClearSky, follows_that_model_down_to_the_horizon) {
    // Beyond 75 degrees the model is measured against its own promise: UVI and D3 within 5 % to 89 degrees.
    for (const Row& row : read_reference("checks/tuv_clear_sky_checks.csv")) {
        const double zenith = number(row, "solar_zenith_deg");
        if (zenith <= 75 || zenith > 89) continue;
        const auto light = clear_sky(tuv(), zenith).total();
        EXPECT_NEAR(measure(light, Quantity::uvi) / number(row, "tuv_uvi"), 1, 0.05) << zenith;
        EXPECT_NEAR(measure(light, Quantity::d3) / number(row, "tuv_d3"), 1, 0.05) << zenith;
    }
}

// Sunlight above the atmosphere in the bin from `nm` to nm + 1, from the half-nanometre table: its lines are finer than
// the bins, and the engine's own samples are those around whole nanometres.
double sun_in_bin(int nm) {
    static const auto table = [] {
        std::map<double, double> sun;
        for (const Row& row : read_reference("checks/astm_g173.csv")) {
            sun[number(row, "wavelength_nm")] = number(row, "extraterrestrial");
        }
        return sun;
    }();
    return (table.at(nm) + 2 * table.at(nm + 0.5) + table.at(nm + 1)) / 4;
}

// The model in the bins of that run, whose middles lie between the engine's own samples.
Arriving in_bin(int nm, double zenith) {
    const Conditions c = tuv();
    const auto air = layers(c.air);
    std::vector<LayerOptics> each;
    for (const Layer& layer : air) each.push_back(optics(layer, c.air.aerosol, nm + 0.5));
    return arriving(air, each, c.albedo, SlantPaths(air, std::array{zenith})).front();
}

TEST(ClearSky, has_the_spectra_of_that_model_in_each_five_nanometres_direct_and_diffuse_apart) {
    const auto rows = read_reference("checks/tuv_clear_sky_spectra.csv");
    std::map<int, const Row*> by_bin;
    for (const Row& row : rows) by_bin[static_cast<int>(number(row, "wavelength_nm"))] = &row;
    double worst_direct = 0, worst_diffuse = 0;
    for (const int zenith : {0, 30, 60, 75}) {
        const std::string deg = std::to_string(zenith);
        for (int from = 300; from < 400; from += 5) {
            double direct = 0, diffuse = 0, our_direct = 0, our_diffuse = 0;
            for (int nm = from; nm < from + 5; ++nm) {
                direct += number(*by_bin.at(nm), "direct_" + deg);
                diffuse += number(*by_bin.at(nm), "diffuse_" + deg);
                const Arriving share = in_bin(nm, zenith);
                our_direct += sun_in_bin(nm) * share.direct;
                our_diffuse += sun_in_bin(nm) * share.diffuse;
            }
            EXPECT_NEAR(our_direct / direct, 1, 0.05) << zenith << " deg, from " << from << " nm";
            EXPECT_NEAR(our_diffuse / diffuse, 1, 0.05) << zenith << " deg, from " << from << " nm";
            worst_diffuse = std::max(worst_diffuse, std::abs(our_diffuse / diffuse - 1));
            worst_direct = std::max(worst_direct, std::abs(our_direct / direct - 1));
        }
    }
    RecordProperty("worst_direct", std::to_string(worst_direct));
    RecordProperty("worst_diffuse", std::to_string(worst_diffuse));
}

// That run was given 300 DU. Ozone measured at wavelengths in air and used at those of sunlight, which are in vacuum, would
// absorb 1.2 % too little there: 304 DU would come back.
TEST(ClearSky, finds_the_ozone_of_that_model_in_how_its_beams_fade) {
    const auto rows = read_reference("checks/tuv_clear_sky_spectra.csv");
    const auto beam = [](int nm, double zenith, double ozone_du) {
        Conditions c = tuv();
        c.air.ozone_du = ozone_du;
        const auto air = layers(c.air);
        std::vector<LayerOptics> each;
        for (const Layer& layer : air) each.push_back(optics(layer, c.air.aerosol, nm + 0.5));
        return arriving(air, each, c.albedo, SlantPaths(air, std::array{zenith})).front().direct;
    };
    // How much faster than theirs our beams fade between 30 and 60 degrees, over 300-310 nm; falls with ozone.
    const auto excess = [&](double ozone_du) {
        double sum = 0;
        for (const Row& row : rows) {
            const int nm = static_cast<int>(number(row, "wavelength_nm"));
            if (nm < 300 || nm >= 310) continue;
            sum += std::log(beam(nm, 60, ozone_du) / beam(nm, 30, ozone_du)) -
                   std::log(number(row, "direct_60") / number(row, "direct_30"));
        }
        return sum;
    };
    double low = 280, high = 320;
    while (high - low > 0.1) {
        const double middle = (low + high) / 2;
        (excess(middle) > 0 ? low : high) = middle;
    }
    RecordProperty("recovered_du", std::to_string(low));
    EXPECT_NEAR(low, 300, 1);
}

TEST(ClearSky, follows_the_uv_index_formula_of_madronich) {
    // Low aerosol, low albedo. The formula is itself a 10 % fit: at 60 degrees and 300 DU the full model above lies 10 % below
    // it (2.11 against 2.34), and ours with it. 12 % before, 15 % there; beyond, it is not held to.
    for (const Row& row : read_reference("checks/clear_sky_uvi_checks.csv")) {
        const double zenith = number(row, "solar_zenith_deg");
        if (zenith > 60) continue;
        Conditions c;
        c.air.ozone_du = number(row, "ozone_du");
        const double uvi = measure(clear_sky(c, zenith).total(), Quantity::uvi);
        EXPECT_NEAR(uvi / number(row, "uvi"), 1, zenith < 60 ? 0.12 : 0.15)
            << row.at("solar_zenith_deg") << " " << row.at("ozone_du");
    }
}

TEST(ClearSky, falls_with_ozone_as_published) {
    // Radiation amplification factor -1.1 to -1.3 (Madronich 2007: -1.23; Hall 2017, Atmosphere 8:153: -1.1).
    for (const double zenith : {0.0, 30.0, 60.0}) {
        Conditions less, more;
        less.air.ozone_du = 290;
        more.air.ozone_du = 310;
        const double factor = std::log(measure(clear_sky(more, zenith).total(), Quantity::uvi) /
                                       measure(clear_sky(less, zenith).total(), Quantity::uvi)) /
                              std::log(310.0 / 290);
        EXPECT_GE(factor, -1.3) << zenith;
        EXPECT_LE(factor, -1.05) << zenith;  // the -1.1 is given to one decimal
    }
}

double rise_per_km(Quantity quantity, double from_m, double to_m, double zenith) {
    Conditions low, high;
    low.air.elevation_m = from_m;
    high.air.elevation_m = to_m;
    const double ratio = measure(clear_sky(high, zenith).total(), quantity) /
                         measure(clear_sky(low, zenith).total(), quantity);
    return 100 * (std::pow(ratio, 1000 / (to_m - from_m)) - 1);
}

TEST(ClearSky, grows_with_altitude_as_published) {
    // Erythemal light: 6 % a kilometre (US EPA, Calculating the UV Index) to 10-12 % (WHO 2002, Global Solar UV Index: a
    // practical guide), in the Alps 10.7 % (Schmucki & Philipona 2002, Opt. Eng. 41:3090). Blumthaler et al. 1997 (J.
    // Photochem. Photobiol. B 39:130) measured 15-18 %, with the haze, the snow and the ozone of Alpine valleys, which a
    // clean standard atmosphere has not.
    const double erythemal = rise_per_km(Quantity::uvi, 577, 2300, 30);
    EXPECT_GE(erythemal, 6);
    EXPECT_LE(erythemal, 12);
    // UVA less than UVB, both more than nothing: 9 and 24 % at 370 and 300 nm in that paper.
    const double uva = rise_per_km(Quantity::uva, 577, 2300, 30);
    EXPECT_GT(uva, 2);
    EXPECT_LT(uva, erythemal);
}

TEST(ClearSky, is_brightened_by_the_ground_as_published) {
    // 1/(1 - a s) with the sky's own albedo s, 0.3-0.4 in the clear ultraviolet (Lenoble 1998, Appl. Opt. 37:2441).
    int seen = 0;
    for (const Row& row : read_reference("checks/solar_uvi_checks.csv")) {
        if (row.at("kind") != "albedo_enhancement" ||
            row.at("condition").find("spherical albedo 0.3") == std::string::npos)
            continue;
        const double albedo = std::stod(row.at("condition").substr(std::string("ground albedo ").size()));
        Conditions black, ground;
        black.albedo = 0;
        ground.albedo = albedo;
        const double ratio = measure(clear_sky(ground, 45).total(), Quantity::uvi) /
                             measure(clear_sky(black, 45).total(), Quantity::uvi);
        EXPECT_GE(ratio, 0.995 / (1 - 0.3 * albedo)) << albedo;
        EXPECT_LE(ratio, 1.005 / (1 - 0.4 * albedo)) << albedo;
        ++seen;
    }
    EXPECT_EQ(seen, 5);
}

TEST(ClearSky, is_brighter_in_january_than_in_july_by_the_square_of_the_distance) {
    Conditions january, july;
    january.distance_au = 0.98329;
    july.distance_au = 1.01671;
    EXPECT_NEAR(measure(clear_sky(january, 30).total(), Quantity::uvi) /
                    measure(clear_sky(july, 30).total(), Quantity::uvi),
                1.0691, 1e-4);
}

TEST(ClearSky, is_dark_when_the_sun_is_down) {
    EXPECT_EQ(clear_sky({}, 90.0).total().sum(), 0);
    EXPECT_EQ(clear_sky({}, 130.0).total().sum(), 0);
}

TEST(AirsIndex, is_that_of_the_wavelengths_of_mercury) {
    // Sansonetti, Salit & Reader 1996 (Appl. Opt. 35:74): lines of 198Hg in vacuum and in air of 15 C; from memory, and
    // equal to the usual difference of 0.09 to 0.12 nm there.
    for (const auto& [vacuum, air] :
         {std::pair{253.7283, 253.6521}, {296.8149, 296.7283}, {404.7708, 404.6565}})
        EXPECT_NEAR(vacuum / index_of_air(vacuum), air, 5e-4) << vacuum;
}

TEST(OzoneCrossSection, is_that_of_the_check_table_at_its_whole_nanometres_in_air) {
    for (const Row& row : read_reference("checks/ozone_cross_section.csv")) {
        const double nm = number(row, "wavelength_nm");
        if (nm > 344) continue;
        for (const int kelvin : {218, 228, 243, 295}) {
            const double cm2 = number(row, "bdm_" + std::to_string(kelvin) + "k_cm2");
            // The table counts the ends of its nanometres otherwise: an optical depth of 4e-4 at 300 DU.
            EXPECT_NEAR(ozone_cross_section_cm2(nm * index_of_air(nm), kelvin), cm2, 0.003 * cm2 + 5e-23)
                << nm << " nm " << kelvin << " K";
        }
    }
}

TEST(Atmosphere, has_the_columns_asked_for) {
    Air air;
    air.ozone_du = 350;
    air.aerosol.optical_depth_550nm = 0.2;
    double ozone = 0, haze = 0, molecules = 0;
    for (const Layer& layer : layers(air)) {
        ozone += layer.ozone;
        haze += layer.aerosol;
        molecules += layer.air;
    }
    EXPECT_NEAR(ozone / 2.6867e16, 350, 1e-9);
    EXPECT_NEAR(haze, 0.2, 1e-12);
    EXPECT_NEAR(molecules / 2.1536e25, 1, 0.005);  // US Standard Atmosphere 1976: 1013.25 hPa / (g m)
    air.elevation_m = 1500;
    double above = 0;
    for (const Layer& layer : layers(air)) above += layer.air;
    EXPECT_NEAR(above / molecules, 845.6 / 1013.25, 0.01);  // its pressure at 1500 m
}

}  // namespace
}  // namespace dapple::sky
