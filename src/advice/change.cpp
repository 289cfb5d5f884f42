#include "advice/change.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "advice/lamps.h"
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

// ---- lamps

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

std::optional<Vec3> along_of(const scene::Lamp& lamp) {
    if (const auto* tube = std::get_if<scene::Tube>(&lamp.shape)) return tube->along;
    if (const auto* bar = std::get_if<scene::Bar>(&lamp.shape)) return bar->along;
    return std::nullopt;
}

void lie_along(scene::Lamp& lamp, const Vec3& along) {
    if (auto* tube = std::get_if<scene::Tube>(&lamp.shape)) tube->along = along;
    if (auto* bar = std::get_if<scene::Bar>(&lamp.shape)) bar->along = along;
}

// Turned from where it looks towards `change.by`, by an angle as large as that is long.
bool tilt(scene::Lamp& lamp, const Change& change) {
    const Vec3 aim = aim_of(lamp);
    Vec3 side = change.by - change.by.dot(aim) * aim;
    if (const auto along = along_of(lamp)) side -= side.dot(*along) * *along;
    if (side.norm() < 1e-6) return false;
    const double angle = change.by.norm();
    take_aim(lamp, std::cos(angle) * aim + std::sin(angle) * side.normalized());
    return true;
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

bool replace_lamp(scene::Lamp& lamp, const Change& change) {
    const LampModel* model = find_lamp_model(change.other);
    if (model == nullptr || model->lamp.shape.index() != lamp.shape.index()) return false;
    scene::Lamp fresh = model->lamp;
    fresh.id = lamp.id;
    fresh.centre = lamp.centre;
    fresh.hours_on = lamp.hours_on;
    if (const auto along = along_of(lamp)) lie_along(fresh, *along);
    take_aim(fresh, aim_of(lamp));
    lamp = std::move(fresh);
    return true;
}

bool add_lamp(scene::Enclosure& enclosure, const Change& change) {
    const LampModel* model = find_lamp_model(change.other);
    if (model == nullptr || named(enclosure.lamps, change.id) != enclosure.lamps.end()) return false;
    scene::Lamp lamp = model->lamp;
    lamp.id = change.id;
    lamp.centre = change.by;
    enclosure.lamps.push_back(std::move(lamp));
    return true;
}

bool change_lamp(scene::Enclosure& enclosure, const Change& change) {
    const auto lamp = named(enclosure.lamps, change.id);
    if (lamp == enclosure.lamps.end()) return false;
    switch (change.kind) {
        case Change::Kind::move_lamp:
            lamp->centre += change.by;
            return true;
        case Change::Kind::tilt_lamp:
            return tilt(*lamp, change);
        case Change::Kind::dim_lamp:
            for (scene::Output& output : lamp->output) output.value *= change.factor;
            return true;
        case Change::Kind::renew_lamp:
            lamp->age_factor = 1;
            lamp->installed.clear();
            return true;
        case Change::Kind::replace_lamp:
            return replace_lamp(*lamp, change);
        default:
            return false;
    }
}

// ---- what stands in the light

bool change_screen(scene::Enclosure& enclosure, const Change& change) {
    const auto screen = named(enclosure.screens, change.id);
    if (screen == enclosure.screens.end()) return false;
    if (change.kind == Change::Kind::remove_screen) {
        enclosure.screens.erase(screen);
    } else {
        screen->kind = change.mesh;
        screen->transmittance.reset();
    }
    return true;
}

bool thin_foliage(scene::Enclosure& enclosure, const Change& change) {
    const auto plant = named(enclosure.foliage, change.id);
    if (plant == enclosure.foliage.end()) return false;
    plant->leaf_area_density *= change.factor;
    return true;
}

bool add_shade(scene::Enclosure& enclosure, const Change& change) {
    if (named(enclosure.furniture, change.id) != enclosure.furniture.end()) return false;
    enclosure.furniture.push_back(shade_at(change.by, change.id, enclosure.size));
    return true;
}

bool carry_out(scene::Enclosure& enclosure, const Change& change) {
    switch (change.kind) {
        case Change::Kind::move_furniture:
            return move_furniture(enclosure, change);
        case Change::Kind::swap_lamps:
            return swap_lamps(enclosure, change);
        case Change::Kind::remove_screen:
        case Change::Kind::replace_screen:
            return change_screen(enclosure, change);
        case Change::Kind::thin_foliage:
            return thin_foliage(enclosure, change);
        case Change::Kind::add_lamp:
            return add_lamp(enclosure, change);
        case Change::Kind::add_shade:
            return add_shade(enclosure, change);
        case Change::Kind::move_lamp:
        case Change::Kind::tilt_lamp:
        case Change::Kind::dim_lamp:
        case Change::Kind::renew_lamp:
        case Change::Kind::replace_lamp:
            return change_lamp(enclosure, change);
    }
    return false;
}

constexpr std::array<std::string_view, 12> names = {
    "move_furniture", "move_lamp",    "tilt_lamp",  "swap_lamps",   "dim_lamp", "remove_screen",
    "replace_screen", "thin_foliage", "renew_lamp", "replace_lamp", "add_lamp", "add_shade"};

}  // namespace

std::string_view name(Change::Kind kind) {
    return names.at(static_cast<std::size_t>(kind));
}

bool concerns_lamps_only(Change::Kind kind) {
    switch (kind) {
        case Change::Kind::move_furniture:
        case Change::Kind::remove_screen:
        case Change::Kind::replace_screen:
        case Change::Kind::thin_foliage:
        case Change::Kind::add_shade:
            return false;
        default:
            return true;
    }
}

bool stands_on(const scene::Place& spot, const scene::Furniture& furniture) {
    constexpr double above = 0.005;  // a spot's height is taken with a ruler: it may sink in a little
    constexpr double below = 0.015;  // or float a little
    const Solid drop =
        segment(spot.position - below * Vec3::UnitZ(), spot.position + above * Vec3::UnitZ(), 0.001);
    return penetration(drop, solid_of(furniture)) > 0;
}

double open_share(const scene::Mesh& mesh) {
    const double open = std::max(0.0, 1 - mesh.wire / mesh.pitch);
    return open * open;
}

scene::Furniture shade_at(const Vec3& centre, const std::string& id, const Vec3& room) {
    const Vec3 half(std::min(0.15, 0.2 * room.x()), std::min(0.15, 0.4 * room.y()), 0.0075);
    return {id, "Cork bark roof", scene::BoxShape{{centre - half, centre + half}, Vec3::Zero()},
            *spectrum::find_material("cork_bark"), false};
}

std::optional<scene::Enclosure> changed(const scene::Enclosure& enclosure, const Change& change) {
    scene::Enclosure after = enclosure;
    if (!carry_out(after, change)) return std::nullopt;
    return after;
}

std::optional<scene::Enclosure> changed(const scene::Enclosure& enclosure,
                                        const std::vector<Change>& changes) {
    scene::Enclosure after = enclosure;
    for (const Change& change : changes) {
        if (!carry_out(after, change)) return std::nullopt;
    }
    return after;
}

}  // namespace dapple::advice
