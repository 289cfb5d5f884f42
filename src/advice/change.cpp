#include <algorithm>
#include <utility>

#include "advice/clearance.h"
#include "advice/solid.h"

namespace dapple::advice {

using scene::Vec3;

namespace {

template <class Thing>
typename std::vector<Thing>::iterator named(std::vector<Thing>& things, const std::string& id) {
    return std::find_if(things.begin(), things.end(), [&](const Thing& thing) { return thing.id == id; });
}

void move(scene::BoxShape& shape, const Vec3& by) {
    shape.box.min += by;
    shape.box.max += by;
}

void move(scene::CylinderShape& shape, const Vec3& by) {
    shape.from += by;
    shape.to += by;
}

void move(scene::EllipsoidShape& shape, const Vec3& by) {
    shape.centre += by;
}

void move(scene::MeshShape& shape, const Vec3& by) {
    for (Vec3& vertex : shape.vertices) vertex += by;
}

bool move_furniture(scene::Enclosure& enclosure, const Change& change) {
    const auto piece = named(enclosure.furniture, change.id);
    if (piece == enclosure.furniture.end()) return false;
    for (scene::Place& spot : enclosure.spots) {
        if (stands_on(spot, *piece)) spot.position += change.by;
    }
    std::visit([&](auto& shape) { move(shape, change.by); }, piece->shape);
    return true;
}

bool move_lamp(scene::Enclosure& enclosure, const Change& change) {
    const auto lamp = named(enclosure.lamps, change.id);
    if (lamp == enclosure.lamps.end()) return false;
    lamp->centre += change.by;
    return true;
}

Vec3 aim_of(const scene::Lamp& lamp) {
    return std::visit([](const auto& shape) { return shape.aim; }, lamp.shape);
}

// A rod looks square to its length, so it takes of the new aim what is square to it.
template <class Rod>
void aim_rod(Rod& rod, const Vec3& aim) {
    const Vec3 across = aim - aim.dot(rod.along) * rod.along;
    if (across.norm() > 1e-3) rod.aim = across.normalized();
}

void take_aim(scene::Tube& tube, const Vec3& aim) {
    aim_rod(tube, aim);
}
void take_aim(scene::Bar& bar, const Vec3& aim) {
    aim_rod(bar, aim);
}
void take_aim(scene::Spot& spot, const Vec3& aim) {
    spot.aim = aim;
}

void take_aim(scene::Lamp& lamp, const Vec3& aim) {
    if ((aim_of(lamp) - aim).norm() < 1e-9) return;
    std::visit([&](auto& shape) { take_aim(shape, aim); }, lamp.shape);
}

// Each lamp goes into the other's fitting: it takes over the place and which way that looks.
bool swap_lamps(scene::Enclosure& enclosure, const Change& change) {
    const auto one = named(enclosure.lamps, change.id);
    const auto other = named(enclosure.lamps, change.other);
    if (one == enclosure.lamps.end() || other == enclosure.lamps.end() || one == other) return false;
    const Vec3 aim_of_one = aim_of(*one);
    std::swap(one->centre, other->centre);
    take_aim(*one, aim_of(*other));
    take_aim(*other, aim_of_one);
    return true;
}

bool remove_screen(scene::Enclosure& enclosure, const Change& change) {
    const auto screen = named(enclosure.screens, change.id);
    if (screen == enclosure.screens.end()) return false;
    enclosure.screens.erase(screen);
    return true;
}

bool carry_out(scene::Enclosure& enclosure, const Change& change) {
    switch (change.kind) {
        case Change::Kind::move_furniture:
            return move_furniture(enclosure, change);
        case Change::Kind::move_lamp:
            return move_lamp(enclosure, change);
        case Change::Kind::swap_lamps:
            return swap_lamps(enclosure, change);
        case Change::Kind::remove_screen:
            return remove_screen(enclosure, change);
    }
    return false;
}

}  // namespace

bool stands_on(const scene::Place& spot, const scene::Furniture& furniture) {
    constexpr double above = 0.005;  // a spot's height is taken with a ruler: it may sink in a little
    constexpr double below = 0.015;  // or float a little
    const Solid drop =
        segment(spot.position - below * Vec3::UnitZ(), spot.position + above * Vec3::UnitZ(), 0.001);
    return penetration(drop, solid_of(furniture)) > 0;
}

std::optional<scene::Enclosure> changed(const scene::Enclosure& enclosure, const Change& change) {
    scene::Enclosure after = enclosure;
    if (!carry_out(after, change)) return std::nullopt;
    return after;
}

std::optional<scene::Enclosure> apply(const scene::Enclosure& enclosure, const Change& change,
                                      const FixOptions& options) {
    std::optional<scene::Enclosure> after = changed(enclosure, change);
    if (after && !Clearances(enclosure, options).allow(*after, change)) return std::nullopt;
    return after;
}

}  // namespace dapple::advice
