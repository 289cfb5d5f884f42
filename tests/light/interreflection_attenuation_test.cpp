#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "light/attenuation.h"
#include "reference.h"

namespace dapple::light {
namespace {

using scene::Vec3;
constexpr double degree = std::numbers::pi / 180;

scene::Screen lid(double z) {
    scene::Screen screen;
    screen.box = {Vec3(0, 0, z), Vec3(1, 0.5, z)};
    screen.normal_axis = 2;
    screen.kind = scene::Mesh{0.002, 0.0004};
    return screen;
}

TEST(Mesh, lets_through_at_each_angle_what_its_round_wires_leave_open) {
    int rows = 0;
    for (const auto& row : tests::read_reference("checks/mesh_checks.csv")) {
        if (row.at("angle_deg") == "diffuse") continue;
        ++rows;
        const scene::Mesh mesh{tests::number(row, "pitch_mm") * 1e-3, tests::number(row, "wire_mm") * 1e-3};
        const double angle = tests::number(row, "angle_deg") * degree;
        const double azimuth = tests::number(row, "azimuth_deg") * degree;
        const double tau = mesh_transmittance(mesh, std::sin(angle) * std::cos(azimuth),
                                              -std::sin(angle) * std::sin(azimuth), -std::cos(angle));
        // The table prints six decimals; its ray-traced column is good to 0.002 by its own header.
        EXPECT_NEAR(tau, tests::number(row, "transmittance"), 6e-7);
        EXPECT_NEAR(tau, tests::number(row, "ray_trace"), 0.002);
    }
    EXPECT_GT(rows, 20);
}

TEST(Mesh, lets_diffuse_light_through_as_the_cosine_weighted_mean_of_all_angles) {
    int rows = 0;
    for (const auto& row : tests::read_reference("checks/mesh_checks.csv")) {
        if (row.at("angle_deg") != "diffuse") continue;
        ++rows;
        const scene::Mesh mesh{tests::number(row, "pitch_mm") * 1e-3, tests::number(row, "wire_mm") * 1e-3};
        constexpr int steps = 600;  // midpoint rule; the kinks cost less than 2e-5 at this number
        double sum = 0;
        for (int i = 0; i < steps; ++i) {
            for (int k = 0; k < steps; ++k) {
                const double sine = std::sqrt((i + 0.5) / steps);
                const double azimuth = (k + 0.5) / steps * std::numbers::pi / 2;
                sum += mesh_transmittance(mesh, sine * std::cos(azimuth), sine * std::sin(azimuth),
                                          std::sqrt(1 - sine * sine));
            }
        }
        EXPECT_NEAR(sum / (steps * steps), tests::number(row, "transmittance"), 5e-5);
    }
    EXPECT_GT(rows, 0);
}

TEST(Mesh, is_opaque_along_its_own_plane) {
    EXPECT_EQ(mesh_transmittance({0.002, 0.0004}, 1, 0, 0), 0);
    EXPECT_EQ(mesh_transmittance({0.002, 0.0004}, 0.6, 0.8, 1e-9), 0);
}

TEST(Screen, is_crossed_only_within_its_rectangle_and_between_both_ends) {
    const auto screen = lid(0.6);
    const auto t = crossing(screen, Vec3(0.2, 0.2, 0.5), Vec3(0.2, 0.2, 0.9));
    ASSERT_TRUE(t.has_value());
    EXPECT_NEAR(*t, 0.25, 1e-12);
    EXPECT_FALSE(crossing(screen, Vec3(0.2, 0.2, 0.5), Vec3(0.2, 0.2, 0.59)));
    EXPECT_FALSE(crossing(screen, Vec3(1.2, 0.2, 0.5), Vec3(1.2, 0.2, 0.9)));
    EXPECT_FALSE(crossing(screen, Vec3(0.2, 0.2, 0.5), Vec3(0.9, 0.2, 0.5)));
    EXPECT_TRUE(crossing(screen, Vec3(1, 0.5, 0), Vec3(1, 0.5, 1))) << "the edge belongs to the screen";
}

TEST(Screen, keeps_its_measured_transmittance_at_every_angle) {
    auto screen = lid(0.6);
    screen.transmittance = 0.55;
    EXPECT_EQ(screen_transmittance_gray(screen, Vec3(0, 0, 1)), 0.55);
    EXPECT_EQ(screen_transmittance_gray(screen, Vec3(0.6, 0, 0.8)), 0.55);
    screen.kind = scene::Pane{spectrum::Material{}, 0.004};
    EXPECT_FALSE(is_spectral(screen));
    screen.transmittance.reset();
    EXPECT_TRUE(is_spectral(screen));
}

TEST(Screen, turns_the_mesh_with_its_normal) {
    auto screen = lid(0.6);
    screen.normal_axis = 0;
    EXPECT_NEAR(screen_transmittance_gray(screen, Vec3(1, 0, 0)), 0.64, 1e-12);
    EXPECT_EQ(screen_transmittance_gray(screen, Vec3(0, 0, 1)), 0);
}

TEST(Foliage, counts_the_metres_inside_a_box_and_no_others) {
    scene::Foliage fern{.id = {},
                        .name = {},
                        .shape = scene::BoxShape{{Vec3(0, 0, 0), Vec3(0.4, 0.2, 0.1)}, Vec3::Zero()},
                        .leaf_area_density = 5};
    EXPECT_NEAR(foliage_path(fern, Vec3(-1, 0.1, 0.05), Vec3(1, 0.1, 0.05)), 0.4, 1e-12);
    EXPECT_NEAR(foliage_path(fern, Vec3(0.1, 0.1, 0.05), Vec3(1, 0.1, 0.05)), 0.3, 1e-12);
    EXPECT_NEAR(foliage_path(fern, Vec3(0.1, 0.1, 0.05), Vec3(0.2, 0.1, 0.05)), 0.1, 1e-12);
    EXPECT_EQ(foliage_path(fern, Vec3(-1, 0.3, 0.05), Vec3(1, 0.3, 0.05)), 0);
    EXPECT_EQ(foliage_path(fern, Vec3(1, 0.1, 0.05), Vec3(2, 0.1, 0.05)), 0);
    EXPECT_NEAR(foliage_transmittance(fern, Vec3(-1, 0.1, 0.05), Vec3(1, 0.1, 0.05)), std::exp(-1.0), 1e-12);
}

TEST(Foliage, turns_about_its_centre) {
    const scene::Foliage fern{
        .id = {},
        .name = {},
        .shape = scene::BoxShape{{Vec3(0, 0, 0), Vec3(0.4, 0.2, 0.1)}, Vec3(0, 0, std::numbers::pi / 2)},
        .leaf_area_density = 5};
    EXPECT_NEAR(foliage_path(fern, Vec3(-1, 0.1, 0.05), Vec3(1, 0.1, 0.05)), 0.2, 1e-12);
    EXPECT_NEAR(foliage_path(fern, Vec3(0.2, -1, 0.05), Vec3(0.2, 1, 0.05)), 0.4, 1e-12);
}

TEST(Foliage, is_an_ellipsoid_where_it_is_said_to_be_one) {
    const scene::Foliage bush{
        .id = {},
        .name = {},
        .shape = scene::EllipsoidShape{Vec3(0.5, 0.5, 0.2), Vec3(0.3, 0.2, 0.1), Vec3::Zero()},
        .leaf_area_density = 2};
    EXPECT_NEAR(foliage_path(bush, Vec3(-1, 0.5, 0.2), Vec3(2, 0.5, 0.2)), 0.6, 1e-12);
    EXPECT_NEAR(foliage_path(bush, Vec3(0.5, 0.5, 0.2), Vec3(0.5, 0.5, 5)), 0.1, 1e-12);
    // A chord at half the z radius is shorter by sqrt(1 - 1/4).
    EXPECT_NEAR(foliage_path(bush, Vec3(-1, 0.5, 0.25), Vec3(2, 0.5, 0.25)), 0.6 * std::sqrt(0.75), 1e-12);
    EXPECT_EQ(foliage_path(bush, Vec3(-1, 0.5, 0.31), Vec3(2, 0.5, 0.31)), 0);
}

TEST(Bands, keep_a_constant_and_average_a_slope) {
    const auto flat = band_means(spectrum::constant(0.4));
    EXPECT_LT((flat - 0.4).abs().maxCoeff(), 1e-12);
    const auto slope =
        band_means(spectrum::Spectrum::LinSpaced(spectrum::samples, spectrum::first_nm, spectrum::last_nm));
    EXPECT_NEAR(slope[1], 287, 1e-9);  // 280..294 nm
    EXPECT_LT((band_means(staircase(slope)) - slope).abs().maxCoeff(), 1e-9);
}

}  // namespace
}  // namespace dapple::light
