#include "light/interreflection.h"

#include <algorithm>
#include <cassert>
#include <mutex>
#include <numbers>
#include <optional>

#include "light/interreflection_probes.h"
#include "light/interreflection_sampling.h"
#include "light/interreflection_solve.h"

namespace dapple::light {

namespace {

using scene::Vec3;

// Everything that does not depend on the lamps' light.
struct Geometry {
    Geometry(const scene::Enclosure& enclosure, const InterreflectionOptions& options)
        : patches(enclosure, options.patch_size),
          space(enclosure, patches),
          factors(patches, space, options.rays_per_patch, options.seed) {}
    Geometry(const Geometry&) = delete;
    Geometry& operator=(const Geometry&) = delete;

    Patches patches;
    Space space;
    FormFactors factors;
};

// Direct irradiance of every patch: the mean over its open places.
std::vector<Lanes> irradiance_of_patches(const Patches& patches, int lamp, const DirectOnSurfaces& direct) {
    std::vector<Vec3> points;
    std::vector<Vec3> normals;
    for (int patch = 0; patch < patches.count(); ++patch) {
        for (const SurfaceSample& sample : patches.spread(patch)) {
            points.push_back(sample.point);
            normals.push_back(sample.normal);
        }
    }
    std::vector<Bands> at_points(points.size(), Bands::Zero());
    direct(lamp, points, normals, at_points);
    std::vector<Lanes> means;
    auto next = at_points.begin();
    for (int patch = 0; patch < patches.count(); ++patch) {
        Bands sum = Bands::Zero();
        double weight = 0;
        for (const SurfaceSample& sample : patches.spread(patch)) {
            sum += sample.weight * *next++;
            weight += sample.weight;
        }
        means.push_back(padded(sum / weight));
    }
    return means;
}

}  // namespace

struct Interreflection::State {
    std::shared_ptr<const Geometry> geometry;  // none when dark
    DirectOnSurfaces direct;
    InterreflectionOptions options;
    std::vector<Radiosity> by_lamp;
    double turn = 0;  // of the even directions, rad
    mutable std::once_flag probes_once;
    mutable std::optional<Probes> probes;

    void light_up(int lamps);
};

void Interreflection::State::light_up(int lamps) {
    turn = 2 * std::numbers::pi * unit_interval(mixed(options.seed));
    for (int lamp = 0; geometry && lamp < lamps; ++lamp) {
        const auto irradiance = irradiance_of_patches(geometry->patches, lamp, direct);
        by_lamp.push_back(solve(geometry->patches, geometry->factors, irradiance, options.bounces));
    }
}

Interreflection::Interreflection(const scene::Enclosure& enclosure, const DirectOnSurfaces& direct,
                                 const InterreflectionOptions& options)
    : state_(std::make_unique<State>()) {
    state_->direct = direct;
    state_->options = options;
    if (options.bounces != 0) {
        auto geometry = std::make_shared<const Geometry>(enclosure, options);
        if (geometry->patches.count() > 0) state_->geometry = std::move(geometry);
    }
    state_->light_up(static_cast<int>(enclosure.lamps.size()));
}

Interreflection::~Interreflection() = default;
Interreflection::Interreflection(Interreflection&&) noexcept = default;
Interreflection& Interreflection::operator=(Interreflection&&) noexcept = default;

Interreflection Interreflection::relit(const scene::Enclosure& enclosure,
                                       const DirectOnSurfaces& direct) const {
    Interreflection other(*this, direct);
    other.state_->light_up(static_cast<int>(enclosure.lamps.size()));
    return other;
}

Interreflection::Interreflection(const Interreflection& same_room, const DirectOnSurfaces& direct)
    : state_(std::make_unique<State>()) {
    state_->geometry = same_room.state_->geometry;
    state_->options = same_room.state_->options;
    state_->direct = direct;
}

bool Interreflection::dark() const {
    return state_->geometry == nullptr;
}

int Interreflection::patches() const {
    return dark() ? 0 : state_->geometry->patches.count();
}

int Interreflection::iterations() const {
    int most = 0;
    for (const Radiosity& radiosity : state_->by_lamp) most = std::max(most, radiosity.reflections);
    return most;
}

std::vector<IndirectPacket> Interreflection::gather(int lamp, const Vec3& point, int rays) const {
    std::vector<IndirectPacket> packets;
    if (dark()) return packets;
    const Geometry& geometry = *state_->geometry;
    std::vector<Meeting> meetings;
    std::vector<Vec3> points;
    std::vector<Vec3> normals;
    for (int i = 0; i < rays; ++i) {
        const Vec3 direction = even_direction(i, rays, state_->turn);
        const Meeting meeting = geometry.space.follow(point, direction);
        if (meeting.patch < 0) continue;
        meetings.push_back(meeting);
        points.emplace_back(meeting.point + surface_lift * meeting.normal);
        normals.push_back(meeting.normal);
        packets.push_back({direction, Bands::Zero()});
    }
    std::vector<Bands> irradiance(points.size(), Bands::Zero());
    state_->direct(lamp, points, normals, irradiance);
    const Radiosity& radiosity = state_->by_lamp[static_cast<std::size_t>(lamp)];
    for (std::size_t i = 0; i < packets.size(); ++i) {
        const int patch = meetings[i].patch;
        const Bands leaving = geometry.patches.reflectance(patch) * irradiance[i] +
                              unpadded(radiosity.further[static_cast<std::size_t>(patch)]);
        // Radiance is what leaves / pi; a ray stands for 4 pi / rays.
        packets[i].weight = meetings[i].through * leaving * (4.0 / rays);
    }
    return packets;
}

IndirectProbe Interreflection::probe(int lamp, const Vec3& point) const {
    if (dark()) {
        IndirectProbe nothing;
        nothing.coefficients.setZero();
        return nothing;
    }
    std::call_once(state_->probes_once, [&] {
        state_->probes.emplace(state_->geometry->patches, state_->geometry->space, state_->by_lamp,
                               state_->turn);
    });
    return state_->probes->at(lamp, point);
}

}  // namespace dapple::light
