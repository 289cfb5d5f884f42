// Shadow intervals against brute force: a thousand places along the line, each tested by whether the segment to it
// passes through the body at finely spaced places.
#include "light/shadow.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "light/body.h"
#include "rooms.h"

namespace dapple::light {
namespace {

using namespace tests;

// Does the segment meet the body? Exact enough by ternary search on a convex distance-like function.
bool meets(const Body& body, const Vec3& x, const Vec3& p) {
    const Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>> frame(body.frame);
    const Eigen::Map<const Vec3> centre(body.centre), half(body.half);
    auto gauge = [&](double t) {  // <= 1 inside; convex along the segment
        const Vec3 q = frame * (x + t * (p - x) - centre);
        switch (body.kind) {
            case BodyKind::box:
                return q.cwiseAbs().cwiseQuotient(half).maxCoeff();
            case BodyKind::ellipsoid:
                return q.cwiseQuotient(half).norm();
            case BodyKind::cylinder:
                return std::max(q.head<2>().norm() / half.x(), std::abs(q.z()) / half.z());
        }
        return 2.0;
    };
    double a = 0, b = 1;
    for (int i = 0; i < 120; ++i) {
        const double l = a + (b - a) / 3, r = b - (b - a) / 3;
        (gauge(l) < gauge(r) ? b : a) = gauge(l) < gauge(r) ? r : l;
    }
    return std::min({gauge(0), gauge(1), gauge((a + b) / 2)}) <= 1;
}

Triple<double> triple(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}

TEST(Shadow, intervals_agree_with_brute_force_for_every_kind_of_body) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> u(-1, 1);
    int shaded = 0;
    for (int round = 0; round < 1000; ++round) {
        scene::Enclosure enclosure = black_box(1, 0.6, 0.6);
        furnish(enclosure, 3, random);
        const Vec3 middle(0.5 + 0.3 * u(random), 0.3 + 0.2 * u(random), 0.55 + 0.3 * u(random));
        const Vec3 axis = Vec3(u(random), u(random), u(random)).normalized();
        const Vec3 x(0.5 + 0.5 * u(random), 0.3 + 0.3 * u(random), 0.3 + 0.3 * u(random));
        for (const auto& piece : enclosure.furniture) {
            const Body body = *make_body(piece, 0.0);
            const auto found = shadow_of(body, triple(x), triple(middle), triple(axis), -0.4, 0.4);
            if (contains(body, x)) {
                EXPECT_LE(found.lo, -0.4 + 1e-9);
                EXPECT_GE(found.hi, 0.4 - 1e-9);
                continue;
            }
            for (int i = 0; i <= 40; ++i) {
                const double s = -0.4 + 0.02 * i;
                const bool hidden = meets(body, x, middle + s * axis);
                // Within 1e-6 of an end of the interval brute force may fall on either side.
                if (std::min(std::abs(s - found.lo), std::abs(s - found.hi)) < 1e-6) continue;
                ASSERT_EQ(hidden, found.lo < s && s < found.hi)
                    << "round " << round << " " << piece.id << " s=" << s << " interval " << found.lo << ".."
                    << found.hi;
                shaded += hidden ? 1 : 0;
            }
        }
    }
    EXPECT_GT(shaded, 1500);  // the scenes do cast shadows
}

RC_GTEST_PROP(Shadow, culling_never_drops_a_body_that_stands_between, ()) {
    const auto seed = *rc::gen::arbitrary<unsigned>();
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> u(0, 1);
    scene::Enclosure enclosure = black_box(1, 0.6, 0.6);
    furnish(enclosure, 6, random);
    const Vec3 lo(u(random), 0.6 * u(random), 0.3 * u(random));
    const Vec3 hi = lo + 0.1 * Vec3(u(random), u(random), u(random));
    const Vec3 lamp_lo(0.1, 0.3, 0.55), lamp_hi(0.9, 0.3, 0.55);
    for (const auto& piece : enclosure.furniture) {
        const Body body = *make_body(piece, 0.0);
        if (may_stand_between(body, lo.data(), hi.data(), lamp_lo.data(), lamp_hi.data())) continue;
        for (int i = 0; i < 20; ++i) {
            const Vec3 x = lo + (hi - lo).cwiseProduct(Vec3(u(random), u(random), u(random)));
            const Vec3 p = lamp_lo + u(random) * (lamp_hi - lamp_lo);
            RC_ASSERT(!meets(body, x, p));
        }
    }
}

}  // namespace
}  // namespace dapple::light
