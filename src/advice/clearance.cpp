#include "advice/clearance.h"

#include <algorithm>
#include <limits>

#include "advice/lamps.h"

namespace dapple::advice {

using scene::Box;
using scene::Enclosure;
using scene::Face;
using scene::Vec3;

namespace {

// A millimetre or two is what furniture gives way by, and what rounding may add to a resting contact.
constexpr double give = 0.002;

// How high above an open top a lamp may hang; our judgement, about the length of a lamp stand's arm.
constexpr double above_top = 0.5;

template <class Thing>
const Thing& named(const std::vector<Thing>& things, const std::string& id) {
    return *std::find_if(things.begin(), things.end(), [&](const Thing& thing) { return thing.id == id; });
}

// The body of the thing of that id among those of before, or null for a new one.
template <class Thing, class Body>
const Body* before(const std::vector<Thing>& things, const std::vector<Body>& bodies, const std::string& id) {
    for (std::size_t i = 0; i < things.size(); ++i) {
        if (things[i].id == id) return &bodies[i];
    }
    return nullptr;
}

// How far a box sticks out of the enclosure.
double sticks_out(const Box& box, const Vec3& size) {
    const Vec3 low = -box.min;
    const Vec3 high = box.max - size;
    return std::max({0.0, low.maxCoeff(), high.maxCoeff()});
}

// Where lamps may hang: the box, and the air above it when the top is open.
Vec3 room_for_lamps(const Enclosure& enclosure) {
    const bool open = !enclosure.walls[static_cast<std::size_t>(Face::top)];
    return enclosure.size + (open ? above_top : 0.0) * Vec3::UnitZ();
}

bool apart(const Box& a, const Box& b) {
    return ((a.min - b.max).array() > 0).any() || ((b.min - a.max).array() > 0).any();
}

std::string surface_name(const scene::Furniture& piece) {
    return piece.name.empty() ? piece.id : piece.name;
}

}  // namespace

Clearances::Body Clearances::body_of(Solid solid) {
    const Box box = bounds(solid);
    return {std::move(solid), box};
}

// Do two solids reach further into each other than they did before? New ones have no before.
bool Clearances::worse(const Body& a, const Body& b, const Body* a_before, const Body* b_before) {
    if (apart(a.bounds, b.bounds)) return false;
    const double depth = penetration(a.solid, b.solid);
    if (depth <= give) return false;
    if (a_before == nullptr || b_before == nullptr) return true;
    return depth > penetration(a_before->solid, b_before->solid) + give;
}

Clearances::Clearances(const Enclosure& before, const FixOptions& options)
    : before_(before), lamp_to_animal_(options.lamp_to_animal) {
    if (const auto animals = husbandry::resolve_animals(before_)) {
        for (const auto& animal : *animals) {
            stances_.push_back({animal.species.back_height, animal.species.climbs});
        }
    }
    for (const auto& piece : before_.furniture) furniture_.push_back(body_of(solid_of(piece)));
    for (const auto& screen : before_.screens) screens_.push_back(body_of(solid_of(screen)));
    for (const auto& lamp : before_.lamps) lamps_.push_back(body_of(solid_of(lamp)));
    reach_ = reach_in(before_);
    nearest_ = nearest(before_, reach_);
}

bool Clearances::allow(const Enclosure& after, const Change& change) const {
    return allows(after, change, Reach::anew);
}

bool Clearances::seem_to_allow(const Enclosure& after, const Change& change) const {
    return allows(after, change, Reach::carried);
}

bool Clearances::allows(const Enclosure& after, const Change& change, Reach reach) const {
    return has_room(after, change) && keeps_distance(after, change, reach);
}

bool Clearances::has_room(const Enclosure& after, const Change& change) const {
    switch (change.kind) {
        case Change::Kind::move_furniture:
            if (change.by.head<2>().norm() > 0 && bears_something(change.id)) return false;
            return furniture_has_room(after, change.id) && spots_stay_free(after, change.id);
        case Change::Kind::add_shade:
            return furniture_has_room(after, change.id) && spots_stay_free(after, change.id);
        case Change::Kind::move_lamp:
            return lamp_has_room(after, change.id, true);
        case Change::Kind::swap_lamps:
            return lamp_has_room(after, change.id, false) && lamp_has_room(after, change.other, false);
        case Change::Kind::tilt_lamp:
        case Change::Kind::replace_lamp:
        case Change::Kind::add_lamp:
            return lamp_has_room(after, change.id, false);
        case Change::Kind::dim_lamp:
        case Change::Kind::renew_lamp:
        case Change::Kind::remove_screen:
        case Change::Kind::replace_screen:
        case Change::Kind::thin_foliage:
            return true;
    }
    return false;
}

bool Clearances::furniture_has_room(const Enclosure& after, const std::string& id) const {
    const Body moved = body_of(solid_of(named(after.furniture, id)));
    const Body* original = before(before_.furniture, furniture_, id);
    const double stuck_out = original != nullptr ? sticks_out(original->bounds, after.size) : 0.0;
    if (sticks_out(moved.bounds, after.size) > stuck_out + give) return false;
    const auto in_the_way = [&](const auto& things, const auto& bodies) {
        for (std::size_t i = 0; i < things.size(); ++i) {
            if (things[i].id != id && worse(moved, bodies[i], original, &bodies[i])) return true;
        }
        return false;
    };
    return !in_the_way(before_.furniture, furniture_) && !in_the_way(before_.screens, screens_) &&
           !in_the_way(before_.lamps, lamps_);
}

// Would lifting the piece by a finger's breadth lift another one? Then it is not slid away from under it.
bool Clearances::bears_something(const std::string& id) const {
    constexpr double finger = 0.01;
    const Body* piece = before(before_.furniture, furniture_, id);
    if (piece == nullptr) return false;
    const Vec3 up = finger * Vec3::UnitZ();
    const Body lifted = body_of(solid_of(named(before_.furniture, id)).moved(up));
    for (std::size_t i = 0; i < furniture_.size(); ++i) {
        if (before_.furniture[i].id != id && worse(lifted, furniture_[i], piece, &furniture_[i])) return true;
    }
    return false;
}

bool Clearances::lamp_has_room(const Enclosure& after, const std::string& id, bool carried_straight) const {
    const scene::Lamp& lamp = named(after.lamps, id);
    const Body moved = body_of(solid_of(lamp));
    const Body* original = before(before_.lamps, lamps_, id);
    const Vec3 room = room_for_lamps(after);
    if (!Box{Vec3::Zero(), room}.contains(lamp.centre, 1e-9)) return false;
    const double stuck_out = original != nullptr ? sticks_out(original->bounds, room) : 0.0;
    if (sticks_out(moved.bounds, room) > stuck_out + give) return false;
    for (const Body& piece : furniture_) {
        if (worse(moved, piece, original, &piece)) return false;
    }
    // A lamp that is carried straight to its place may not pass a screen: one below the lid stays below it.
    const bool carried = carried_straight && original != nullptr;
    const Body way =
        carried ? body_of(swept(original->solid, lamp.centre - named(before_.lamps, id).centre)) : moved;
    for (const Body& screen : screens_) {
        if (worse(way, screen, original, &screen)) return false;
    }
    for (const scene::Lamp& neighbour : after.lamps) {
        if (neighbour.id == id) continue;
        const Body there = body_of(solid_of(neighbour));
        if (worse(moved, there, original, before(before_.lamps, lamps_, neighbour.id))) return false;
    }
    return true;
}

// A moved piece may not bury a spot that stays where it is, nor lift one out of the box.
bool Clearances::spots_stay_free(const Enclosure& after, const std::string& furniture) const {
    const Body moved = body_of(solid_of(named(after.furniture, furniture)));
    const Body* original = before(before_.furniture, furniture_, furniture);
    const double back = stances_.empty() ? 0.0 : stances_.front().back_height;
    for (std::size_t i = 0; i < after.spots.size(); ++i) {
        const Vec3 lift = (after.spots[i].height.value_or(back) + give) * Vec3::UnitZ();
        const Vec3& feet = after.spots[i].position;
        const Vec3& feet_before = before_.spots[i].position;
        if (!Box{Vec3::Zero(), after.size}.contains(feet + lift, give)) return false;
        constexpr double thumb = 0.005;
        const Body animal = body_of(segment(feet + give * Vec3::UnitZ(), feet + lift, thumb));
        const Body animal_before =
            body_of(segment(feet_before + give * Vec3::UnitZ(), feet_before + lift, thumb));
        if (worse(animal, moved, &animal_before, original)) return false;
    }
    return true;
}

std::vector<Clearances::InReach> Clearances::reach_in(const Enclosure& enclosure) const {
    // A dense grid is not needed: between its points the distance differs by no more than half a spacing
    // squared over the clearance, about 1 cm here.
    constexpr husbandry::ReachOptions coarse = {0.05, 1500};
    std::vector<InReach> all;
    for (const Stance& stance : stances_) {
        const auto reach = husbandry::reach_of(enclosure, stance.back_height, stance.climbs, coarse);
        for (std::size_t i = 0; i < reach.points.size(); ++i) {
            all.push_back({reach.points[i], reach.surfaces[static_cast<std::size_t>(reach.on[i])]});
        }
    }
    return all;
}

std::vector<double> Clearances::nearest(const Enclosure& enclosure, const std::vector<InReach>& reach) const {
    std::vector<double> distances;
    for (const scene::Lamp& lamp : enclosure.lamps) {
        double least = std::numeric_limits<double>::infinity();
        for (const InReach& place : reach) least = std::min(least, distance_to_surface(lamp, place.point));
        for (const Stance& stance : stances_) {
            for (const scene::Place& spot : enclosure.spots) {
                const Vec3 back = spot.position + spot.height.value_or(stance.back_height) * Vec3::UnitZ();
                least = std::min(least, distance_to_surface(lamp, back));
            }
        }
        distances.push_back(least);
    }
    return distances;
}

bool Clearances::keeps_distance(const Enclosure& after, const Change& change, Reach how) const {
    using Kind = Change::Kind;
    const bool may_come_nearer = change.kind == Kind::move_furniture || change.kind == Kind::move_lamp ||
                                 change.kind == Kind::swap_lamps || change.kind == Kind::remove_screen ||
                                 change.kind == Kind::replace_lamp || change.kind == Kind::add_lamp;
    if (!may_come_nearer) return true;
    std::vector<InReach> reach;
    if (how == Reach::anew) {
        reach = reach_in(after);
    } else if (change.kind == Kind::move_furniture) {
        const std::string carried = surface_name(named(before_.furniture, change.id));
        for (InReach place : reach_) {
            if (place.on != carried) continue;
            place.point += change.by;
            reach.push_back(std::move(place));
        }
    }
    const bool look_at_all = how == Reach::carried && change.kind != Kind::move_furniture;
    const std::vector<double> distances = nearest(after, look_at_all ? reach_ : reach);
    for (std::size_t i = 0; i < distances.size(); ++i) {
        // Without a guard nothing else keeps the animal off, and another model has a distance of its own: the full
        // distance is asked for.
        const bool its_own =
            i >= nearest_.size() || (change.kind == Kind::replace_lamp && after.lamps[i].id == change.id);
        const double full = safe_distance(after.lamps[i], lamp_to_animal_);
        const bool tolerated = !its_own && change.kind != Kind::remove_screen;
        if (distances[i] < (tolerated ? std::min(full, nearest_[i]) : full) - 1e-9) return false;
    }
    return true;
}

}  // namespace dapple::advice
