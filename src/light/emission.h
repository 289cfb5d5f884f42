// How a point of a disc or of a bar radiates: intensity relative to the aim, by direction.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "scene/enclosure.h"

namespace dapple::light {

struct Emission {
    double k;
    scene::Vec3 aim;
    scene::Vec3 along;  // unit, perpendicular to aim: where phi = 0
    const scene::Photometry* photometry = nullptr;

    // `direction` is the unit vector away from the lamp. Nothing is radiated backwards by cos^k; a photometric file
    // may say otherwise.
    double operator()(const scene::Vec3& direction) const {
        const double cosine = direction.dot(aim);
        if (photometry == nullptr) return cosine > 0 ? std::pow(cosine, k) : 0.0;
        double phi = std::atan2(direction.dot(aim.cross(along)), direction.dot(along));
        if (phi < 0) phi += 2 * std::numbers::pi;
        return photometry->at(std::acos(std::clamp(cosine, -1.0, 1.0)), phi);
    }
};

inline Emission emission_of(const scene::Spot& spot) {
    // A spot has no `along`: phi starts at the enclosure's x axis (y where the spot aims along x).
    const scene::Vec3 axis = std::abs(spot.aim.x()) < 0.99 ? scene::Vec3::UnitX() : scene::Vec3::UnitY();
    const scene::Vec3 along = (axis - axis.dot(spot.aim) * spot.aim).normalized();
    return {spot.k, spot.aim, along, spot.photometry ? &*spot.photometry : nullptr};
}

inline Emission emission_of(const scene::Bar& bar) {
    return {bar.k, bar.aim, bar.along, bar.photometry ? &*bar.photometry : nullptr};
}

}  // namespace dapple::light
