#include "light/compiled.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <deque>
#include <mutex>
#include <numbers>
#include <optional>

#include "light/emission.h"

namespace dapple::light {

using scene::Vec3;

namespace {

constexpr int strips_on_grids = 8;  // of a tube where a shadow's edge lies along it (errors: bench/README.md)
constexpr int chords_on_grids = 12;              // of a disc
constexpr int lobe_rows = 72;                    // of a photometric file that changes with phi
constexpr double surface_slack_on_grids = 4e-6;  // m; single precision needs more than surface_slack

void copy(const Vec3& from, float* to) {
    for (int i = 0; i < 3; ++i) to[i] = static_cast<float>(from[i]);
}

KernelLamp compile(const scene::Lamp& lamp) {
    KernelLamp out;
    copy(lamp.centre, out.centre);
    Vec3 reach = Vec3::Zero();
    if (const auto* tube = std::get_if<scene::Tube>(&lamp.shape)) {
        out.emission = KernelEmission::tube;
        copy(tube->along, out.along);
        copy(tube->aim, out.aim);
        out.half_length = static_cast<float>(tube->length / 2);
        out.radius = static_cast<float>(tube->diameter / 2);
        out.forward_power = static_cast<float>(tube->forward_power);
        out.pieces = strips_on_grids;
        reach = tube->length / 2 * tube->along.cwiseAbs() + Vec3::Constant(tube->diameter / 2);
    } else if (const auto* spot = std::get_if<scene::Spot>(&lamp.shape)) {
        const Emission emission = emission_of(*spot);
        copy(emission.along, out.along);
        copy(spot->aim, out.aim);
        out.k = static_cast<float>(spot->k);
        out.radius = static_cast<float>(spot->diameter / 2);
        out.emission = spot->diameter > 0 ? KernelEmission::disc : KernelEmission::points;
        out.pieces = chords_on_grids;
        out.count = 1;
        reach = Vec3::Constant(spot->diameter / 2);
    } else if (const auto* bar = std::get_if<scene::Bar>(&lamp.shape)) {
        out.emission = KernelEmission::points;
        copy(bar->along, out.along);
        copy(bar->aim, out.aim);
        out.k = static_cast<float>(bar->k);
        out.half_length = static_cast<float>(bar->length / 2);
        out.count = bar->count;
        reach = bar->length / 2 * bar->along.cwiseAbs();
    }
    copy(lamp.centre - reach, out.lo);
    copy(lamp.centre + reach, out.hi);
    return out;
}

const std::optional<scene::Photometry>* photometry_of(const scene::Lamp& lamp) {
    if (const auto* spot = std::get_if<scene::Spot>(&lamp.shape)) return &spot->photometry;
    if (const auto* bar = std::get_if<scene::Bar>(&lamp.shape)) return &bar->photometry;
    return nullptr;
}

using Lobe = std::shared_ptr<const std::vector<float>>;

// kernel.h says in which order.
std::vector<float> table_of(const scene::Photometry& photometry, int rows) {
    std::vector<float> table;
    for (int row = 0; row < rows; ++row) {
        const double phi = 2 * std::numbers::pi * row / rows;
        for (int step = 0; step <= lobe_steps; ++step) {
            const double theta = 2 * std::asin(static_cast<double>(step) / lobe_steps);
            table.push_back(static_cast<float>(photometry.at(theta, phi)));
        }
    }
    return table;
}

// A room is compiled again and again, for a fit or while a lamp is dragged: the last few tables are kept.
Lobe lobe_of(const scene::Photometry& photometry, int rows) {
    struct Kept {
        std::vector<double> theta, phi, intensity;
        Lobe lobe;
    };
    constexpr std::size_t most_kept = 8;
    static std::mutex mutex;
    static std::deque<Kept> kept;
    const std::lock_guard lock(mutex);
    for (const Kept& one : kept) {
        if (one.intensity == photometry.intensity && one.theta == photometry.theta &&
            one.phi == photometry.phi)
            return one.lobe;
    }
    auto lobe = std::make_shared<const std::vector<float>>(table_of(photometry, rows));
    kept.push_front({photometry.theta, photometry.phi, photometry.intensity, lobe});
    if (kept.size() > most_kept) kept.pop_back();
    return lobe;
}

}  // namespace

CompiledScene::CompiledScene(const scene::Enclosure& enclosure) : size(enclosure.size) {
    for (const auto& piece : enclosure.furniture) {
        const auto body = make_body(piece, surface_slack_on_grids);
        body_of_furniture.push_back(body ? static_cast<int>(furniture.size()) : -1);
        if (body) {
            furniture.push_back(convert<float>(*body));
        } else {
            triangles = true;
        }
    }
    furniture_and_walls = furniture;
    for (const Body& wall : wall_bodies(enclosure)) furniture_and_walls.push_back(convert<float>(wall));
    for (const auto& screen : enclosure.screens) {
        KernelScreen out;
        out.body = convert<float>(make_body(screen));
        out.axis = screen.normal_axis;
        const auto* mesh = std::get_if<scene::Mesh>(&screen.kind);
        if (screen.transmittance) {
            out.transmittance = static_cast<float>(*screen.transmittance);
        } else if (mesh != nullptr) {
            out.wire_over_pitch = static_cast<float>(mesh->wire / mesh->pitch);
        }
        screens.push_back(out);
    }
    for (const auto& leaves : enclosure.foliage) {
        const Body body = std::visit([](const auto& shape) { return make_body(shape, 0.0); }, leaves.shape);
        foliage.push_back({convert<float>(body), static_cast<float>(0.5 * leaves.leaf_area_density)});
    }
    for (const auto& lamp : enclosure.lamps) {
        lamps.push_back(compile(lamp));
        const auto* photometry = photometry_of(lamp);
        if (photometry == nullptr || !*photometry) continue;
        const int rows = (*photometry)->phi.size() == 1 ? 1 : lobe_rows;
        lobes.push_back(lobe_of(**photometry, rows));
        lamps.back().lobe = lobes.back()->data();
        lamps.back().lobe_rows = rows;
    }
}

bool CompiledScene::kernel_can_follow() const {
    const auto bodies = static_cast<int>(furniture_and_walls.size());
    const auto dimmers = static_cast<int>(std::max(screens.size(), foliage.size()));
    return bodies <= kernel_most_bodies && dimmers <= kernel_most_dimmers;
}

KernelScene CompiledScene::view(const KernelLamp& lamp, const std::vector<KernelScreen>& with_tables) const {
    bool beyond = false;
    for (int i = 0; i < 3; ++i) beyond |= lamp.lo[i] < 0 || static_cast<double>(lamp.hi[i]) > size[i];
    const auto& bodies = beyond ? furniture_and_walls : furniture;
    return {bodies.data(),
            static_cast<int>(bodies.size()),
            with_tables.data(),
            static_cast<int>(with_tables.size()),
            foliage.data(),
            static_cast<int>(foliage.size()),
            {}};
}

KernelLamp half_of(KernelLamp lamp, int part) {
    const float shift = (part == 0 ? -0.5F : 0.5F) * lamp.half_length;
    for (int i = 0; i < 3; ++i) {
        const float middle = lamp.centre[i] + shift * lamp.along[i];
        const float reach = lamp.half_length / 2 * std::abs(lamp.along[i]) + lamp.radius;
        lamp.centre[i] = middle;
        lamp.lo[i] = middle - reach;
        lamp.hi[i] = middle + reach;
    }
    lamp.half_length /= 2;
    return lamp;
}

std::vector<std::vector<float>> pane_tables(const Panes& panes, const spectrum::Spectrum& weighted) {
    std::vector<std::vector<float>> tables;
    for (int pane = 0; pane < panes.count(); ++pane) {
        const auto transmittances = panes.transmittances(pane, weighted);
        assert(transmittances.size() == pane_table_steps + 1);
        tables.emplace_back(transmittances.begin(), transmittances.end());
    }
    return tables;
}

}  // namespace dapple::light
