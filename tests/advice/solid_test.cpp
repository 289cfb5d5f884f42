#include "advice/solid.h"

#include <gtest/gtest.h>

#include <numbers>

namespace dapple::advice {

using scene::Vec3;

namespace {

// libccd's portal refinement stops at 1e-6 m; a hundred times that is still far below what a hand can place.
constexpr double close = 1e-4;

scene::Furniture box(const Vec3& min, const Vec3& max, const Vec3& turn = Vec3::Zero()) {
    return {"box", "Box", scene::BoxShape{{min, max}, turn}, {}, false};
}

scene::Furniture ball(const Vec3& centre, double radius) {
    return {"ball", "Ball", scene::EllipsoidShape{centre, Vec3::Constant(radius), Vec3::Zero()}, {}, false};
}

scene::Furniture rod(const Vec3& from, const Vec3& to, double diameter) {
    return {"rod", "Rod", scene::CylinderShape{from, to, diameter, Vec3::Zero()}, {}, false};
}

scene::Lamp tube(const Vec3& centre) {
    scene::Lamp lamp;
    lamp.centre = centre;
    lamp.shape = scene::Tube{0.6, 0.02, Vec3::UnitX(), -Vec3::UnitZ(), -1, false};
    return lamp;
}

}  // namespace

TEST(Solid, boxes_reach_into_each_other_by_their_shortest_way_out) {
    const Solid a = solid_of(box({0, 0, 0}, {0.3, 0.3, 0.3}));
    EXPECT_NEAR(penetration(a, solid_of(box({0.28, 0, 0}, {0.5, 0.3, 0.3}))), 0.02, close);
    EXPECT_EQ(penetration(a, solid_of(box({0.31, 0, 0}, {0.5, 0.3, 0.3}))), 0);
}

TEST(Solid, a_box_turned_by_45_degrees_reaches_out_by_its_diagonal) {
    const Vec3 turn(0, 0, std::numbers::pi / 4);
    const scene::Box reach = bounds(solid_of(box({-0.1, -0.1, 0}, {0.1, 0.1, 0.2}, turn)));
    EXPECT_NEAR(reach.max.x(), 0.1 * std::numbers::sqrt2, 1e-12);
    EXPECT_NEAR(reach.max.z(), 0.2, 1e-12);
}

TEST(Solid, a_rod_passes_a_ball_at_the_sum_of_their_radii) {
    const Solid sphere = solid_of(ball({0, 0, 0}, 0.1));
    EXPECT_EQ(penetration(sphere, solid_of(rod({-1, 0.121, 0}, {1, 0.121, 0}, 0.04))), 0);
    EXPECT_NEAR(penetration(sphere, solid_of(rod({-1, 0.115, 0}, {1, 0.115, 0}, 0.04))), 0.005, close);
}

TEST(Solid, a_move_sweeps_everything_between_its_ends) {
    const Solid lamp = solid_of(tube({0, 0, 0.5}));
    const Solid lid = solid_of(scene::Screen{
        "lid", "Lid", {{-1, -1, 0.6}, {1, 1, 0.6}}, 2, scene::Mesh{0.002, 0.0004}, std::nullopt});
    EXPECT_EQ(penetration(swept(lamp, {0, 0, 0.05}), lid), 0);
    EXPECT_GT(penetration(swept(lamp, {0, 0, 0.3}), lid), 0);
}

TEST(Solid, distance_to_a_tube_is_measured_from_its_glass) {
    EXPECT_NEAR(distance_to_surface(tube({0, 0, 0.5}), {0, 0, 0.2}), 0.29, 1e-12);
    EXPECT_NEAR(distance_to_surface(tube({0, 0, 0.5}), {0.6, 0.4, 0.5}), 0.49, 1e-12);  // 3-4-5 past its end
}

TEST(Solid, distance_to_a_spot_lamp_is_measured_from_its_disc) {
    scene::Lamp lamp;
    lamp.centre = {0, 0, 0.5};
    lamp.shape = scene::Spot{0.1, 1, 1, -Vec3::UnitZ(), std::nullopt};
    EXPECT_NEAR(distance_to_surface(lamp, {0.02, 0, 0.2}), 0.3, 1e-12);
    EXPECT_NEAR(distance_to_surface(lamp, {0.45, 0, 0.2}), 0.5, 1e-12);
}

}  // namespace dapple::advice
