// The whole model: books that balance, more heat that warms more, and the bounds it must keep.
#include "warmth/warmth.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <numeric>

#include "light/lamp.h"
#include "scene/document.h"
#include "warm_rooms.h"
#include "warmth/convection.h"
#include "warmth/openings.h"
#include "warmth/radiation.h"

namespace dapple::tests {
namespace {

using namespace warmth;
using scene::Vec3;

double between(double low, double high) {
    return low + (high - low) * *rc::gen::inRange(0, 100001) / 100000.0;
}

// Direct light is enough where only more or less counts.
light::Field direct_light(const scene::Enclosure& enclosure) {
    light::FieldOptions direct;
    direct.bounces = 0;
    return light::Field(enclosure, direct);
}

double surface_c(const scene::Enclosure& enclosure) {
    return Warmth(direct_light(enclosure), spots_of(enclosure)).at_spots().front().surface_c;
}

scene::Enclosure some_box() {
    const std::vector<std::string> materials = {"pvc_white", "wood", "float_glass", "aluminium",
                                                "polystyrene"};
    scene::Enclosure box = warm_box(*rc::gen::elementOf(materials),
                                    *rc::gen::element<std::string>("open", "wood", "float_glass"));
    box.size = {between(0.4, 2), between(0.3, 1), between(0.3, 1.2)};
    box.lamps.clear();
    const int lamps = *rc::gen::inRange(1, 4);
    for (int i = 0; i < lamps; ++i) {
        const bool above = !box.walls[5] && *rc::gen::arbitrary<bool>();
        const double z = above ? box.size.z() + 0.05 : between(0.6, 0.95) * box.size.z();
        box.lamps.push_back(halogen({between(0.2, 0.8) * box.size.x(), between(0.2, 0.8) * box.size.y(), z},
                                    between(0, 30000), between(10, 150)));
    }
    if (*rc::gen::arbitrary<bool>()) box.furniture.push_back(stone());
    if (!box.walls[5] && *rc::gen::arbitrary<bool>()) {
        box.screens.push_back(
            {"lid", "Lid", {{0, 0, box.size.z()}, box.size}, 2, scene::Mesh{2e-3, 0.4e-3}, {}});
    }
    box.room.day_c = between(5, 30);
    box.room.air_changes_per_h = between(0, 10);
    box.spots = {bask_at({box.size.x() / 2, box.size.y() / 2, 0})};
    return box;
}

// 0.1 % is promised; Newton leaves a millionth of a watt, and where a kink stops it some hundred-thousandths of the heat.
RC_GTEST_PROP(AnyBoxWithLamps, balances_its_books, ()) {
    const auto box = some_box();
    const Warmth warmth(direct_light(box), spots_of(box));
    const auto state = warmth.state();
    RC_ASSERT(state.balance.closed() < 1e-4);
    RC_ASSERT(state.balance.in_w > 0);
    RC_ASSERT(state.balance.walls_w > -1e-6);
    RC_ASSERT(state.balance.air_w > -1e-6);
}

// Nothing is lost on the way: what goes in, is lost through the lid and leaves with the light is the lamps' power.
RC_GTEST_PROP(AnyBoxWithLamps, accounts_for_every_watt_of_lamp_light, ()) {
    const auto box = some_box();
    for (const LightShares& shares : where_light_ends(box)) {
        RC_ASSERT(std::abs(shares.sum() - 1) < 1e-9);
        for (const double share : shares.surface) RC_ASSERT(share >= 0);
        RC_ASSERT(shares.lost >= 0);
    }
}

RC_GTEST_PROP(AnyBoxWithLamps, is_nowhere_cooler_than_its_room, ()) {
    const auto box = some_box();
    const Warmth warmth(direct_light(box), spots_of(box));
    const auto state = warmth.state();
    const auto& balance = state.balance;
    RC_ASSERT(balance.lower_k >= balance.room_k - 1e-3);
    // Warm air rises: above a lit floor and below a cold top an inversion mixes, but it needs a little to drive it (0.4 K
    // is the most that was met; our judgement of the limit).
    RC_ASSERT(balance.upper_k >= balance.lower_k - 1.0);
    RC_ASSERT(warmth.at_spots().front().surface_c >= balance.room_k - zero_c - 1e-3);
}

RC_GTEST_PROP(ABaskingPlace, is_warmer_under_a_brighter_lamp, ()) {
    auto box = warm_box(*rc::gen::element<std::string>("pvc_white", "wood", "float_glass"));
    const double low = between(1000, 20000);
    box.lamps = {halogen({0.3, 0.3, 0.5}, low, 60)};
    const double dim = surface_c(box);
    box.lamps = {halogen({0.3, 0.3, 0.5}, low * between(1.05, 2), 60)};
    RC_ASSERT(surface_c(box) > dim);
}

RC_GTEST_PROP(ABaskingPlace, is_warmer_under_a_lamp_of_more_watts, ()) {
    auto box = warm_box();
    const double watts = between(20, 150);
    // One whose light nobody measured, and one whose light is known: its body warms the air.
    const double lux = *rc::gen::element(0.0, 8000.0);
    box.lamps = {halogen({0.3, 0.3, 0.5}, lux, watts)};
    const double weak = surface_c(box);
    box.lamps = {halogen({0.3, 0.3, 0.5}, lux, watts * between(1.05, 2) + 5)};
    RC_ASSERT(surface_c(box) > weak);
}

RC_GTEST_PROP(ABaskingPlace, is_cooler_further_from_the_lamp, ()) {
    auto box = warm_box("black");
    box.size.z() = 1.2;
    const double near = between(0.2, 0.6);
    const double far = near + between(0.05, 0.5);
    box.lamps = {halogen({0.3, 0.3, near}, 18000, 60)};
    const double close = surface_c(box);
    box.lamps = {halogen({0.3, 0.3, far}, 18000, 60)};
    RC_ASSERT(surface_c(box) < close);
}

RC_GTEST_PROP(ABaskingPlace, follows_the_room, ()) {
    auto box = warm_box();
    box.room.day_c = between(10, 25);
    const double cool = surface_c(box);
    box.room.day_c += between(1, 10);
    RC_ASSERT(surface_c(box) > cool);
}

// What the reader lets pass must not break: a matchbox under a searchlight, a hall with a glow-worm.
TEST(ExtremeEnclosures, have_finite_temperatures_or_are_called_out) {
    for (const double side : {1e-3, 0.05, 100.0}) {
        for (const double lux : {0.0, 1e-3, 1e8}) {
            auto box = warm_box("polystyrene", "polystyrene");
            box.size = {side, side, side};
            box.room.air_changes_per_h = 0;
            box.lamps = {halogen({side / 2, side / 2, side * 0.9}, lux, 10000)};
            box.spots = {bask_at({side / 2, side / 2, 0})};
            const auto report = warmth::report(direct_light(box));
            EXPECT_TRUE(std::isfinite(report.spots[0].surface_c)) << side << " m, " << lux << " lx";
            EXPECT_TRUE(std::isfinite(report.spots[0].air_c)) << side << " m, " << lux << " lx";
            const bool called_out =
                report.notes.front().find("not to be used") != std::string::npos ||
                (report.notes.size() > 1 && report.notes[1].find("not to be used") != std::string::npos);
            EXPECT_TRUE(report.balance.closed() < 1e-3 || called_out) << side << " m, " << lux << " lx";
        }
    }
}

TEST(ABoxWithoutPower, is_as_warm_as_its_room) {
    auto box = warm_box();
    box.lamps.clear();
    box.room.day_c = 19;
    const auto report = warmth::report(light::Field(box));
    EXPECT_NEAR(report.spots.front().surface_c, 19, 1e-3);
    EXPECT_NEAR(report.spots.front().air_c, 19, 1e-9);
    // Even then the room is not known better than to 1 K, nor the model than to 1 K.
    EXPECT_LT(report.spots.front().interval.first, 18);
    EXPECT_GT(report.spots.front().interval.second, 20);
}

TEST(AHalogen, gives_the_light_that_was_measured_and_warms_with_the_rest) {
    const scene::Lamp lamp = halogen({0.3, 0.3, 0.5}, 18000, 60);
    const LampHeat heat = lamp_heat(lamp);
    EXPECT_FALSE(heat.over_power);
    EXPECT_NEAR(heat.power(), 60, 1e-9);
    // Of 60 W a halogen radiates 85-90 %; a reflector's beam holds about half to nine tenths of the power.
    EXPECT_GT(heat.with_light, 25);
    EXPECT_LT(heat.with_light, 55);
    EXPECT_GT(heat.body_air, heat.body_radiation / 4);
    EXPECT_TRUE(lamp_heat(halogen({0.3, 0.3, 0.5}, 80000, 60)).over_power);
}

TEST(ALampOfUnknownOutput, shines_by_its_power_as_if_it_had_been_measured) {
    const scene::Lamp dark = halogen({0.3, 0.3, 0.5}, 0, 60);
    const scene::Lamp lit = lit_by_power(dark);
    ASSERT_EQ(lit.output.size(), 1u);
    EXPECT_NEAR(lamp_heat(lit).with_light, lamp_heat(dark).with_light, 1e-9 * 60);
}

// The flux of a lamp in closed form against the rays' own sums would only repeat the distribution; against light::Field
// it tells: all light of a lamp in a closed black box ends on its walls.
TEST(ALampsFlux, is_what_the_walls_of_a_black_box_receive) {
    scene::Enclosure box = warm_box("black", "black");
    box.walls[0] = *spectrum::find_material("black");
    scene::Lamp tube = halogen({0.6, 0.3, 0.3}, 0, 20);
    tube.shape = scene::Tube{0.5, 0.016, Vec3::UnitX(), -Vec3::UnitZ(), 2, false};
    tube.output = {{spectrum::Quantity::irradiance, 40, 0.3}};
    scene::Lamp spot = halogen({0.6, 0.3, 0.5}, 18000, 60);
    for (const scene::Lamp& lamp : {tube, spot}) {
        box.lamps = {lamp};
        const light::Field field(box);
        double received = 0;
        constexpr int n = 60;
        for (const auto& [corner, u, v] :
             std::vector<std::tuple<Vec3, Vec3, Vec3>>{{{0, 0, 0}, {1.2, 0, 0}, {0, 0.6, 0}},
                                                       {{0, 0, 0.6}, {0, 0.6, 0}, {1.2, 0, 0}},
                                                       {{0, 0, 0}, {0, 0.6, 0}, {0, 0, 0.6}},
                                                       {{1.2, 0, 0}, {0, 0, 0.6}, {0, 0.6, 0}},
                                                       {{0, 0, 0}, {0, 0, 0.6}, {1.2, 0, 0}},
                                                       {{0, 0.6, 0}, {1.2, 0, 0}, {0, 0, 0.6}}}) {
            const Vec3 normal = u.cross(v).normalized();
            std::vector<Vec3> points;
            for (int i = 0; i < n * n; ++i) {
                points.emplace_back(corner + (i % n + 0.5) / n * u + (i / n + 0.5) / n * v + 1e-4 * normal);
            }
            const auto values =
                field.values(points, spectrum::Quantity::irradiance, light::Facing::fixed(normal));
            received += std::accumulate(values.begin(), values.end(), 0.0) * u.norm() * v.norm() / (n * n);
        }
        const double flux = light::strength(lamp) * flux_at_unit_strength(lamp) *
                            spectrum::measure(lamp.spectrum.relative, spectrum::Quantity::irradiance);
        // Midpoints of a centimetre or two over a smooth distribution, and 0.02 of the walls' black reflected.
        EXPECT_NEAR(received, flux, 0.03 * flux);
    }
}

TEST(AnEmitter, warms_without_light) {
    auto box = warm_box();
    box.lamps = {halogen({0.3, 0.3, 0.5}, 0, 60)};
    box.lamps[0].heat_kind = scene::HeatKind::emitter;
    const light::Field field(box);
    EXPECT_EQ(field.at({0.3, 0.3, 0.02}).measure(spectrum::Quantity::irradiance), 0);
    EXPECT_GT(Warmth(field, spots_of(box)).at_spots().front().surface_c, box.room.day_c + 5);
}

TEST(AThermostat, holds_the_basking_place) {
    auto box = warm_box();
    box.furniture = {stone()};
    box.spots = {bask_at({0.3, 0.3, 0.08})};
    box.lamps = {halogen({0.3, 0.3, 0.5}, 25000, 100)};
    const double free = surface_c(box);
    box.lamps[0].thermostat_c = free - 6;
    const Warmth held(light::Field(box), spots_of(box));
    const auto state = held.state();
    EXPECT_GT(state.on[0], 0);
    EXPECT_LT(state.on[0], 1);
    // Twelve halvings of a lamp that warms by 20 K or so.
    EXPECT_NEAR(held.at_spots().front().surface_c, free - 6, 0.02);
    box.lamps[0].thermostat_c = free + 20;
    EXPECT_EQ(Warmth(light::Field(box), spots_of(box)).state().on[0], 1);
}

TEST(ByNight, only_lamps_that_never_go_off_warm) {
    auto box = warm_box();
    box.room.night_c = 17;
    const light::Field field(box);
    EXPECT_NEAR(report(field).spots.front().night_c, 17, 1e-3);
    box.lamps[0].hours_on = 24;
    EXPECT_GT(report(light::Field(box)).spots.front().night_c, 18);
}

TEST(AnOpenTop, cools_and_mesh_keeps_some_of_it) {
    auto box = warm_box("wood", "wood");
    const auto air = [&] { return Warmth(light::Field(box), spots_of(box)).state().balance.upper_k; };
    const double closed = air();
    box.walls[5].reset();
    const double open = air();
    box.screens = {{"lid", "Lid", {{0, 0, 0.6}, {1.2, 0.6, 0.6}}, 2, scene::Mesh{1e-3, 0.4e-3}, {}}};
    const double meshed = air();
    EXPECT_LT(open, meshed);
    EXPECT_LT(meshed, closed);
}

TEST(ThickerWalls, keep_more_heat) {
    auto box = warm_box("wood", "wood");
    const double thin = surface_c(box);
    box.room.wall_thickness.fill(0.05);
    EXPECT_GT(surface_c(box), thin);
}

// A slab in still, wide surroundings: the surface's balance in closed books, term by term.
TEST(ABaskingSurface, loses_what_it_absorbs) {
    Ground ground;
    ground.length = 0.06;
    ground.emissivity = 0.93;
    ground.conductance = 8;
    const Around around{300, 298, 297};
    for (const double absorbed : {0.0, 20.0, 200.0, 900.0}) {
        const double t = surface_k(absorbed, ground, around, {});
        const double lost = convection(Side::up, 0.06, t, 300) * (t - 300) +
                            0.93 * (black_emittance(t) - black_emittance(298)) + 8 * (t - 297);
        EXPECT_NEAR(lost, absorbed, 0.001 * absorbed + 0.01);
    }
}

TEST(TheInterval, grows_with_the_warmth_and_names_its_causes) {
    auto box = warm_box();
    const auto warm = report(light::Field(box));
    box.lamps[0].output[0].value /= 10;
    box.lamps[0].power_w = 6;
    const auto cool = report(light::Field(box));
    const auto width = [](const Report& r) {
        return r.spots.front().interval.second - r.spots.front().interval.first;
    };
    EXPECT_GT(width(warm), width(cool));
    const Warmth model(light::Field(box), spots_of(box));
    for (const Sensitivity& s : sensitivities(model)) {
        // More loss or flow cools, more light, heat and room warms: signs that a slip would turn.
        if (s.assumption.of == "heat" || s.assumption.of == "room" || s.assumption.of == "absorptance") {
            EXPECT_GT(s.surface_k.front(), 0) << s.assumption.of;
        }
        if (s.assumption.of == "wall_loss" || s.assumption.of == "leak" || s.assumption.of == "conduction") {
            EXPECT_LT(s.surface_k.front(), 0) << s.assumption.of;
        }
    }
}

// Reflected light is spread evenly by a glance: exact where walls are black, near in a white box, where it is a third
// of what warms a stone.
TEST(AGlance, tells_about_what_the_whole_model_tells) {
    for (const auto& [walls, off] : {std::pair("black", 0.5), std::pair("pvc_white", 1.5)}) {
        auto box = warm_box(walls, walls);
        box.furniture = {stone()};
        box.spots = {bask_at({0.3, 0.3, 0.08}), bask_at({1.0, 0.3, 0})};
        const auto whole = Warmth(light::Field(box), spots_of(box)).at_spots();
        const auto quick = glance(box);
        ASSERT_EQ(quick.size(), 2u);
        for (const std::size_t i : {0u, 1u}) {
            EXPECT_NEAR(quick[i].surface_c, whole[i].surface_c, off) << walls;
            EXPECT_NEAR(quick[i].air_c, whole[i].air_c, 1e-6) << walls;  // the air's balance is the same
        }
    }
}

}  // namespace
}  // namespace dapple::tests
