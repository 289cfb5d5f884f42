// Direct light at listed points against closed forms of the configuration-factor handbooks. Tolerance 1e-4 relative,
// the engine's promise at points; where a formula is exact and smooth 1e-6.
#include "light/direct.h"

#include <gtest/gtest.h>

#include "light/lamp.h"
#include "reference.h"
#include "rooms.h"

namespace dapple::light {
namespace {

using namespace tests;

double planar(const scene::Enclosure& enclosure, const Vec3& point, const Vec3& normal) {
    return Direct(enclosure).planar(0, point, normal).clear;
}

// A box large enough for lamps and points of the tables (metres), the lamp high in it.
scene::Enclosure hall(std::variant<scene::Tube, scene::Spot, scene::Bar> shape) {
    scene::Enclosure enclosure = black_box(40, 40, 40);
    enclosure.lamps.push_back(lamp("l", Vec3(20, 20, 20), std::move(shape)));
    return enclosure;
}

TEST(Direct, a_tube_seen_from_the_middle_agrees_with_the_line_of_the_handbooks) {
    int rows = 0;
    for (const Row& row : read_reference("checks/view_factor_checks.csv")) {
        if (row.at("case") != "line_mid") continue;
        auto p = parameters(row.at("parameters"));
        const auto enclosure = hall(tube(p["L"] / 100, 0));
        const double e = planar(enclosure, Vec3(20, 20, 20 - p["D"] / 100), Vec3::UnitZ()) / 100;
        EXPECT_NEAR(e / number(row, "value"), 1, 1e-6) << row.at("parameters");
        ++rows;
    }
    EXPECT_EQ(rows, 4);
}

TEST(Direct, a_tube_agrees_with_every_line_formula_confirmed_by_quadrature) {
    int rows = 0;
    for (const Row& row : read_reference("checks/view_factor_checks_quadrature.csv")) {
        const std::string& kind = row.at("case");
        if (kind.rfind("line_", 0) != 0 || kind == "line_infinite") continue;
        auto p = parameters(row.at("parameters"));
        const double length = p["x2"] - p["x1"], middle = (p["x1"] + p["x2"]) / 2;
        // The lamp's middle lies at 20; the point stands below the tabulated origin of x.
        const double phi = p["phi_deg"] * M_PI / 180;
        const Vec3 offset(-middle, p["D"] * std::sin(phi), -p["D"] * std::cos(phi));
        const Vec3 facing = Vec3(0, -offset.y(), -offset.z()).normalized();
        const auto enclosure = hall(tube(length, 0, kind == "line_reflector" ? p["m"] : -1));
        const Vec3 normal = kind == "line_normal_along_axis" ? Vec3(Vec3::UnitX()) : facing;
        EXPECT_NEAR(planar(enclosure, Vec3(20, 20, 20) + offset, normal) / number(row, "value"), 1, 1e-4)
            << kind << " " << row.at("parameters");
        ++rows;
    }
    EXPECT_GE(rows, 13);
}

TEST(Direct, a_very_long_tube_approaches_the_infinite_line) {
    const auto enclosure = hall(tube(39, 0));
    // pi/(2D); the missing ends beyond 19.5 m weigh (D/19.5)^3 / 3, below 1e-5.
    EXPECT_NEAR(planar(enclosure, Vec3(20, 20, 19.7), Vec3::UnitZ()) / 5.235987756, 1, 1e-4);
}

TEST(Direct, a_disc_agrees_with_the_handbook_on_and_off_its_axis) {
    int rows = 0;
    for (const char* file : {"checks/view_factor_checks.csv", "checks/view_factor_checks_quadrature.csv"}) {
        for (const Row& row : read_reference(file)) {
            const std::string& kind = row.at("case");
            const bool axis = kind == "element_parallel_disc_axis",
                       offset = kind == "element_parallel_disc_offset";
            const bool perpendicular = kind == "element_perpendicular_disc", lobe = kind == "disc_cosk_axis";
            if (!axis && !offset && !perpendicular && !lobe) continue;
            auto p = parameters(row.at("parameters"));
            const double radius = p.count("R") != 0 ? p["R"] : p["r"];
            const auto enclosure = hall(spot(2 * radius, lobe ? p["k"] : 1));
            const Vec3 point(20 + p["a"], 20, 20 - p["h"]);
            const Vec3 normal = perpendicular ? Vec3(-Vec3::UnitX()) : Vec3(Vec3::UnitZ());
            const double e = planar(enclosure, point, normal) / (lobe ? 1 : M_PI);
            EXPECT_NEAR(e / number(row, "value"), 1, 1e-4) << kind << " " << row.at("parameters");
            ++rows;
        }
    }
    EXPECT_GE(rows, 15);
}

TEST(Direct, a_point_follows_the_inverse_square_and_the_cosine) {
    int rows = 0;
    for (const Row& row : read_reference("checks/view_factor_checks_quadrature.csv")) {
        if (row.at("case") != "point_inverse_square") continue;
        auto p = parameters(row.at("parameters"));
        const double theta = p["theta_deg"] * M_PI / 180;
        const auto enclosure = hall(spot(0, 1));
        const Vec3 normal(std::sin(theta), 0, std::cos(theta));
        EXPECT_NEAR(p["I"] * planar(enclosure, Vec3(20, 20, 20 - p["d"]), normal) / number(row, "value"), 1,
                    1e-6);
        ++rows;
    }
    EXPECT_EQ(rows, 3);
}

TEST(Direct, the_lobe_exponent_halves_the_intensity_at_half_the_beam) {
    for (const Row& row : read_reference("checks/view_factor_checks_quadrature.csv")) {
        if (row.at("case") != "spot_exponent") continue;
        const double half = parameters(row.at("parameters"))["beam_deg"] / 2 * M_PI / 180;
        const auto enclosure = hall(spot(0, number(row, "value")));
        const Vec3 point = Vec3(20, 20, 20) + Vec3(std::sin(half), 0, -std::cos(half));
        EXPECT_NEAR(planar(enclosure, point, (Vec3(20, 20, 20) - point).normalized()), 0.5, 1e-6);
    }
}

TEST(Direct, a_bar_of_many_points_approaches_a_lambertian_line) {
    // cos^1 points along x seen from the perpendicular plane: intensity per metre count/length, lobe cos(theta) from
    // the aim, which in that plane is the sine to the axis: a line with J0 = count / length.
    const int count = 2000;
    auto enclosure =
        hall(scene::Bar{0.85, count, 1, 2 * M_PI / 3, Vec3::UnitX(), -Vec3::UnitZ(), std::nullopt});
    const double e = planar(enclosure, Vec3(20, 20, 19.7), Vec3::UnitZ()) * 0.85 / count;
    EXPECT_NEAR(e / 4.757550049, 1, 1e-5);  // line_facing D=0.3, view_factor_checks_quadrature.csv
}

TEST(Direct, output_is_what_a_sensor_reads_at_that_distance_in_front_of_the_surface) {
    for (const auto& shape :
         {decltype(scene::Lamp::shape)(tube(0.85)), decltype(scene::Lamp::shape)(tube(0.85, 0.016, 3)),
          decltype(scene::Lamp::shape)(spot(0.09, 11)), decltype(scene::Lamp::shape)(spot(0, 4)),
          decltype(scene::Lamp::shape)(tube(0.1, 0.05)),
          decltype(scene::Lamp::shape)(
              scene::Bar{0.5, 12, 2, 1, Vec3::UnitX(), -Vec3::UnitZ(), std::nullopt})}) {
        const auto enclosure = hall(shape);
        const auto* t = std::get_if<scene::Tube>(&shape);
        const double surface = t != nullptr ? t->diameter / 2 : 0;
        const double e = planar(enclosure, Vec3(20, 20, 20 - surface - 0.3), Vec3::UnitZ());
        EXPECT_NEAR(e / irradiance_on_axis(enclosure.lamps[0], 0.3), 1, 1e-6);
    }
}

TEST(Direct, several_outputs_are_fitted_in_the_logarithm) {
    auto enclosure = hall(tube(0.85));
    enclosure.lamps[0].output = {{spectrum::Quantity::uvi, 5, 0.3}};
    const double one = strength(enclosure.lamps[0]);
    enclosure.lamps[0].output = {{spectrum::Quantity::uvi, 10, 0.3}, {spectrum::Quantity::uvi, 2.5, 0.3}};
    EXPECT_NEAR(strength(enclosure.lamps[0]), one, 1e-12 * one);
    enclosure.lamps[0].age_factor = 0.5;
    EXPECT_NEAR(strength(enclosure.lamps[0]), 0.5 * one, 1e-12 * one);
    enclosure.lamps[0].output.clear();
    EXPECT_EQ(strength(enclosure.lamps[0]), 0);
}

TEST(Direct, a_strip_across_the_way_takes_out_just_what_it_hides) {
    // A wide plate under the left half of the tube hides it from a point below the middle: what is left is the half
    // line from the foot to one end, half of the whole by symmetry.
    auto enclosure = hall(tube(0.85, 0));
    const double open = planar(enclosure, Vec3(20, 20, 19.7), Vec3::UnitZ());
    const Vec3 low(19, 19, 19.85), high(20, 21, 19.86);
    enclosure.furniture.push_back(furniture("plate", scene::BoxShape{{low, high}, Vec3::Zero()}));
    EXPECT_NEAR(planar(enclosure, Vec3(20, 20, 19.7), Vec3::UnitZ()) / open, 0.5, 1e-4);
}

TEST(Direct, behind_a_reflector_there_is_nothing) {
    const auto enclosure = hall(tube(0.85, 0.016, 2));
    EXPECT_EQ(planar(enclosure, Vec3(20, 20, 20.3), -Vec3::UnitZ()), 0);
    EXPECT_EQ(planar(hall(spot(0.09, 3)), Vec3(20, 20, 20.3), -Vec3::UnitZ()), 0);
}

TEST(Direct, a_receiver_whose_plane_cuts_the_lamp_sees_the_part_in_front) {
    // Facing along the axis under the middle: only half of the tube is in front (sin^2 a / 2D, half of the table's).
    const auto enclosure = hall(tube(0.85, 0));
    EXPECT_NEAR(planar(enclosure, Vec3(20, 20, 19.7), Vec3::UnitX()) / 1.112394149, 1, 1e-4);
    EXPECT_NEAR(planar(enclosure, Vec3(20, 20, 19.7), -Vec3::UnitX()) / 1.112394149, 1, 1e-4);
}

TEST(Direct, a_wall_hides_what_hangs_beyond_it) {
    auto enclosure = black_box(1, 0.5, 0.5);
    enclosure.lamps.push_back(lamp("l", Vec3(0.1, 0.25, 0.6), tube(0.6, 0.016)));
    // From the far floor the tube's left end, outside the box above the open top, is seen over the wall's edge or not
    // at all: taking the wall away can only add light.
    const Vec3 point(0.02, 0.25, 0.45);
    const double closed = planar(enclosure, point, Vec3::UnitZ());
    enclosure.walls[static_cast<std::size_t>(scene::Face::left)] = std::nullopt;
    const double opened = planar(enclosure, point, Vec3::UnitZ());
    EXPECT_GT(closed, 0);
    EXPECT_GT(opened, closed * 1.01);
}

}  // namespace
}  // namespace dapple::light
