#include "warmth/openings.h"

#include <algorithm>
#include <cmath>

#include "warmth/flow.h"

namespace dapple::warmth {

namespace {

using scene::Face;
using scene::Vec3;

int axis_of(Face face) {
    if (face == Face::left || face == Face::right) return 0;
    return face == Face::front || face == Face::back ? 1 : 2;
}

bool lies_in(const scene::Screen& screen, Face face, const Vec3& size) {
    constexpr double near = 5e-3;  // m
    const int axis = axis_of(face);
    const bool far = face == Face::right || face == Face::back || face == Face::top;
    return screen.normal_axis == axis && std::abs(screen.box.min[axis] - (far ? size[axis] : 0)) < near;
}

double area_of(const Vec3& extent, int without) {
    double area = 1;
    for (int i = 0; i < 3; ++i) area *= i == without ? 1 : extent[i];
    return area;
}

struct Woven {
    double open_share;
    double wire;
};

Woven woven(const scene::Screen& screen) {
    constexpr double some_wire = 0.5e-3;  // m, of a veil of which only the transmittance is known
    if (const auto* mesh = std::get_if<scene::Mesh>(&screen.kind)) {
        const double gap = 1 - mesh->wire / mesh->pitch;
        return {gap * gap, mesh->wire};
    }
    return {screen.transmittance.value_or(1), some_wire};
}

// A disc of the opening's area, cut by what of it is under mesh.
double flow_through(const Opening& opening, double difference_k, double kelvin) {
    if (opening.area <= 0) return 0;
    const double free = opening.height > 0
                            ? single_opening_flow(opening.area, opening.height, difference_k, kelvin)
                            : level_opening_flow(opening.area, difference_k, kelvin);
    if (opening.open_share >= 1) return free;
    return through_mesh(free, opening.area, difference_k, kelvin, opening.open_share, opening.wire);
}

}  // namespace

std::vector<Opening> openings_of(const scene::Enclosure& enclosure) {
    std::vector<Opening> openings;
    const Vec3& size = enclosure.size;
    for (const Face face : scene::faces) {
        if (enclosure.walls[static_cast<std::size_t>(face)]) continue;
        const int axis = axis_of(face);
        Opening opening{face, area_of(size, axis), axis == 2 ? 0 : size.z(), 1, 0};
        const double whole = opening.area;
        double meshed = 0;
        double open_sum = 0;
        for (const scene::Screen& screen : enclosure.screens) {
            if (!lies_in(screen, face, size)) continue;
            const double area = std::min(whole, area_of(screen.box.max - screen.box.min, axis));
            if (std::holds_alternative<scene::Pane>(screen.kind)) {
                opening.glazed += area;
                continue;
            }
            const Woven mesh = woven(screen);
            meshed += area;
            open_sum += area * mesh.open_share;
            opening.wire = std::max(opening.wire, mesh.wire);
        }
        opening.glazed = std::min(opening.glazed, whole);
        opening.area = whole - opening.glazed;
        meshed = std::min(meshed, opening.area);
        // Uncovered parts pass for mesh of their own: the mean open share decides.
        if (meshed > 0 && opening.area > 0) {
            opening.open_share = std::clamp((open_sum + opening.area - meshed) / opening.area, 0.01, 1.0);
        }
        openings.push_back(opening);
    }
    return openings;
}

double buoyant_flow(const std::vector<Opening>& openings, const Vec3& size, double difference_k,
                    double kelvin) {
    double apart = 0;
    double level = 0;
    double upright = 0;
    for (const Opening& opening : openings) {
        if (opening.face == Face::floor) continue;  // stands on something
        apart += flow_through(opening, difference_k, kelvin);
        (opening.height > 0 ? upright : level) += opening.area * opening.open_share;
    }
    if (level <= 0 || upright <= 0) return apart;
    // Two unequal openings in a row pass as much as two equal ones of this area (ASHRAE, as stack_flow).
    const double both = level * upright / std::sqrt((level * level + upright * upright) / 2);
    return std::max(apart, stack_flow(both, size.z() / 2, difference_k, kelvin));
}

}  // namespace dapple::warmth
