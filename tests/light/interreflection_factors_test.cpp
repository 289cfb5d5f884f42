#include "light/interreflection_factors.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "interreflection_rooms.h"
#include "light/interreflection_solve.h"
#include "reference.h"

namespace dapple::light {
namespace {

using namespace rooms;

struct Traced {
    explicit Traced(const scene::Enclosure& room, int rays = 64, double edge = 0.1)
        : patches(room, edge), space(room, patches), factors(patches, space, rays, 3) {}
    Traced(const Traced&) = delete;
    Traced& operator=(const Traced&) = delete;

    std::vector<int> that(const std::function<bool(const SurfaceSample&)>& is) const {
        std::vector<int> found;
        for (int i = 0; i < patches.count(); ++i) {
            if (is(patches.sample(i, 0.5, 0.5))) found.push_back(i);
        }
        return found;
    }
    std::vector<int> looking(const Vec3& way) const {
        return that([way](const SurfaceSample& s) { return s.normal.dot(way) > 0.999; });
    }
    double area(const std::vector<int>& group) const {
        double sum = 0;
        for (const int i : group) sum += patches.area(i);
        return sum;
    }
    // Area x configuration factor.
    double exchange(const std::vector<int>& from, const std::vector<int>& to) const {
        double sum = 0;
        for (const int i : from) {
            for (const int j : to) sum += patches.area(i) * factors.between(i, j);
        }
        return sum;
    }
    // What share of the light leaving patch i ends on any patch, each of reflectance `rho`.
    std::vector<double> kept(double rho) const {
        const std::vector<Lanes> ones(static_cast<std::size_t>(patches.count()), Lanes::Ones());
        std::vector<Lanes> sums;
        factors.reflect(ones, sums);
        std::vector<double> rows;
        for (const Lanes& sum : sums) rows.push_back(static_cast<double>(sum[0]) / rho);
        return rows;
    }

    Patches patches;
    Space space;
    FormFactors factors;
};

// Four standard deviations of a share f counted over independent rays; even spreading only lowers it.
double four_sigma(double f, std::size_t rays) {
    return 4 * std::sqrt(f * (1 - f) / static_cast<double>(rays));
}

TEST(FormFactors, of_opposite_rectangles_are_those_of_the_handbook) {
    int rows = 0;
    for (const auto& row : tests::read_reference("checks/view_factor_checks_quadrature.csv")) {
        if (row.at("case") != "parallel_rectangles") continue;
        const auto p = tests::parameters(row.at("parameters"));
        if (p.at("X") > 5) continue;  // a gap a tenth as wide as its plates is not what cells are made for
        ++rows;
        const Traced t(gray_room(Vec3(p.at("X"), p.at("Y"), 1), 0.5));
        const auto floor = t.looking(Vec3::UnitZ());
        const double expected = tests::number(row, "value");
        EXPECT_NEAR(t.exchange(floor, t.looking(-Vec3::UnitZ())) / t.area(floor), expected,
                    four_sigma(expected, floor.size() * 64));
    }
    EXPECT_GE(rows, 5);
}

TEST(FormFactors, of_adjacent_rectangles_are_those_of_the_handbook) {
    int rows = 0;
    for (const auto& row : tests::read_reference("checks/view_factor_checks_quadrature.csv")) {
        if (row.at("case") != "perpendicular_rectangles") continue;
        ++rows;
        const auto p = tests::parameters(row.at("parameters"));
        const Traced t(gray_room(Vec3(1, p.at("W"), p.at("H")), 0.5));
        const auto floor = t.looking(Vec3::UnitZ());
        const double expected = tests::number(row, "value");
        EXPECT_NEAR(t.exchange(floor, t.looking(Vec3::UnitY())) / t.area(floor), expected,
                    four_sigma(expected, floor.size() * 64));
    }
    EXPECT_GE(rows, 5);
}

TEST(FormFactors, of_a_closed_room_add_up_to_one) {
    const Traced t(gray_room(Vec3(1.2, 0.6, 0.6), 0.5), 16);
    for (const double row : t.kept(0.5)) EXPECT_NEAR(row, 1, 1e-6);
}

TEST(FormFactors, are_reciprocal_between_curved_furniture_and_walls) {
    auto room = gray_room(Vec3(1, 1, 1), 0.5);
    room.furniture.push_back(
        gray_piece(scene::EllipsoidShape{Vec3(0.5, 0.5, 0.4), Vec3(0.3, 0.15, 0.2), Vec3(0.2, 0, 0.3)}, 0.5));
    room.furniture.push_back(
        gray_piece(scene::CylinderShape{Vec3(0.1, 0.1, 0.1), Vec3(0.2, 0.9, 0.3), 0.1, Vec3::Zero()}, 0.5));
    room.furniture.push_back(gray_piece(ball(Vec3(0.8, 0.8, 0.8), 0.12, 16), 0.5));
    const Traced t(room, 256);
    const auto top = t.looking(-Vec3::UnitZ());
    const auto inside = [](const SurfaceSample& s) {
        return (s.point.array() > 0.02).all() && (s.point.array() < 0.98).all();
    };
    const auto pieces = t.that(inside);
    const double down = t.exchange(top, pieces);
    const double up = t.exchange(pieces, top);
    const double sigma = t.area(top) * four_sigma(down / t.area(top), top.size() * 256) +
                         t.area(pieces) * four_sigma(up / t.area(pieces), pieces.size() * 256);
    EXPECT_GT(down, 0.05);
    EXPECT_NEAR(down, up, sigma);
}

TEST(Patches, have_the_true_area_of_curved_furniture) {
    auto room = gray_room(Vec3(1, 1, 1), 0);
    room.lamps.push_back(point_lamp(Vec3(0.5, 0.5, 0.95)));
    const auto area_of = [&](const auto& shape) {
        room.furniture = {gray_piece(shape, 0.5)};
        const Patches patches(room, 0.05);
        double sum = 0;
        for (int i = 0; i < patches.count(); ++i) sum += patches.area(i);
        return sum;
    };
    const double pi = std::numbers::pi;
    EXPECT_NEAR(area_of(scene::EllipsoidShape{Vec3(0.5, 0.5, 0.5), Vec3::Constant(0.2), Vec3::Zero()}),
                4 * pi * 0.04, 1e-9);
    EXPECT_NEAR(area_of(scene::CylinderShape{Vec3(0.2, 0.5, 0.5), Vec3(0.8, 0.5, 0.5), 0.1, Vec3::Zero()}),
                pi * 0.1 * 0.6 + 2 * pi * 0.0025, 1e-9);
    EXPECT_NEAR(area_of(scene::BoxShape{{Vec3(0.3, 0.3, 0.3), Vec3(0.5, 0.6, 0.7)}, Vec3(0.1, 0.2, 0.3)}),
                2 * (0.2 * 0.3 + 0.3 * 0.4 + 0.4 * 0.2), 1e-9);
    // Oblate, a = 2 c: 2 pi a^2 (1 + (1 - e^2)/e artanh e), e^2 = 3/4. Midpoints on 4 x 4 places a cell: 0.2 %.
    const double e = std::sqrt(0.75);
    EXPECT_NEAR(
        area_of(scene::EllipsoidShape{Vec3(0.5, 0.5, 0.5), Vec3(0.3, 0.3, 0.15), Vec3(0.3, 0.2, 0.1)}),
        2 * pi * 0.09 * (1 + 0.25 / e * std::atanh(e)), 2e-3 * 0.8);
    // An open sheet has two sides.
    EXPECT_NEAR(area_of(scene::MeshShape{{Vec3(0.2, 0.2, 0.5), Vec3(0.6, 0.2, 0.5), Vec3(0.2, 0.5, 0.6)},
                                         {{0, 1, 2}}}),
                Vec3(0.4, 0, 0).cross(Vec3(0, 0.3, 0.1)).norm(), 1e-9);
}

TEST(Patches, leave_out_the_floor_under_a_stone_and_the_sides_that_touch) {
    auto room = gray_room(Vec3(1, 1, 1), 0.5);
    for (const auto face : scene::faces) {
        if (face != scene::Face::floor) paint(room, face, 0);
    }
    room.furniture.push_back(
        gray_piece(scene::BoxShape{{Vec3(0, 0.2, 0), Vec3(0.4, 0.6, 0.1)}, Vec3::Zero()}, 0.5));
    const Traced t(room, 8, 0.05);
    const auto up = t.looking(Vec3::UnitZ());
    EXPECT_NEAR(t.area(up), 1, 1e-9) << "the open floor and the stone's top";
    EXPECT_TRUE(t.looking(-Vec3::UnitX()).empty()) << "the side at the wall";
    EXPECT_TRUE(t.looking(-Vec3::UnitZ()).empty()) << "the bottom";
    EXPECT_NEAR(t.area(t.looking(Vec3::UnitX())), 0.04, 1e-9);
}

TEST(Patches, are_finer_on_the_strip_behind_a_tube) {
    auto room = gray_room(Vec3(1.2, 0.6, 0.6), 0.5);
    room.lamps.push_back(tube(Vec3(0.6, 0.3, 0.56), 0.85, 0.016));
    const Patches patches(room, 0.05);
    double behind = 1;
    double far = 0;
    for (int i = 0; i < patches.count(); ++i) {
        const auto s = patches.sample(i, 0.5, 0.5);
        if (s.normal.z() > -0.9) continue;
        if (std::abs(s.point.y() - 0.3) < 0.02 && std::abs(s.point.x() - 0.6) < 0.1) {
            behind = std::min(behind, patches.area(i));
        }
        far = std::max(far, patches.area(i));
    }
    EXPECT_LE(behind, 0.025 * 0.055) << "half of the 4 cm between tube and top, and a whole cell along";
    EXPECT_GT(far, 0.04 * 0.04);
}

TEST(LampBody, absorbs_as_much_as_its_surface_collects) {
    // By reciprocity, Lambertian walls all round send a convex body their radiosity x its area.
    const double rho = 0.5;
    auto room = gray_room(Vec3(1, 0.6, 0.6), rho);
    room.lamps.push_back(tube(Vec3(0.5, 0.3, 0.4), 0.6, 0.05));
    const auto lost = [&](const Traced& t) {
        const auto rows = t.kept(rho);
        double sum = 0;
        for (std::size_t i = 0; i < rows.size(); ++i)
            sum += t.patches.area(static_cast<int>(i)) * (1 - rows[i]);
        return sum;
    };
    const double pi = std::numbers::pi;
    const Traced thick(room, 512);
    const double surface = pi * 0.05 * 0.6 + 2 * pi * 0.025 * 0.025;
    const double walls = 2 * (0.6 + 0.36 + 0.6);
    const auto rays = static_cast<std::size_t>(thick.patches.count()) * 512;
    EXPECT_NEAR(lost(thick), surface, walls * four_sigma(surface / walls, rays));
    room.lamps = {tube(Vec3(0.5, 0.3, 0.4), 0.6, 0)};
    EXPECT_NEAR(lost(Traced(room, 64)), 0, 1e-6);
    scene::Lamp spot;
    spot.centre = Vec3(0.5, 0.3, 0.4);
    spot.shape = scene::Spot{.diameter = 0.2, .k = 1, .beam = 2, .aim = -Vec3::UnitZ(), .photometry = {}};
    room.lamps = {spot};
    const double sides = 2 * pi * 0.01;
    EXPECT_NEAR(lost(Traced(room, 512)), sides, walls * four_sigma(sides / walls, rays));
}

TEST(Light, is_absorbed_or_escapes_and_nothing_else) {
    const double rho = 0.7;
    auto room = gray_room(Vec3(0.8, 0.6, 0.5), rho);
    open(room, scene::Face::top);
    room.furniture.push_back(
        gray_piece(scene::BoxShape{{Vec3(0.2, 0.2, 0), Vec3(0.4, 0.4, 0.2)}, Vec3::Zero()}, rho));
    const Traced t(room, 256, 0.05);
    std::vector<Lanes> direct;  // on the floor at the left only
    double emitted = 0;
    for (int i = 0; i < t.patches.count(); ++i) {
        const auto s = t.patches.sample(i, 0.5, 0.5);
        const bool lit = s.normal.z() > 0.9 && s.point.z() < 0.1 && s.point.x() < 0.4;
        direct.push_back(lit ? Lanes::Ones() : Lanes::Zero());
        if (lit) emitted += t.patches.area(i);
    }
    const Radiosity radiosity = solve(t.patches, t.factors, direct, 200);
    const auto kept = t.kept(rho);
    double absorbed = 0;
    double escaped = 0;
    for (int i = 0; i < t.patches.count(); ++i) {
        const auto k = static_cast<std::size_t>(i);
        const double leaving = static_cast<double>(radiosity.all[k][0]) * t.patches.area(i);
        absorbed += leaving / rho * (1 - rho);
        escaped += leaving * (1 - kept[k]);
    }
    // Rows are traced each for itself: the balance holds as far as A_i F_ij = A_j F_ji does, here about 0.5 % with
    // some 3e5 rays over four reflections.
    EXPECT_GT(escaped, 0.3 * emitted);
    EXPECT_NEAR((absorbed + escaped) / emitted, 1, 0.01);
}

TEST(IntegratingSphere, spreads_one_lit_spot_evenly_over_its_wall) {
    // Wall of reflectance rho, ports of share f open: E = (rho / (1 - rho (1 - f))) x flux / area, at every place
    // (the integrating-sphere equation; Siegel & Howell, Thermal Radiation Heat Transfer). A mesh with a hole.
    const double rho = 0.8;
    const double radius = 0.4;
    auto room = gray_room(Vec3(1, 1, 1), 0);
    auto sphere = ball(Vec3(0.5, 0.5, 0.5), radius, 40);
    const int port = 2 * 40 * 9;  // triangles about the upper pole
    sphere.triangles.erase(sphere.triangles.begin(), sphere.triangles.begin() + port);
    room.furniture.push_back(gray_piece(sphere, rho));
    room.lamps.push_back(point_lamp(Vec3(0.5, 0.5, 0.5)));
    const auto is_lit = [](const Vec3& p, const Vec3& n) {
        const Vec3 out = (p - Vec3(0.5, 0.5, 0.5)).normalized();
        return out.z() < -0.8 && n.dot(out) < 0 ? 1.0 : 0.0;
    };
    const Interreflection light(room, shining(is_lit), {.rays_per_patch = 128});
    double area = 0;
    for (const auto& t : sphere.triangles) {
        const auto at = [&](int v) { return sphere.vertices[static_cast<std::size_t>(v)]; };
        area += 0.5 * (at(t[1]) - at(t[0])).cross(at(t[2]) - at(t[0])).norm();
    }
    const double whole = 4 * std::numbers::pi * radius * radius;
    const double lit = 2 * std::numbers::pi * radius * radius * 0.2;  // the cap below z = -0.8
    const double expected = rho / (1 - rho * area / whole) * lit / whole;
    for (const Vec3& out : {Vec3(1, 0, 0), Vec3(0.6, 0.64, 0.48), Vec3(0, -0.8, -0.6), Vec3(-0.8, 0, 0.6)}) {
        const Vec3 place = Vec3(0.5, 0.5, 0.5) + 0.39 * out;
        // A ball of flat triangles, a receiver 1 cm off its wall, the lit edge blurred over a patch: 2 %.
        EXPECT_NEAR(facing(light.gather(0, place, 8192), -out) / expected, 1, 0.02) << out.transpose();
    }
}

TEST(Gathering, sees_a_glowing_ball_as_the_handbook_does) {
    int rows = 0;
    for (const auto& row : tests::read_reference("checks/view_factor_checks_quadrature.csv")) {
        if (row.at("case") != "element_sphere") continue;
        ++rows;
        const auto p = tests::parameters(row.at("parameters"));
        const double scale = 0.4 / p.at("h");
        auto room = gray_room(Vec3(1, 1, 1), 0);
        room.lamps.push_back(point_lamp(Vec3(0.5, 0.9, 0.9)));
        const double r = p.at("r") * scale;
        room.furniture.push_back(
            gray_piece(scene::EllipsoidShape{Vec3(0.5, 0.5, 0.55), Vec3::Constant(r), Vec3::Zero()}, 0.5));
        const Interreflection light(room, everywhere(2), {.bounces = 1});
        const double theta = p.at("theta_deg") * std::numbers::pi / 180;
        const double seen =
            facing(light.gather(0, Vec3(0.5, 0.5, 0.15), 200000), Vec3(std::sin(theta), 0, std::cos(theta)));
        // An even lattice of 2e5 directions counts a cap to about the square root of its rim's cells: 0.2 %.
        EXPECT_NEAR(seen / tests::number(row, "value"), 1, 2e-3) << row.at("parameters");
    }
    EXPECT_GE(rows, 3);
}

}  // namespace
}  // namespace dapple::light
