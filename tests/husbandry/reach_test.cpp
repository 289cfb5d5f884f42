#include "husbandry/reach.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <numeric>

#include "made_of.h"

namespace dapple::husbandry {
namespace {

using scene::Enclosure;
using scene::Vec3;
using std::numbers::pi;

const spectrum::Material wood = tests::opaque("wood");
const spectrum::Material glass = tests::clear_sheet("float_glass");

double area_of(const Reach& reach) {
    return std::accumulate(reach.area.begin(), reach.area.end(), 0.0);
}

double area_on(const Reach& reach, const std::string& surface) {
    double sum = 0;
    for (std::size_t i = 0; i < reach.area.size(); ++i) {
        if (reach.surfaces[static_cast<std::size_t>(reach.on[i])] == surface) sum += reach.area[i];
    }
    return sum;
}

// An edge of length P cuts P/h cells, each wrongly in or out by about 0.4 h^2, independently: the error of an area is
// near 0.4 h^1.5 sqrt(P). Three of these.
double edge_error(double perimeter, double spacing = 0.03) {
    return 3 * 0.4 * std::pow(spacing, 1.5) * std::sqrt(perimeter);
}

TEST(reach, of_an_empty_box_is_its_floor_lifted_by_the_back) {
    const Reach reach = reach_of(tests::box_of(wood), 0.05, false);
    EXPECT_NEAR(area_of(reach), 0.72, 1e-12);
    EXPECT_EQ(reach.points.size(), 800u);  // 40 x 20 cells of 3 cm
    for (std::size_t i = 0; i < reach.points.size(); ++i) {
        EXPECT_EQ(reach.feet[i].z(), 0);
        EXPECT_DOUBLE_EQ(reach.points[i].z(), 0.05);
    }
}

TEST(reach, the_floor_under_furniture_is_not_reach) {
    Enclosure e = tests::box_of(wood);
    e.furniture = {tests::stone({0.31, 0.2, 0}, {0.62, 0.41, 0.18}, false)};
    EXPECT_NEAR(area_of(reach_of(e, 0.04, false)), 0.72 - 0.31 * 0.21, edge_error(2 * (0.31 + 0.21)));
}

TEST(reach, of_a_perch_its_top_counts_instead) {
    Enclosure e = tests::box_of(wood);
    e.furniture = {tests::stone({0.31, 0.2, 0}, {0.62, 0.41, 0.18}, true)};
    const Reach reach = reach_of(e, 0.04, false);
    EXPECT_NEAR(area_on(reach, "Flat stone"), 0.31 * 0.21, 1e-12);
    EXPECT_NEAR(area_of(reach), 0.72, edge_error(2 * (0.31 + 0.21)));
    for (std::size_t i = 0; i < reach.points.size(); ++i) {
        if (reach.on[i] != 0) {
            EXPECT_NEAR(reach.points[i].z(), 0.22, 1e-12);
        }
    }
}

TEST(reach, a_turned_box_covers_the_floor_it_stands_on_and_offers_its_top) {
    Enclosure e = tests::box_of(wood);
    e.furniture = {tests::stone({0.4, 0.2, 0}, {0.7, 0.4, 0.1}, true, {0, 0, 0.6})};
    const Reach reach = reach_of(e, 0.02, false);
    EXPECT_NEAR(area_on(reach, "Flat stone"), 0.06, 1e-12);
    EXPECT_NEAR(area_on(reach, "the floor"), 0.72 - 0.06, edge_error(1.0));
}

TEST(reach, a_ledge_in_the_air_leaves_room_beneath_for_animals_low_enough) {
    Enclosure e = tests::box_of(wood);
    e.furniture = {tests::stone({0.3, 0.15, 0.10}, {0.6, 0.45, 0.12}, false)};
    EXPECT_NEAR(area_of(reach_of(e, 0.05, false)), 0.72, 1e-12);
    EXPECT_NEAR(area_of(reach_of(e, 0.11, false)), 0.72 - 0.09, edge_error(1.2));
    EXPECT_NEAR(area_of(reach_of(e, 0.20, false)), 0.72 - 0.09, edge_error(1.2))
        << "the back pokes through a thin ledge";
}

TEST(reach, a_perch_too_near_the_top_is_none) {
    Enclosure e = tests::box_of(wood);
    e.furniture = {tests::stone({0.3, 0.2, 0}, {0.6, 0.4, 0.57}, true)};
    EXPECT_EQ(area_on(reach_of(e, 0.04, false), "Flat stone"), 0);
}

TEST(reach, on_a_lying_branch_the_upper_third_of_the_bark_is_stood_on) {
    Enclosure e = tests::box_of(wood);
    e.furniture = {tests::branch({0.3, 0.3, 0.3}, {0.9, 0.3, 0.3}, 0.1, true)};
    ReachOptions options;
    options.spacing = 0.01;
    options.most_points = 20000;
    options.steepest = pi / 3;
    const double mantle = pi * 0.1 * 0.6;
    // One of about 31 columns of cells round the bark may fall to either side at each of the two edges.
    EXPECT_NEAR(area_on(reach_of(e, 0.02, false, options), "Branch"), mantle / 3, mantle / 31);
}

TEST(reach, only_an_animal_that_climbs_goes_round_the_branch) {
    Enclosure e = tests::box_of(glass);
    e.furniture = {tests::branch({0.3, 0.3, 0.3}, {0.9, 0.3, 0.3}, 0.1, false)};
    EXPECT_EQ(area_on(reach_of(e, 0.02, false), "Branch"), 0) << "no perch";
    EXPECT_NEAR(area_on(reach_of(e, 0.02, true), "Branch"), pi * 0.1 * 0.6 + 2 * pi * 0.05 * 0.05, 1e-12);
}

TEST(reach, walls_belong_to_climbers_but_not_panes_or_open_sides) {
    Enclosure e = tests::box_of(wood);
    e.walls[static_cast<std::size_t>(scene::Face::front)] = glass;
    e.walls[static_cast<std::size_t>(scene::Face::left)] = std::nullopt;
    EXPECT_EQ(area_on(reach_of(e, 0.02, false), "the back wall"), 0);
    const Reach reach = reach_of(e, 0.02, true);
    EXPECT_NEAR(area_on(reach, "the back wall"), 0.72, 1e-12);
    EXPECT_NEAR(area_on(reach, "the right wall"), 0.36, 1e-12);
    EXPECT_EQ(area_on(reach, "the front wall"), 0);
    EXPECT_EQ(area_on(reach, "the left wall"), 0);
    for (std::size_t i = 0; i < reach.points.size(); ++i) {
        if (reach.surfaces[static_cast<std::size_t>(reach.on[i])] == "the back wall") {
            EXPECT_NEAR(reach.points[i].y(), 0.58, 1e-12) << "the back stands out from the wall";
        }
    }
}

TEST(reach, of_a_round_stone_the_area_is_that_of_the_ellipsoid) {
    Enclosure e = tests::box_of(glass);
    scene::Furniture ball = {
        "ball", "Ball", scene::EllipsoidShape{{0.6, 0.3, 0.3}, {0.2, 0.1, 0.1}, Vec3::Zero()}, wood, true};
    e.furniture = {ball};
    // Prolate spheroid: 2 pi a^2 (1 + c/(a e) asin e), a = 0.1, c = 0.2 (Beyer, CRC Standard Mathematical Tables).
    const double ecc = std::sqrt(1 - 0.25);
    const double exact = 2 * pi * 0.01 * (1 + 2 / ecc * std::asin(ecc));
    // Midpoint rule for the mean stretch over some 200 cells: a percent.
    EXPECT_NEAR(area_on(reach_of(e, 0.02, true), "Ball"), exact, 0.01 * exact);
}

TEST(reach, of_a_triangle_mesh_is_that_of_the_same_box) {
    Enclosure e = tests::box_of(wood);
    scene::MeshShape mesh;
    for (int i = 0; i < 8; ++i) {
        mesh.vertices.emplace_back(i & 1 ? 0.7 : 0.4, i & 2 ? 0.4 : 0.2, i & 4 ? 0.15 : 0.0);
    }
    mesh.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                      {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    e.furniture = {{"stone", "Stone", mesh, wood, true}};
    const Reach reach = reach_of(e, 0.04, false);
    EXPECT_NEAR(area_on(reach, "the floor"), 0.72 - 0.06, edge_error(1.0));
    // 300 cells on 0.27 m2 of mesh, the top is 0.06 of it; the strata in u follow the area: two rows may go astray.
    EXPECT_NEAR(area_on(reach, "Stone"), 0.06, 2 * 0.03 * std::sqrt(0.27));
}

TEST(reach, never_has_more_points_than_allowed_and_keeps_its_area) {
    ReachOptions options;
    options.most_points = 500;
    const Reach reach = reach_of(tests::box_of(wood), 0.02, true, options);
    EXPECT_LE(reach.points.size(), 520u);  // rows are rounded to whole cells
    EXPECT_NEAR(area_of(reach), 0.72 + 2 * 0.72 + 2 * 0.36,
                0.1);  // edges within a back of another wall fall out
}

TEST(reach, is_the_same_every_time) {
    const Enclosure e = tests::box_of(wood);
    const Reach a = reach_of(e, 0.03, true);
    const Reach b = reach_of(e, 0.03, true);
    ASSERT_EQ(a.points.size(), b.points.size());
    for (std::size_t i = 0; i < a.points.size(); ++i) EXPECT_EQ(a.points[i], b.points[i]);
}

TEST(reach, is_empty_where_a_block_fills_the_box) {
    Enclosure e = tests::box_of(wood);
    e.furniture = {tests::stone({0, 0, 0}, {1.2, 0.6, 0.6}, true)};
    EXPECT_TRUE(reach_of(e, 0.02, true).points.empty());
}

TEST(reach, ends_at_the_skin_of_a_lamp) {
    Enclosure e = tests::box_of(wood);
    scene::Lamp lamp;
    lamp.centre = {0.6, 0.3, 0.05};
    lamp.shape = scene::Tube{0.4, 0.1, Vec3::UnitX(), -Vec3::UnitZ(), -1, false};
    e.lamps = {lamp};
    EXPECT_NEAR(area_of(reach_of(e, 0.05, false)), 0.72 - (0.4 * 0.1 + pi * 0.05 * 0.05), edge_error(1.1));
}

}  // namespace
}  // namespace dapple::husbandry
