// A candidate evaluated in passing must read what a new field of the changed enclosure reads.
#include "light/what_if.h"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>

#include "light/field.h"
#include "rooms.h"

namespace dapple::light {
namespace {

using namespace tests;
using spectrum::Quantity;

struct Room {
    scene::Enclosure enclosure;
    std::vector<Vec3> receivers;
};

Room room(unsigned seed) {
    std::mt19937 random(seed);
    Room r{black_box(1.2, 0.6, 0.6), {}};
    furnish(r.enclosure, 9, random);
    r.enclosure.lamps = {lamp("tube", Vec3(0.6, 0.3, 0.57), tube(0.6)),
                         lamp("spot", Vec3(0.3, 0.3, 0.58), spot(0, 5))};
    r.receivers = random_points(r.enclosure, 16, random);
    return r;
}

void expect_same(std::span<const double> got, const std::vector<double>& want) {
    ASSERT_EQ(got.size(), want.size());
    double mean = 0;
    for (const double w : want) mean += w / static_cast<double>(want.size());
    // One direction a lamp and two strips of a tube, against the field's two directions and many strips: 1.5 % of the mean,
    // but where a shadow's edge lies along the tube (one receiver of these rooms, 3.7 %).
    int in_penumbra = 0;
    for (std::size_t i = 0; i < want.size(); ++i) {
        EXPECT_NEAR(got[i], want[i], 0.05 * mean) << i;
        in_penumbra += std::abs(got[i] - want[i]) > 0.015 * mean;
    }
    EXPECT_LE(in_penumbra, 1);
}

TEST(WhatIf, as_things_stand_it_reads_the_field) {
    const Room r = room(1);
    WhatIf what_if(r.enclosure, r.receivers, Quantity::uvi);
    ASSERT_TRUE(what_if.able());
    expect_same(what_if.readings(), Field(r.enclosure, {0}).values(r.receivers, Quantity::uvi));
}

TEST(WhatIf, a_moved_lamp_reads_as_a_new_field) {
    const Room r = room(2);
    WhatIf what_if(r.enclosure, r.receivers, Quantity::uvi);
    auto changed = r.enclosure;
    changed.lamps[0].centre = Vec3(0.5, 0.25, 0.5);
    expect_same(what_if.with_lamp_at(0, changed.lamps[0].centre),
                Field(changed, {0}).values(r.receivers, Quantity::uvi));
    expect_same(what_if.readings(),
                Field(r.enclosure, {0}).values(r.receivers, Quantity::uvi));  // nothing was kept
}

TEST(WhatIf, a_moved_ledge_carries_its_receivers_and_its_shadow) {
    const Room r = room(3);
    WhatIf what_if(r.enclosure, r.receivers, Quantity::uvi);
    const Vec3 by(0.03, -0.02, 0.05);
    auto changed = r.enclosure;
    std::get<scene::BoxShape>(changed.furniture[0].shape).box.min += by;
    std::get<scene::BoxShape>(changed.furniture[0].shape).box.max += by;
    auto moved = r.receivers;
    const auto carried = std::make_unique<bool[]>(moved.size());
    for (std::size_t i = 0; i < 4; ++i) {
        carried[i] = true;
        moved[i] += by;
    }
    expect_same(what_if.with_furniture_moved(0, by, {carried.get(), moved.size()}),
                Field(changed, {0}).values(moved, Quantity::uvi));
    expect_same(what_if.readings(), Field(r.enclosure, {0}).values(r.receivers, Quantity::uvi));
}

TEST(WhatIf, says_so_when_it_cannot_follow) {
    Room r = room(4);
    r.enclosure.furniture.push_back(
        furniture("rock", scene::MeshShape{{Vec3(0, 0, 0), Vec3(0.1, 0, 0), Vec3(0, 0.1, 0)}, {{0, 1, 2}}}));
    EXPECT_FALSE(WhatIf(r.enclosure, r.receivers, Quantity::uvi).able());
}

}  // namespace
}  // namespace dapple::light
