#include <gtest/gtest.h>

#include <random>

#include "interreflection_rooms.h"
#include "light/embree.h"
#include "light/patches_mesh.h"
#include "light/patches_skin.h"

namespace dapple::light {
namespace {

using namespace rooms;

std::vector<scene::Furniture> clutter(std::mt19937& random, int pieces) {
    std::uniform_real_distribution<double> place(0.1, 0.9);
    std::uniform_real_distribution<double> size(0.02, 0.12);
    std::uniform_real_distribution<double> angle(-1, 1);
    std::vector<scene::Furniture> furniture;
    for (int i = 0; i < pieces; ++i) {
        const Vec3 at(place(random), place(random), place(random));
        const Vec3 half(size(random), size(random), size(random));
        const Vec3 turn(angle(random), angle(random), angle(random));
        if (i % 3 == 0) furniture.push_back(gray_piece(scene::BoxShape{{at - half, at + half}, turn}, 0.5));
        if (i % 3 == 1)
            furniture.push_back(gray_piece(scene::CylinderShape{at - half, at + half, 0.05, turn}, 0.5));
        if (i % 3 == 2) furniture.push_back(gray_piece(scene::EllipsoidShape{at, half, turn}, 0.5));
    }
    return furniture;
}

Vec3 somewhere(std::mt19937& random) {
    std::uniform_real_distribution<double> place(0, 1);
    return {place(random), place(random), place(random)};
}

TEST(Rays, meet_the_same_furniture_in_the_tree_as_one_by_one) {
    std::mt19937 random(5);
    const auto furniture = clutter(random, 30);
    const FurnitureRays rays(furniture);
    int met = 0;
    int differing = 0;
    for (int i = 0; i < 5000; ++i) {
        const Vec3 origin = somewhere(random);
        const Vec3 direction = (somewhere(random) - origin).normalized();
        std::optional<FurnitureHit> expected;
        for (std::size_t f = 0; f < furniture.size(); ++f) {
            const double reach = expected ? expected->distance : 2;
            const auto crossing = first_crossing(*make_body(furniture[f], 0), origin, direction, 1e-6, reach);
            if (crossing) {
                expected = FurnitureHit{static_cast<int>(f), crossing->part, -1, crossing->distance,
                                        crossing->inside};
            }
        }
        const auto found = rays.first(origin, direction, 2);
        if (found.has_value() != expected.has_value()) {
            ++differing;  // a ray that grazes an edge may miss it in single precision
            continue;
        }
        if (!found) continue;
        ++met;
        if (found->furniture != expected->furniture || found->inside != expected->inside ||
            found->part != expected->part) {
            ++differing;
            continue;
        }
        // Single precision: 1e-7 of a metre, more where a curved side is grazed.
        EXPECT_NEAR(found->distance, expected->distance, 2e-5);
    }
    EXPECT_GT(met, 1500);
    EXPECT_LE(differing, 2);
}

TEST(Rays, know_on_which_face_of_a_body_they_end) {
    std::mt19937 random(6);
    const auto furniture = clutter(random, 12);
    const FurnitureRays rays(furniture);
    int met = 0;
    for (int i = 0; i < 2000; ++i) {
        const Vec3 origin = somewhere(random);
        const Vec3 direction = (somewhere(random) - origin).normalized();
        const auto hit = rays.first(origin, direction, 2);
        if (!hit) continue;
        ++met;
        const Body body = *make_body(furniture[static_cast<std::size_t>(hit->furniture)], 0);
        const Vec3 point = origin + hit->distance * direction;
        const SkinPoint skin = skin_point(body, hit->part, locate(body, hit->part, point));
        EXPECT_LT((skin.point - point).norm(), 2e-5);
        const double approach = skin.normal.dot(direction);
        EXPECT_TRUE(std::abs(approach) < 1e-3 || (approach > 0) == hit->inside);
    }
    EXPECT_GT(met, 300);
}

TEST(Rays, meet_nothing_beyond_their_reach_nor_the_surface_they_start_from) {
    const std::vector<scene::Furniture> furniture = {
        gray_piece(scene::BoxShape{{Vec3(0.4, 0.4, 0.4), Vec3(0.6, 0.6, 0.6)}, Vec3::Zero()}, 0.5)};
    const FurnitureRays rays(furniture);
    EXPECT_TRUE(rays.first(Vec3(0.5, 0.5, 0), Vec3::UnitZ(), 0.41));
    EXPECT_FALSE(rays.first(Vec3(0.5, 0.5, 0), Vec3::UnitZ(), 0.39));
    EXPECT_FALSE(rays.first(Vec3(0.5, 0.5, 0.6), Vec3::UnitZ(), 1)) << "from its own top";
    const FurnitureRays nothing({});
    EXPECT_TRUE(nothing.empty());
    EXPECT_FALSE(nothing.first(Vec3(0, 0, 0), Vec3::UnitZ(), 1));
}

TEST(Rays, tell_the_back_of_a_triangle_from_its_front) {
    const std::vector<scene::Furniture> furniture = {gray_piece(ball(Vec3(0.5, 0.5, 0.5), 0.2, 10), 0.5)};
    const FurnitureRays rays(furniture);
    const auto from_outside = rays.first(Vec3(0.5, 0.51, 0), Vec3::UnitZ(), 1);
    ASSERT_TRUE(from_outside);
    EXPECT_FALSE(from_outside->inside);
    EXPECT_NEAR(from_outside->distance, 0.3, 0.01);
    const auto from_within = rays.first(Vec3(0.5, 0.51, 0.5), Vec3::UnitZ(), 1);
    ASSERT_TRUE(from_within);
    EXPECT_TRUE(from_within->inside);
}

TEST(Meshes, are_known_to_be_closed_or_to_have_a_hole) {
    auto mesh = ball(Vec3(0.5, 0.5, 0.5), 0.2, 8);
    EXPECT_TRUE(is_closed(mesh));
    // The same with every triangle's corners to itself, as many files write them.
    scene::MeshShape soup;
    for (const auto& t : mesh.triangles) {
        const int first = static_cast<int>(soup.vertices.size());
        for (const int v : t) soup.vertices.push_back(mesh.vertices[static_cast<std::size_t>(v)]);
        soup.triangles.push_back({first, first + 1, first + 2});
    }
    EXPECT_TRUE(is_closed(soup));
    mesh.triangles.pop_back();
    EXPECT_FALSE(is_closed(mesh));
    EXPECT_FALSE(is_closed({}));
}

TEST(Meshes, keep_their_surface_when_cut_finer) {
    const scene::MeshShape mesh{{Vec3(0, 0, 0), Vec3(1, 0, 0.2), Vec3(0.3, 0.8, 0)}, {{0, 1, 2}}};
    const auto fine = refined(mesh, 0.1);
    Vec3 twice = Vec3::Zero();
    for (const auto& t : fine.triangles) {
        const auto at = [&](int v) { return fine.vertices[static_cast<std::size_t>(v)]; };
        for (int e = 0; e < 3; ++e) {
            const auto k = static_cast<std::size_t>(e);
            EXPECT_LE((at(t[k]) - at(t[(k + 1) % 3])).norm(), 0.1);
        }
        twice += (at(t[1]) - at(t[0])).cross(at(t[2]) - at(t[0]));
    }
    EXPECT_LT((twice - Vec3(1, 0, 0.2).cross(Vec3(0.3, 0.8, 0))).norm(), 1e-12);
    EXPECT_LE(refined(mesh, 0.001, 500).triangles.size(), 500U);
}

}  // namespace
}  // namespace dapple::light
