#include "light/interreflection.h"

#include <algorithm>
#include <cassert>
#include <numbers>

#include "light/interreflection_probes.h"
#include "light/interreflection_sampling.h"
#include "light/interreflection_solve.h"

namespace dapple::light {

namespace {

using scene::Vec3;

// Of the even directions, rad.
double turn_of(const InterreflectionOptions& options) {
    return 2 * std::numbers::pi * unit_interval(mixed(options.seed));
}

// Everything that does not depend on the lamps' light.
struct Geometry {
    Geometry(const scene::Enclosure& enclosure, const InterreflectionOptions& options)
        : patches(enclosure, options.patch_size),
          space(enclosure, patches),
          factors(patches, space, options.rays_per_patch, options.seed),
          probes(patches, space, turn_of(options)) {}
    Geometry(const Geometry&) = delete;
    Geometry& operator=(const Geometry&) = delete;

    Patches patches;
    Space space;
    FormFactors factors;
    Probes probes;
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
    std::vector<std::shared_ptr<const Radiosity>> by_lamp;

    std::shared_ptr<const Radiosity> lit_by(int lamp) const {
        const auto irradiance = irradiance_of_patches(geometry->patches, lamp, direct);
        return std::make_shared<const Radiosity>(
            solve(geometry->patches, geometry->factors, irradiance, options.bounces));
    }
};

Interreflection::Interreflection(std::unique_ptr<State> state) : state_(std::move(state)) {}

Interreflection::Interreflection(const scene::Enclosure& enclosure, const DirectOnSurfaces& direct,
                                 const InterreflectionOptions& options)
    : state_(std::make_unique<State>()) {
    state_->direct = direct;
    state_->options = options;
    if (options.bounces != 0) {
        auto geometry = std::make_shared<const Geometry>(enclosure, options);
        if (geometry->patches.count() > 0) state_->geometry = std::move(geometry);
    }
    const int lamps = dark() ? 0 : static_cast<int>(enclosure.lamps.size());
    for (int lamp = 0; lamp < lamps; ++lamp) state_->by_lamp.push_back(state_->lit_by(lamp));
}

Interreflection::~Interreflection() = default;
Interreflection::Interreflection(Interreflection&&) noexcept = default;
Interreflection& Interreflection::operator=(Interreflection&&) noexcept = default;

Interreflection Interreflection::relit(const DirectOnSurfaces& direct, std::span<const int> same) const {
    auto other = std::make_unique<State>();
    other->geometry = state_->geometry;
    other->options = state_->options;
    other->direct = direct;
    for (std::size_t lamp = 0; lamp < same.size() && !dark(); ++lamp) {
        other->by_lamp.push_back(same[lamp] < 0 ? other->lit_by(static_cast<int>(lamp))
                                                : state_->by_lamp[static_cast<std::size_t>(same[lamp])]);
    }
    return Interreflection(std::move(other));
}

bool Interreflection::dark() const {
    return state_->geometry == nullptr;
}

int Interreflection::patches() const {
    return dark() ? 0 : state_->geometry->patches.count();
}

int Interreflection::iterations() const {
    int most = 0;
    for (const auto& radiosity : state_->by_lamp) most = std::max(most, radiosity->reflections);
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
        const Vec3 direction = even_direction(i, rays, turn_of(state_->options));
        const Meeting meeting = geometry.space.follow(point, direction);
        if (meeting.patch < 0) continue;
        meetings.push_back(meeting);
        points.emplace_back(meeting.point + surface_lift * meeting.normal);
        normals.push_back(meeting.normal);
        packets.push_back({direction, Bands::Zero()});
    }
    std::vector<Bands> irradiance(points.size(), Bands::Zero());
    state_->direct(lamp, points, normals, irradiance);
    const Radiosity& radiosity = *state_->by_lamp[static_cast<std::size_t>(lamp)];
    for (std::size_t i = 0; i < packets.size(); ++i) {
        const int patch = meetings[i].patch;
        const Bands leaving = geometry.patches.reflectance(patch) * irradiance[i] +
                              unpadded(radiosity.further[static_cast<std::size_t>(patch)]);
        // Radiance is what leaves / pi; a ray stands for 4 pi / rays.
        packets[i].weight = meetings[i].through * leaving * (4.0 / rays);
    }
    return packets;
}

std::vector<IndirectProbe> Interreflection::probes(int lamp, const Bands& worth,
                                                   std::span<const Vec3> points) const {
    if (dark()) return std::vector<IndirectProbe>(points.size());
    return state_->geometry->probes.at(state_->by_lamp[static_cast<std::size_t>(lamp)]->all, worth, points);
}

}  // namespace dapple::light
