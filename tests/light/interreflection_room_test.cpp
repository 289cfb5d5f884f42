#include <gtest/gtest.h>
#include <oneapi/tbb/global_control.h>

#include <cmath>

#include "interreflection_rooms.h"
#include "light/attenuation.h"
#include "light/interreflection.h"

namespace dapple::light {
namespace {

using namespace rooms;

const std::vector<Vec3> directions = {Vec3(0, 0, 1), Vec3(0, 0, -1), Vec3(1, 0, 0), Vec3(0.6, 0, -0.8),
                                      Vec3(-0.48, 0.64, 0.6)};

// In a closed room whose every surface is lit alike and reflects alike, all radiosities are equal (a furnace):
// after n reflections rho + rho^2 + ... + rho^n, and a receiver anywhere sees just that, whichever way it looks.
double furnace(double rho, int reflections) {
    double sum = 0;
    for (int k = 1; k <= reflections; ++k) sum += std::pow(rho, k);
    return sum;
}

scene::Enclosure furnished_furnace(double rho) {
    auto room = gray_room(Vec3(0.9, 0.5, 0.6), rho);
    // Standing on the floor, against a wall, on one another, hanging, turned.
    room.furniture.push_back(
        gray_piece(scene::BoxShape{{Vec3(0, 0.1, 0), Vec3(0.22, 0.3, 0.1)}, Vec3::Zero()}, rho));
    room.furniture.push_back(
        gray_piece(scene::BoxShape{{Vec3(0.03, 0.12, 0.1), Vec3(0.17, 0.26, 0.15)}, Vec3::Zero()}, rho));
    room.furniture.push_back(
        gray_piece(scene::BoxShape{{Vec3(0.4, 0.3, 0.2), Vec3(0.5, 0.4, 0.25)}, Vec3(0.3, 0.4, 0.5)}, rho));
    room.furniture.push_back(
        gray_piece(scene::CylinderShape{Vec3(0.3, 0.1, 0), Vec3(0.6, 0.2, 0.3), 0.04, Vec3::Zero()}, rho));
    room.furniture.push_back(gray_piece(
        scene::EllipsoidShape{Vec3(0.75, 0.25, 0.08), Vec3(0.1, 0.12, 0.08), Vec3(0, 0, 0.4)}, rho));
    room.furniture.push_back(gray_piece(ball(Vec3(0.7, 0.3, 0.4), 0.08, 12), rho));
    auto sheet =
        scene::MeshShape{{Vec3(0.2, 0.35, 0.3), Vec3(0.4, 0.35, 0.35), Vec3(0.2, 0.45, 0.4)}, {{0, 1, 2}}};
    room.furniture.push_back(gray_piece(sheet, rho));
    room.lamps.push_back(point_lamp(Vec3(0.45, 0.25, 0.5)));
    return room;
}

TEST(Furnace, glows_alike_everywhere_after_any_number_of_reflections) {
    for (const double rho : {0.05, 0.5, 0.9}) {
        auto room = gray_room(Vec3(1.2, 0.6, 0.6), rho);
        room.lamps.push_back(point_lamp(Vec3(0.6, 0.3, 0.5)));
        for (const int n : {1, 2, 5}) {
            const Interreflection light(room, everywhere(1), {.bounces = n, .rays_per_patch = 16});
            EXPECT_EQ(light.iterations(), n);
            for (const Vec3& normal : directions) {
                // Radiosities are single precision; the 2048 directions integrate a cosine to 2e-4.
                EXPECT_NEAR(facing(light.gather(0, Vec3(0.3, 0.2, 0.1)), normal) / furnace(rho, n), 1, 4e-4);
            }
        }
    }
}

TEST(Furnace, reaches_its_limit_to_a_thousandth) {
    for (const double rho : {0.05, 0.5, 0.9}) {
        auto room = gray_room(Vec3(1.2, 0.6, 0.6), rho);
        room.lamps.push_back(point_lamp(Vec3(0.6, 0.3, 0.5)));
        const Interreflection light(room, everywhere(1), {.rays_per_patch = 16});
        const double limit = rho / (1 - rho);
        const double found = facing(light.gather(0, Vec3(0.3, 0.2, 0.1)), Vec3::UnitZ());
        EXPECT_NEAR(found / limit, 1, 1e-3 + 4e-4)
            << rho;  // 0.1 % may be under way, and the directions' 4e-4
    }
}

TEST(Furnace, does_not_notice_furniture_whatever_its_shape_and_wherever_it_stands) {
    const double rho = 0.6;
    const Interreflection light(furnished_furnace(rho), everywhere(1), {.bounces = 6, .rays_per_patch = 32});
    for (const Vec3& point : {Vec3(0.1, 0.2, 0.2), Vec3(0.45, 0.25, 0.1), Vec3(0.8, 0.45, 0.3)}) {
        for (const Vec3& normal : directions) {
            // Of some 1e5 rays a handful end in a seam between two pieces; none may make light.
            EXPECT_NEAR(facing(light.gather(0, point), normal) / furnace(rho, 6), 1, 2e-3);
        }
    }
}

IndirectProbe probe_of_band(const Interreflection& light, int band, const Vec3& point) {
    Bands worth = Bands::Zero();
    worth[band] = 1;
    return light.probes(0, worth, std::span(&point, 1)).front();
}

TEST(Furnace, is_seen_by_its_probes_too) {
    const double rho = 0.6;
    const Interreflection light(furnished_furnace(rho), everywhere(1), {.bounces = 6, .rays_per_patch = 32});
    for (const Vec3& point : {Vec3(0.1, 0.2, 0.2), Vec3(0.45, 0.25, 0.1), Vec3(0.89, 0.49, 0.59)}) {
        const IndirectProbe probe = probe_of_band(light, 3, point);
        for (const Vec3& normal : directions) {
            // 512 directions project a constant onto the harmonics to 3e-3.
            EXPECT_NEAR(probe.irradiance(normal) / furnace(rho, 6), 1, 4e-3);
            EXPECT_NEAR(probe.flux().dot(normal) / furnace(rho, 6), 0, 4e-3);
        }
    }
}

TEST(BlackRoom, returns_nothing) {
    auto room = gray_room(Vec3(1, 1, 1), 0);
    room.lamps.push_back(point_lamp(Vec3(0.5, 0.5, 0.5)));
    const Interreflection light(room, everywhere(1));
    EXPECT_TRUE(light.dark());
    EXPECT_TRUE(light.gather(0, Vec3(0.2, 0.2, 0.2)).empty());
    EXPECT_EQ(probe_of_band(light, 0, Vec3(0.2, 0.2, 0.2)).irradiance(Vec3::UnitZ()), 0);
    EXPECT_FALSE(Interreflection(gray_room(Vec3(1, 1, 1), 0.1), everywhere(1)).dark());
    EXPECT_TRUE(Interreflection(gray_room(Vec3(1, 1, 1), 0.1), everywhere(1), {.bounces = 0}).dark());
}

TEST(OpenTop, lets_light_escape_and_sends_none_back) {
    auto room = gray_room(Vec3(1, 1, 1), 0.5);
    room.lamps.push_back(point_lamp(Vec3(0.5, 0.5, 0.5)));
    open(room, scene::Face::top);
    const Interreflection light(room, everywhere(1), {.bounces = 1});
    const auto packets = light.gather(0, Vec3(0.5, 0.5, 0.9));
    EXPECT_NEAR(facing(packets, -Vec3::UnitZ()), 0.5, 1e-3) << "below, all directions end on a wall";
    // Above, walls are seen only below 45 degrees and more: 1 - (the opening's configuration factor).
    const double a = 5;  // half a side over the height: four corner rectangles of Howell B-4
    const double corner = (a / std::sqrt(1 + a * a) * std::atan(a / std::sqrt(1 + a * a))) / 3.14159265358979;
    EXPECT_NEAR(facing(packets, Vec3::UnitZ()), 0.5 * (1 - 4 * corner), 2e-3);
}

TEST(Reflectance, never_darkens_a_room_when_it_grows) {
    const auto glow = [](double rho) {
        auto room = furnished_furnace(0.3);
        for (const auto face : {scene::Face::back, scene::Face::floor}) paint(room, face, rho);
        const auto lit = shining([](const Vec3& p, const Vec3&) { return p.z() < 0.1 ? 1.0 : 0.0; });
        const Interreflection light(room, lit, {.bounces = 8, .rays_per_patch = 16});
        return facing(light.gather(0, Vec3(0.45, 0.25, 0.45)), Vec3(0, 0, -1));
    };
    double before = 0;
    for (const double rho : {0.0, 0.02, 0.2, 0.5, 0.9}) {
        const double now = glow(rho);
        EXPECT_GE(now, before) << rho;  // the rays are the same, so this holds without noise
        before = now;
    }
}

TEST(SameSeed, gives_the_same_numbers_on_one_thread_and_on_many) {
    const auto numbers = [](std::size_t threads) {
        const oneapi::tbb::global_control limit(oneapi::tbb::global_control::max_allowed_parallelism,
                                                threads);
        const auto lit = shining([](const Vec3& p, const Vec3& n) { return std::max(0.0, n.z()) * p.x(); });
        const Interreflection light(furnished_furnace(0.5), lit, {.rays_per_patch = 16, .seed = 7});
        return std::pair(facing(light.gather(0, Vec3(0.1, 0.2, 0.3)), Vec3::UnitX()),
                         probe_of_band(light, 0, Vec3(0.5, 0.2, 0.3)).irradiance(Vec3::UnitX()));
    };
    EXPECT_EQ(numbers(1), numbers(4));
}

TEST(Screens, weaken_light_between_surfaces) {
    auto room = gray_room(Vec3(1, 1, 1), 0);
    room.lamps.push_back(point_lamp(Vec3(0.5, 0.5, 0.5)));
    paint(room, scene::Face::top, 0.8);
    const auto at_floor = [&] {
        const Interreflection light(room, everywhere(1), {.bounces = 1});
        return light.gather(0, Vec3(0.5, 0.5, 0.01));
    };
    const double clear = facing(at_floor(), Vec3::UnitZ());
    scene::Screen veil;
    veil.box = {Vec3(0, 0, 0.5), Vec3(1, 1, 0.5)};
    veil.normal_axis = 2;
    veil.transmittance = 0.25;
    room.screens = {veil};
    EXPECT_NEAR(facing(at_floor(), Vec3::UnitZ()), 0.25 * clear, 1e-9);

    room.screens.clear();
    room.foliage.push_back(
        {"fern", "", scene::BoxShape{{Vec3(0, 0, 0.4), Vec3(1, 1, 0.6)}, Vec3::Zero()}, 5});
    // Straight up the way is 0.2 m and exp(-0.5 x 5 x 0.2) = 0.61 comes through; aslant it is longer.
    const double through_leaves = facing(at_floor(), Vec3::UnitZ()) / clear;
    EXPECT_LT(through_leaves, std::exp(-0.5));
    EXPECT_GT(through_leaves, std::exp(-0.5 * std::sqrt(2)));
}

TEST(Pane, colours_the_light_that_crosses_it) {
    auto room = gray_room(Vec3(1, 1, 1), 0.5);
    room.lamps.push_back(point_lamp(Vec3(0.5, 0.5, 0.9)));
    const auto* glass = spectrum::find_material("float_glass");
    ASSERT_NE(glass, nullptr);
    ASSERT_TRUE(glass->optics.has_value());
    scene::Screen pane;
    pane.box = {Vec3(0, 0, 0.5), Vec3(1, 1, 0.5)};
    pane.normal_axis = 2;
    pane.kind = scene::Pane{*glass, 0.004};
    room.screens = {pane};
    const auto above = shining([](const Vec3& p, const Vec3&) { return p.z() > 0.5 ? 1.0 : 0.0; });
    const Interreflection light(room, above, {.bounces = 3});
    const auto packets = light.gather(0, Vec3(0.5, 0.5, 0.2));
    const double uvb = facing(packets, Vec3::UnitZ(), 2);
    const double green = facing(packets, Vec3::UnitZ(), 8);
    EXPECT_LT(uvb, 0.02 * green) << "4 mm of float glass stop 295-305 nm";
    EXPECT_GT(green, 0.3);
}

TEST(PaneTable, stays_close_to_the_pane_between_its_steps) {
    const auto* glass = spectrum::find_material("float_glass");
    ASSERT_NE(glass, nullptr);
    const scene::Pane pane{*glass, 0.004};
    const PaneTable table(pane);
    for (int i = 0; i < 40; ++i) {
        const double cosine = 0.05 + 0.95 * (i + 0.37) / 40;
        const Bands exact = band_means(spectrum::pane_transmittance(*glass->optics, pane.thickness, cosine));
        EXPECT_LT((table.at(-cosine) - exact).abs().maxCoeff(), 0.002) << cosine;
    }
}

TEST(AnotherLampInTheSameRoom, is_lit_over_the_form_factors_of_before) {
    const auto room = furnished_furnace(0.5);
    const auto low = shining([](const Vec3& p, const Vec3&) { return p.z() < 0.1 ? 1.0 : 0.0; });
    const InterreflectionOptions options{.bounces = 4, .rays_per_patch = 16};
    const Interreflection light(room, everywhere(1), options);
    const Interreflection again = light.relit(low, std::array{-1});
    const Interreflection anew(room, low, options);
    const Vec3 point(0.1, 0.2, 0.3);
    EXPECT_EQ(facing(again.gather(0, point), Vec3::UnitX()), facing(anew.gather(0, point), Vec3::UnitX()));
    EXPECT_NE(facing(again.gather(0, point), Vec3::UnitX()), facing(light.gather(0, point), Vec3::UnitX()));
    // A lamp said to be as before brings what it brought before.
    const Interreflection kept = light.relit(low, std::array{0});
    EXPECT_EQ(probe_of_band(kept, 0, point).irradiance(Vec3::UnitX()),
              probe_of_band(light, 0, point).irradiance(Vec3::UnitX()));
    EXPECT_NE(probe_of_band(again, 0, point).irradiance(Vec3::UnitX()),
              probe_of_band(light, 0, point).irradiance(Vec3::UnitX()));
}

}  // namespace
}  // namespace dapple::light
