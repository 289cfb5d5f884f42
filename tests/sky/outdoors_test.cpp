// Sun and sky in enclosures outdoors: the open field, mesh, glass, shadows, compass.
#include "sky/outdoors.h"

#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include "reference.h"

namespace dapple::sky {
namespace {

using namespace tests;
using light::Facing;
using scene::Vec3;
using spectrum::Quantity;

// A pen of open walls over soil.
scene::Enclosure open_pen() {
    scene::Enclosure pen;
    pen.id = pen.name = "pen";
    pen.size = {2, 1.5, 1};
    pen.walls[static_cast<std::size_t>(scene::Face::floor)] = *spectrum::find_material("soil");
    return pen;
}

// A pen that only its roof lets light into.
scene::Enclosure roofed_pen(decltype(scene::Screen::kind) roof) {
    auto pen = open_pen();
    for (auto& wall : pen.walls) wall = *spectrum::find_material("black");
    pen.walls[static_cast<std::size_t>(scene::Face::top)].reset();
    pen.size = {400, 400, 0.02};  // wide and flat: the middle sees nothing but roof
    scene::Screen screen;
    screen.id = screen.name = "roof";
    screen.box = {Vec3(0, 0, 0.02), Vec3(400, 400, 0.02)};
    screen.normal_axis = 2;
    screen.kind = std::move(roof);
    pen.screens.push_back(screen);
    return pen;
}

Outside at_zenith(double zenith_deg, double azimuth_deg = 180) {
    Conditions c;
    c.air.ozone_du = 300;
    c.albedo = 0.1;
    return {direction_of(azimuth_deg, 90 - zenith_deg, 0), clear_sky(c, zenith_deg), c};
}

TEST(Compass, turns_the_sun_into_the_enclosures_frame) {
    const auto near = [](const Vec3& a, const Vec3& b) { return (a - b).norm() < 1e-12; };
    EXPECT_TRUE(near(direction_of(0, 0, 0), Vec3(0, 1, 0)));      // north is at the back
    EXPECT_TRUE(near(direction_of(90, 0, 0), Vec3(1, 0, 0)));     // and east to the right
    EXPECT_TRUE(near(direction_of(180, 0, 180), Vec3(0, 1, 0)));  // the back to the south
    EXPECT_TRUE(near(direction_of(90, 0, 180), Vec3(-1, 0, 0)));  // east is to the left then
    EXPECT_NEAR(direction_of(123, 30, 45).z(), 0.5, 1e-12);
}

TEST(AnOpenPen, has_the_light_of_the_open_field) {
    const OutdoorLight light(open_pen(), {Vec3(1, 0.7, 0.05)});
    for (const double zenith : {5.0, 40.0, 75.0}) {
        const auto now = at_zenith(zenith);
        for (const Quantity quantity : {Quantity::uvi, Quantity::d3, Quantity::lux, Quantity::irradiance}) {
            const double open = measure(now.light.total(), quantity);
            EXPECT_NEAR(light.values(now, quantity, Facing::up())[0] / open, 1, 1e-6) << zenith;
            EXPECT_NEAR(measure(light.spectrum_at(0, now, Facing::up()), quantity) / open, 1, 1e-6) << zenith;
        }
        // A meter turned for its highest value reads at least what a flat one does.
        EXPECT_GE(light.values(now, Quantity::uvi)[0], 0.9999 * measure(now.light.total(), Quantity::uvi));
        EXPECT_NEAR(measure(light.spectrum_at(0, now), Quantity::uvi), light.values(now, Quantity::uvi)[0],
                    1e-6);
        EXPECT_NEAR(light.sun_through(now, Quantity::uvi)[0], 1, 1e-6);
    }
}

TEST(AnyPen, is_dark_at_night) {
    const OutdoorLight light(open_pen(), {Vec3(1, 0.7, 0.05)});
    Outside night = at_zenith(60);
    night.to_sun.z() = -0.5;
    EXPECT_EQ(light.values(night, Quantity::uvi)[0], 0);
    EXPECT_EQ(light.spectrum_at(0, night).sum(), 0);
    EXPECT_EQ(light.sun_through(night, Quantity::uvi)[0], 0);
}

TEST(AMeshRoof, lets_through_the_diffuse_and_the_direct_light_that_the_mesh_does) {
    int diffuse_rows = 0, direct_rows = 0;
    for (const Row& row : read_reference("checks/mesh_checks.csv")) {
        const scene::Mesh mesh{number(row, "pitch_mm") / 1000, number(row, "wire_mm") / 1000};
        const OutdoorLight light(roofed_pen(mesh), {Vec3(200, 200, 0)});
        const double want = number(row, "transmittance");
        if (row.at("angle_deg") == "diffuse") {
            // An even sky: the brightness of an overcast one in this model.
            Outside now = at_zenith(40);
            now.light.direct.setZero();
            EXPECT_NEAR(light.values(now, Quantity::uvi, Facing::up())[0] /
                            measure(now.light.diffuse, Quantity::uvi) / want,
                        1, 0.01);
            ++diffuse_rows;
        } else if (number(row, "angle_deg") > 0 && number(row, "angle_deg") <= 75) {
            const auto now = at_zenith(number(row, "angle_deg"), number(row, "azimuth_deg"));
            EXPECT_NEAR(light.sun_through(now, Quantity::uvi)[0], want,
                        0.004);  // the disc is half a degree wide
            ++direct_rows;
        }
    }
    EXPECT_EQ(diffuse_rows, 6);
    EXPECT_EQ(direct_rows, 48);
}

TEST(AGlassRoof, leaves_a_part_of_the_uv_index_and_next_to_nothing_of_what_makes_vitamin_d3) {
    // trade_checks.csv: 4 mm float glass, sun and sky keep 8, 10, 19, 31 % of their UVI at zenith 0, 30, 60, 75 degrees,
    // nearly all UVA, and under 2 % of their D3-effective irradiance.
    std::string words;
    for (const Row& row : read_reference("checks/trade_checks.csv")) {
        if (row.at("fact").find("Window glass") != std::string::npos) words = row.at("check");
    }
    std::smatch found;
    ASSERT_TRUE(std::regex_search(words, found, std::regex("keeps (\\d+), (\\d+), (\\d+), (\\d+) %")))
        << words;
    const OutdoorLight light(roofed_pen(scene::Pane{*spectrum::find_material("float_glass"), 0.004}),
                             {Vec3(200, 200, 0)});
    EXPECT_TRUE(light.has_panes());
    std::size_t i = 1;
    for (const double zenith : {0.0, 30.0, 60.0, 75.0}) {
        const auto now = at_zenith(zenith);
        const auto behind = light.spectrum_at(0, now, Facing::up());
        const auto open = now.light.total();
        const double share = measure(behind, Quantity::uvi) / measure(open, Quantity::uvi);
        const double want = std::stod(found[i++].str()) / 100;
        EXPECT_NEAR(share / want, 1, 0.2) << zenith;
        EXPECT_LT(measure(behind, Quantity::d3), 0.02 * measure(open, Quantity::d3)) << zenith;
        EXPECT_NEAR(light.values(now, Quantity::uvi, Facing::up())[0], measure(behind, Quantity::uvi), 1e-9);
    }
}

TEST(AGlassWall, is_a_pane_to_the_sun) {
    auto pen = open_pen();
    for (auto& wall : pen.walls) wall = *spectrum::find_material("float_glass");
    pen.walls[static_cast<std::size_t>(scene::Face::floor)] = *spectrum::find_material("soil");
    const OutdoorLight light(pen, {Vec3(1, 0.7, 0.05)});
    const auto now = at_zenith(30);
    const auto behind = light.spectrum_at(0, now);
    EXPECT_GT(measure(behind, Quantity::lux), 0.6 * measure(now.light.total(), Quantity::lux));
    EXPECT_LT(measure(behind, Quantity::d3), 0.02 * measure(now.light.total(), Quantity::d3));
}

TEST(TwoPanes, are_not_the_square_of_one) {
    // What the first lets through is what the second lets through best: spectra are multiplied, not shares.
    auto twice = roofed_pen(scene::Pane{*spectrum::find_material("float_glass"), 0.004});
    const OutdoorLight one(twice, {Vec3(200, 200, 0)});
    auto second = twice.screens[0];
    second.id = "second";
    second.box.min.z() = second.box.max.z() = 0.01;
    twice.screens.push_back(second);
    const OutdoorLight two(twice, {Vec3(200, 200, 0)});
    const auto now = at_zenith(30);
    const double open = measure(now.light.total(), Quantity::uvi);
    const double once = one.values(now, Quantity::uvi, Facing::up())[0] / open;
    EXPECT_GT(two.values(now, Quantity::uvi, Facing::up())[0] / open, 3 * once * once);
}

TEST(PanesOnEverySide, colour_each_part_of_the_sky_by_the_pane_it_is_seen_through) {
    // One number for all parts of the sky, and the whole spectrum followed apart, are two ways to the same value.
    auto pen = roofed_pen(scene::Pane{*spectrum::find_material("acrylic"), 0.003});
    pen.size = {1.5, 1, 0.6};
    pen.screens[0].box = {Vec3(0, 0, 0.6), Vec3(0.8, 1, 0.6)};
    for (const auto face : {scene::Face::left, scene::Face::right, scene::Face::front, scene::Face::back})
        pen.walls[static_cast<std::size_t>(face)] = *spectrum::find_material("float_glass");
    const OutdoorLight light(pen, {Vec3(0.3, 0.5, 0.1), Vec3(0.7, 0.2, 0.1), Vec3(1.2, 0.5, 0.1)});
    for (const double zenith : {30.0, 70.0}) {
        const auto now = at_zenith(zenith, 140);
        for (const Quantity quantity : {Quantity::uvi, Quantity::d3, Quantity::uva, Quantity::lux}) {
            const auto lit = light.lit(now, quantity, Facing::up());
            for (std::size_t i = 0; i < 3; ++i) {
                const double apart = measure(light.spectrum_at(i, now, Facing::up()), quantity);
                EXPECT_NEAR(lit.values[i] / apart, 1, 0.01) << name(quantity) << " " << i;
                EXPECT_GE(lit.sun_share[i], 0);
                EXPECT_LE(lit.sun_share[i], 1);
            }
        }
    }
}

TEST(AWall, throws_its_shadow_away_from_the_sun) {
    auto pen = open_pen();
    pen.walls[static_cast<std::size_t>(scene::Face::right)] =
        *spectrum::find_material("wood");  // east, 1 m high
    const OutdoorLight light(pen, {Vec3(1.6, 0.7, 0.01), Vec3(0.4, 0.7, 0.01)});
    // From the east at 40 degrees the shadow is 1.19 m long: it covers the first point, not the second.
    const auto morning = light.sun_through(at_zenith(50, 90), Quantity::uvi);
    EXPECT_EQ(morning[0], 0);
    EXPECT_NEAR(morning[1], 1, 1e-6);
    const auto evening = light.sun_through(at_zenith(50, 270), Quantity::uvi);
    EXPECT_NEAR(evening[0], 1, 1e-6);
    const auto uvi = light.values(at_zenith(50, 90), Quantity::uvi);
    EXPECT_LT(uvi[0], uvi[1]);
    EXPECT_GT(uvi[0], 0.2 * uvi[1]);  // the sky still shines into the shadow
}

TEST(FurnitureAndLeaves, shade_the_sun) {
    auto pen = open_pen();
    pen.furniture.push_back({"table", "table",
                             scene::BoxShape{{Vec3(0.5, 0.5, 0.5), Vec3(0.9, 0.9, 0.52)}, Vec3::Zero()},
                             *spectrum::find_material("wood"), false});
    pen.foliage.push_back(
        {"bush", "bush", scene::BoxShape{{Vec3(1.2, 0.5, 0.3), Vec3(1.6, 0.9, 0.7)}, Vec3::Zero()}, 5});
    scene::Screen cloth;
    cloth.id = cloth.name = "shade cloth";
    cloth.box = {Vec3(0, 1.2, 0.9), Vec3(2, 1.5, 0.9)};
    cloth.normal_axis = 2;
    cloth.transmittance = 0.3;
    pen.screens.push_back(cloth);
    const OutdoorLight light(
        pen, {Vec3(0.7, 0.7, 0.05), Vec3(1.4, 0.7, 0.05), Vec3(1, 1.35, 0.05), Vec3(0.2, 0.2, 0.05)});
    const auto through = light.sun_through(at_zenith(0.01), Quantity::uvi);
    EXPECT_EQ(through[0], 0);
    EXPECT_NEAR(through[1], std::exp(-0.5 * 5 * 0.4), 1e-3);
    EXPECT_NEAR(through[2], 0.3, 1e-6);
    EXPECT_NEAR(through[3], 1, 1e-6);
}

TEST(TheSky, is_brighter_round_the_sun_and_near_the_horizon) {
    Conditions c;
    const auto light = clear_sky(c, 50.0);
    const Vec3 sun = direction_of(90, 40, 0);
    const auto parts = upper_parts(40, 60);
    const auto beams = sky_beams(c, light, 380, sun, parts);
    const auto brightness = [&](const Vec3& direction) {
        const auto nearest = std::max_element(parts.begin(), parts.end(), [&](const Part& a, const Part& b) {
            return a.direction.dot(direction) < b.direction.dot(direction);
        });
        return beams[static_cast<std::size_t>(nearest - parts.begin())] / nearest->solid_angle;
    };
    const double across = brightness(direction_of(270, 50, 0));  // at a right angle to the sun
    EXPECT_GT(brightness(sun), 1.5 * across);
    EXPECT_GT(brightness(direction_of(270, 10, 0)), 1.1 * across);
    double horizontal = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        EXPECT_GT(beams[i], 0);
        horizontal += beams[i] * parts[i].direction.z();
    }
    EXPECT_NEAR(horizontal, 1, 1e-9);
}

}  // namespace
}  // namespace dapple::sky
