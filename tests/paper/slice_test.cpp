#include "paper/slice.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace dapple::paper {

namespace {

scene::Enclosure box(double width, double depth, double height) {
    scene::Enclosure enclosure;
    enclosure.size = {width, depth, height};
    return enclosure;
}

UviAt of(double (*function)(const scene::Vec3&)) {
    return [function](std::span<const scene::Vec3> points) {
        std::vector<double> values;
        for (const scene::Vec3& point : points) values.push_back(function(point));
        return values;
    };
}

double length(const Line& line) {
    double sum = 0;
    for (std::size_t i = 1; i < line.size(); ++i)
        sum += std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
    return sum;
}

}  // namespace

// Where the value is the distance from a point, a contour is a circle. The lattice's step is 1/59 m: chords and the
// linear interpolation of a cone stay within a thousandth of its radius of 0.3 m.
TEST(Slice, the_contour_of_a_cone_is_a_circle) {
    const auto cone = [](const scene::Vec3& p) { return std::hypot(p.x() - 0.5, p.y() - 0.5); };
    const Slice slice = slice_of(box(1, 1, 1), Cut::plan, 0.5, of(cone), 60);
    const auto lines = contours(slice, 0.3);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_NEAR(length(lines[0]), 2 * std::numbers::pi * 0.3, 0.005);
    for (const Point& point : lines[0]) EXPECT_NEAR(std::hypot(point.x - 0.5, point.y - 0.5), 0.3, 0.001);
    EXPECT_NEAR(lines[0].front().x, lines[0].back().x, 1e-12);  // closed
    EXPECT_NEAR(lines[0].front().y, lines[0].back().y, 1e-12);
}

TEST(Slice, the_contours_of_a_slope_are_straight_and_where_they_belong) {
    const auto slope = [](const scene::Vec3& p) { return 10 * p.z(); };
    const Slice slice = slice_of(box(1.2, 0.6, 0.5), Cut::section, 0.3, of(slope));
    const auto lines = contours(slice, 2.0);
    ASSERT_EQ(lines.size(), 1U);
    for (const Point& point : lines[0]) EXPECT_NEAR(point.y, 0.2, 1e-3);
    EXPECT_NEAR(length(lines[0]), 1.2, 1e-9);
}

TEST(Slice, a_value_that_is_nowhere_has_no_contour) {
    const auto flat = [](const scene::Vec3&) { return 1.0; };
    const Slice slice = slice_of(box(1, 1, 1), Cut::plan, 0.5, of(flat));
    EXPECT_TRUE(contours(slice, 2).empty());
    EXPECT_TRUE(contours(slice, 0.5).empty());
}

// Two hills of one height with a pass between them, lower than the contour: two rings, not one.
TEST(Slice, hills_on_either_side_of_a_pass_have_rings_of_their_own) {
    const auto hills = [](const scene::Vec3& p) {
        const auto hill = [&](double x) {
            return std::exp(-(std::pow(p.x() - x, 2) + std::pow(p.y() - 0.5, 2)) / (2 * 0.1 * 0.1));
        };
        return hill(0.25) + hill(0.75);
    };
    const Slice slice = slice_of(box(1, 1, 1), Cut::plan, 0.5, of(hills));
    EXPECT_EQ(contours(slice, 0.5).size(), 2U);
    // The pass is 2 exp(-(0.25)^2 / 0.02) = 0.088 high.
    EXPECT_EQ(contours(slice, 0.07).size(), 1U);
}

TEST(Slice, the_points_lie_in_the_plane_and_in_the_box) {
    std::vector<scene::Vec3> seen;
    const Slice slice =
        slice_of(box(1.2, 0.6, 0.5), Cut::plan, 0.2, [&](std::span<const scene::Vec3> points) {
            seen.assign(points.begin(), points.end());
            return std::vector<double>(points.size(), 0.0);
        });
    EXPECT_EQ(seen.size(), static_cast<std::size_t>(slice.columns * slice.rows));
    for (const scene::Vec3& point : seen) {
        EXPECT_DOUBLE_EQ(point.z(), 0.2);
        EXPECT_GT(point.x(), 0);
        EXPECT_LT(point.x(), 1.2);
        EXPECT_GT(point.y(), 0);
        EXPECT_LT(point.y(), 0.6);
    }
}

}  // namespace dapple::paper
