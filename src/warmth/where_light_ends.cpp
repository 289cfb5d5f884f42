#include "warmth/where_light_ends.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <optional>

#include "light/attenuation.h"
#include "light/emission.h"
#include "warmth/matter.h"
#include "warmth/rays.h"

namespace dapple::warmth {

namespace {

using scene::Enclosure;
using scene::Face;
using scene::Vec3;
constexpr double pi = std::numbers::pi;

double thickness_of(const Enclosure& enclosure, Face face) {
    const auto f = static_cast<std::size_t>(face);
    const auto& given = enclosure.room.wall_thickness[f];
    return given ? *given : matter_of(enclosure.walls[f]->id).thickness;
}

// What a surface does with one lamp's light; open ones let everything through.
Optical wall_optics(const Enclosure& enclosure, Face face, const spectrum::Spectrum& relative) {
    const scene::Wall& wall = enclosure.walls[static_cast<std::size_t>(face)];
    if (!wall) return {0, 1};
    return optical(*wall, relative, face == Face::floor ? 0 : thickness_of(enclosure, face));
}

// What a screen lets through of a ray, whatever its spectrum: panes by their mean over the lamp's.
double passes(const scene::Screen& screen, const Vec3& direction, const spectrum::Spectrum& relative) {
    if (!light::is_spectral(screen)) return light::screen_transmittance_gray(screen, direction);
    const auto& pane = std::get<scene::Pane>(screen.kind);
    return optical(pane.material, relative, pane.thickness).transmitted;
}

std::array<double, surfaces> areas_of(const Enclosure& enclosure) {
    const Vec3& s = enclosure.size;
    std::array<double, surfaces> area{};
    area[0] = area[1] = s.x() * s.y();
    for (const bool upper : {false, true}) {
        for (const Face face : {Face::left, Face::right, Face::front, Face::back}) {
            const bool side = face == Face::left || face == Face::right;
            area[static_cast<std::size_t>(surface_of(face, upper))] = (side ? s.y() : s.x()) * s.z() / 2;
        }
    }
    for (const auto& piece : enclosure.furniture) area[furniture_surface] += area_of(piece);
    return area;
}

class Follow {
  public:
    Follow(const Enclosure& enclosure, const std::vector<light::Body>& bodies, const scene::Lamp& lamp)
        : enclosure_(enclosure), bodies_(bodies), lamp_(lamp) {
        for (const Face face : scene::faces)
            walls_[static_cast<std::size_t>(face)] = wall_optics(enclosure, face, lamp.spectrum.relative);
        for (const auto& piece : enclosure.furniture) {
            furniture_.push_back(optical(piece.material, lamp.spectrum.relative, 0));
        }
        for (const auto& screen : enclosure.screens) {
            pane_passes_.push_back(
                light::is_spectral(screen) ? passes(screen, Vec3::UnitZ(), lamp.spectrum.relative) : 1);
        }
    }

    LightShares shares() {
        for (const Ray& ray : rays_of(lamp_)) first_strike(ray);
        mix();
        return shares_;
    }

  private:
    void first_strike(const Ray& ray) {
        double weight = ray.weight;
        const Vec3& size = enclosure_.size;
        Vec3 from = ray.from;
        if (from.z() > size.z()) {
            const double t = (size.z() - from.z()) / ray.direction.z();
            const Vec3 enters = from + t * ray.direction;
            const bool inside = t > 0 && enters.x() >= 0 && enters.y() >= 0 && enters.x() <= size.x() &&
                                enters.y() <= size.y();
            if (!inside) {
                shares_.lost += weight;
                return;
            }
        }
        const Exit exit = leaves_box(size, from, ray.direction);
        const auto piece = first_struck(bodies_, from, ray.direction, exit.distance);
        const double way = piece ? piece->distance : exit.distance;
        const Vec3 to = from + way * ray.direction;
        weight = through_screens(weight, from, from + (way + 1e-4) * ray.direction, ray.direction);
        for (const auto& plant : enclosure_.foliage) {
            const double left = light::foliage_transmittance(plant, from, to);
            (to.z() + from.z() > size.z() ? shares_.upper_air : shares_.lower_air) += weight * (1 - left);
            weight *= left;
        }
        if (piece) {
            strike(furniture_surface, furniture_[piece->index], weight);
        } else {
            strike(surface_of(exit.face, to.z() > size.z() / 2), walls_[static_cast<std::size_t>(exit.face)],
                   weight);
        }
    }

    double through_screens(double weight, const Vec3& from, const Vec3& to, const Vec3& direction) {
        for (std::size_t s = 0; s < enclosure_.screens.size(); ++s) {
            const scene::Screen& screen = enclosure_.screens[s];
            if (!light::crossing(screen, from, to)) continue;
            const double left = light::is_spectral(screen)
                                    ? pane_passes_[s]
                                    : light::screen_transmittance_gray(screen, direction);
            const double kept = weight * (1 - left);
            // A lid's wires warm the air under them as much as the room's above.
            const bool lid = screen.box.max.z() > enclosure_.size.z() - 1e-3 && screen.normal_axis == 2;
            if (lid) shares_.lost += kept / 2;
            const bool upper = screen.box.centre().z() > enclosure_.size.z() / 2;
            (upper ? shares_.upper_air : shares_.lower_air) += lid ? kept / 2 : kept;
            weight -= kept;
        }
        return weight;
    }

    void strike(int surface, const Optical& optics, double weight) {
        shares_.surface[static_cast<std::size_t>(surface)] += weight * optics.absorbed();
        shares_.lost += weight * optics.transmitted;
        diffuse_ += weight * optics.reflected;
    }

    // Shares the diffuse remainder out by area and by what is not reflected.
    void mix() {
        if (!(diffuse_ > 0)) return;
        const auto area = areas_of(enclosure_);
        std::array<Optical, surfaces> optics{};
        for (const Face face : scene::faces) {
            for (const bool upper : {false, true}) {
                optics[static_cast<std::size_t>(surface_of(face, upper))] =
                    walls_[static_cast<std::size_t>(face)];
            }
        }
        double furniture_area = 0;
        for (std::size_t i = 0; i < furniture_.size(); ++i) {
            const double a = area_of(enclosure_.furniture[i]);
            optics[furniture_surface].reflected += a * furniture_[i].reflected;
            furniture_area += a;
        }
        if (furniture_area > 0) optics[furniture_surface].reflected /= furniture_area;
        double taken = 0;
        for (std::size_t s = 0; s < area.size(); ++s) taken += area[s] * (1 - optics[s].reflected);
        if (!(taken > 0)) {
            shares_.lost += diffuse_;
            return;
        }
        shares_.mixed = diffuse_ / taken;
        for (std::size_t s = 0; s < area.size(); ++s) {
            shares_.surface[s] += shares_.mixed * area[s] * optics[s].absorbed();
            shares_.lost += shares_.mixed * area[s] * optics[s].transmitted;
        }
    }

    const Enclosure& enclosure_;
    const std::vector<light::Body>& bodies_;
    const scene::Lamp& lamp_;
    std::array<Optical, 6> walls_;
    std::vector<Optical> furniture_;
    std::vector<double> pane_passes_;
    LightShares shares_;
    double diffuse_ = 0;
};

}  // namespace

int surface_of(Face face, bool upper) {
    if (face == Face::floor) return 0;
    if (face == Face::top) return 1;
    return 1 + static_cast<int>(face) + (upper ? 4 : 0);
}

double LightShares::sum() const {
    return std::accumulate(surface.begin(), surface.end(), 0.0) + upper_air + lower_air + lost;
}

double area_of(const scene::Furniture& furniture) {
    if (const auto* box = std::get_if<scene::BoxShape>(&furniture.shape)) {
        const Vec3 e = 2 * box->box.half();
        return e.x() * e.y() + 2 * e.z() * (e.x() + e.y());  // it stands on the sixth side
    }
    if (const auto* cylinder = std::get_if<scene::CylinderShape>(&furniture.shape)) {
        return pi * cylinder->diameter * (cylinder->to - cylinder->from).norm();
    }
    if (const auto* ellipsoid = std::get_if<scene::EllipsoidShape>(&furniture.shape)) {
        // Thomsen's formula, to 1.1 % (Michon & Thomsen 2004, from memory).
        constexpr double p = 1.6075;
        const Vec3& r = ellipsoid->radii;
        const double mean =
            (std::pow(r.x() * r.y(), p) + std::pow(r.x() * r.z(), p) + std::pow(r.y() * r.z(), p)) / 3;
        return 4 * pi * std::pow(mean, 1 / p);
    }
    const auto& mesh = std::get<scene::MeshShape>(furniture.shape);
    double area = 0;
    for (const auto& t : mesh.triangles) {
        const Vec3& a = mesh.vertices[static_cast<std::size_t>(t[0])];
        const Vec3& b = mesh.vertices[static_cast<std::size_t>(t[1])];
        const Vec3& c = mesh.vertices[static_cast<std::size_t>(t[2])];
        area += (b - a).cross(c - a).norm() / 2;
    }
    return area;
}

std::vector<LightShares> where_light_ends(const Enclosure& enclosure) {
    const auto bodies = bodies_of(enclosure.furniture);
    std::vector<LightShares> shares;
    for (const scene::Lamp& lamp : enclosure.lamps) {
        shares.push_back(Follow(enclosure, bodies, lamp).shares());
    }
    return shares;
}

}  // namespace dapple::warmth
