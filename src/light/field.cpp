#include "light/field.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <deque>
#include <mutex>
#include <optional>

#include "light/aim.h"
#include "light/direct.h"
#include "light/fast_direct.h"
#include "light/interreflection.h"
#include "light/lamp.h"
#include "light/near_order.h"

namespace dapple::light {

using scene::Vec3;
using spectrum::Quantity;
using spectrum::Spectrum;

namespace {

constexpr int gather_rays =
    2048;  // of each listed point and lamp: 0.3 % of its reflected light (bench/README.md)

// Normals that stand for the upper half-cylinder of the back receiver turned to all compass directions: midpoints in
// both angles, for light that is already smooth in direction.
const std::vector<Vec3>& back_normals() {
    static const std::vector<Vec3> normals = [] {
        std::vector<Vec3> all;
        for (int i = 0; i < 6; ++i) {
            const double beta = M_PI * ((i + 0.5) / 6 - 0.5);
            for (int j = 0; j < 6; ++j) {
                const double phi = M_PI * (j + 0.25 + 0.5 * (i % 2)) / 3;
                all.emplace_back(std::sin(beta) * std::cos(phi), std::sin(beta) * std::sin(phi),
                                 std::cos(beta));
            }
        }
        return all;
    }();
    return normals;
}

// The sum over each band of the lamp's spectrum times a weight: what a band's light is worth.
Bands band_sums(const Spectrum& weighted) {
    Bands sums;
    for (std::size_t b = 0; b < static_cast<std::size_t>(bands); ++b) {
        const int from = band_edges_nm[b] - spectrum::first_nm,
                  to = band_edges_nm[b + 1] - spectrum::first_nm;
        const bool last = b + 1 == static_cast<std::size_t>(bands);
        sums[static_cast<Eigen::Index>(b)] = weighted.segment(from, to - from + (last ? 1 : 0)).sum();
    }
    return sums;
}

Spectrum only_band(const Spectrum& s, std::size_t band) {
    Spectrum out = spectrum::constant(0);
    const int from = band_edges_nm[band] - spectrum::first_nm,
              n = band_edges_nm[band + 1] - band_edges_nm[band];
    out.segment(from, n) = s.segment(from, n);
    return out;
}

}  // namespace

Spectrum Arrival::total() const {
    Spectrum sum = spectrum::constant(0);
    for (const Spectrum& s : by_lamp) sum += s;
    return sum;
}

double Arrival::measure(Quantity quantity) const {
    double sum = 0;
    for (const Spectrum& s : by_lamp) sum += spectrum::measure(s, quantity);
    return sum;
}

double Arrival::measure(Quantity quantity, int lamp) const {
    return spectrum::measure(by_lamp[static_cast<std::size_t>(lamp)], quantity);
}

// What arrived at the points that were listed last: each costs milliseconds, and a verdict, a fit and the lives of the
// lamps ask for the same spots.
class Listed {
  public:
    std::optional<Arrival> find(const Vec3& point, const Facing& facing) {
        const std::lock_guard lock(guard_);
        for (const Arrival& known : known_) {
            if (known.point == point && known.facing.kind == facing.kind &&
                (facing.kind != Facing::Kind::fixed || known.facing.normal == facing.normal))
                return known;
        }
        return std::nullopt;
    }
    void keep(const Arrival& arrival) {
        constexpr std::size_t most = 32;  // 18 kB a lamp each
        const std::lock_guard lock(guard_);
        known_.push_front(arrival);
        if (known_.size() > most) known_.pop_back();
    }

  private:
    std::mutex guard_;
    std::deque<Arrival> known_;
};

// A lamp's light at some points, before a receiver turns to it.
struct LampAt {
    std::vector<Flux> parts;             // direct, at unit strength
    std::vector<IndirectProbe> bounced;  // at the lamp's own; none where nothing reflects
};

// What an aimed receiver was last asked about. While one lamp is dragged, the others give there what they gave.
struct AimedAt {
    std::vector<Vec3> points;
    Quantity quantity;
    std::vector<std::shared_ptr<const LampAt>> by_lamp;  // null: not known, or dark
};

struct Field::State {
    scene::Enclosure enclosure;
    FieldOptions options;
    Direct direct;
    FastDirect fast;
    std::vector<double> strength;
    std::vector<Bands> has_light;  // by lamp: 1 in the bands in which it sends any
    mutable std::once_flag traced;
    mutable std::unique_ptr<Interreflection> interreflection;
    std::shared_ptr<Listed> listed = std::make_shared<Listed>();
    mutable std::mutex aiming;
    mutable std::shared_ptr<const AimedAt> aimed_at;

    State(const scene::Enclosure& e, const FieldOptions& o)
        : enclosure(e), options(o), direct(enclosure), fast(enclosure, direct) {
        for (const scene::Lamp& lamp : enclosure.lamps) {
            strength.push_back(light::strength(lamp));
            has_light.emplace_back((band_sums(lamp.spectrum.relative) > 0).cast<double>());
        }
    }

    int lamps() const { return static_cast<int>(enclosure.lamps.size()); }
    bool lit(int lamp) const { return strength[static_cast<std::size_t>(lamp)] > 0; }
    const Spectrum& relative(int lamp) const {
        return enclosure.lamps[static_cast<std::size_t>(lamp)].spectrum.relative;
    }
    // The lamp's light as it counts for a quantity, at its strength.
    Spectrum worth(int lamp, Quantity quantity) const {
        return strength[static_cast<std::size_t>(lamp)] * relative(lamp) * spectrum::weight(quantity);
    }

    DirectOnSurfaces direct_light() const {
        return [this](int lamp, auto points, auto normals, auto out) {
            on_surfaces(lamp, points, normals, out);
        };
    }

    // The lamp of this field that sends the same light, at whatever strength; -1 if there is none.
    int number_of(const scene::Lamp& lamp) const {
        const auto found = std::find_if(enclosure.lamps.begin(), enclosure.lamps.end(),
                                        [&](const scene::Lamp& own) { return sends_the_same(own, lamp); });
        return found == enclosure.lamps.end() ? -1 : static_cast<int>(found - enclosure.lamps.begin());
    }

    // Whether all lamps are as those, if one dates them or asks for their hours anew.
    bool is_lit_as(const State& other) const {
        if (strength != other.strength) return false;
        for (std::size_t l = 0; l < strength.size(); ++l) {
            if (!sends_the_same(enclosure.lamps[l], other.enclosure.lamps[l])) return false;
        }
        return true;
    }

    // Takes over what surfaces see of one another from the same room under other lamps.
    void inherit(const State& other) {
        if (is_lit_as(other)) listed = other.listed;
        std::vector<int> same;
        for (const scene::Lamp& lamp : enclosure.lamps) same.push_back(other.number_of(lamp));
        take_aimed(other, same);
        if (other.reflected() == nullptr) return;
        std::call_once(traced, [&] {
            interreflection =
                std::make_unique<Interreflection>(other.interreflection->relit(direct_light(), same));
        });
    }

    void take_aimed(const State& other, const std::vector<int>& same) {
        const std::lock_guard lock(other.aiming);
        if (!other.aimed_at) return;
        auto taken = std::make_shared<AimedAt>(*other.aimed_at);
        taken->by_lamp.clear();
        for (std::size_t l = 0; l < same.size(); ++l) {
            const auto was = static_cast<std::size_t>(std::max(0, same[l]));
            const bool as_strong = same[l] >= 0 && strength[l] == other.strength[was];
            taken->by_lamp.push_back(as_strong ? other.aimed_at->by_lamp[was] : nullptr);
        }
        aimed_at = std::move(taken);
    }

    std::shared_ptr<const LampAt> lamp_at(int lamp, std::span<const Vec3> points, const PointSet& at,
                                          Quantity quantity) const {
        const Spectrum weighted = worth(lamp, quantity);
        if (!(weighted.sum() > 0)) return nullptr;
        auto light = std::make_shared<LampAt>();
        for (int part = 0; part < fast.parts(lamp); ++part) {
            light->parts.push_back(fast.flux(lamp, part, at, weighted));
        }
        if (const Interreflection* bouncing = reflected())
            light->bounced = bouncing->probes(lamp, band_sums(weighted), points);
        return light;
    }

    std::shared_ptr<const AimedAt> aimed_light(std::span<const Vec3> points, const PointSet& at,
                                               Quantity quantity) const {
        std::shared_ptr<const AimedAt> before;
        {
            const std::lock_guard lock(aiming);
            before = aimed_at;
        }
        const bool again =
            before && before->quantity == quantity &&
            std::equal(points.begin(), points.end(), before->points.begin(), before->points.end());
        auto now =
            std::make_shared<AimedAt>(AimedAt{std::vector<Vec3>(points.begin(), points.end()), quantity, {}});
        for (int lamp = 0; lamp < lamps(); ++lamp) {
            const auto l = static_cast<std::size_t>(lamp);
            const bool known = again && before->by_lamp[l] != nullptr;
            now->by_lamp.push_back(known       ? before->by_lamp[l]
                                   : lit(lamp) ? lamp_at(lamp, points, at, quantity)
                                               : nullptr);
        }
        const std::lock_guard lock(aiming);
        aimed_at = now;
        return now;
    }

    // The reflected light, or nothing where nothing reflects or none is wanted.
    const Interreflection* reflected() const {
        if (options.bounces == 0 || lamps() == 0) return nullptr;
        std::call_once(traced, [&] {
            InterreflectionOptions wanted;
            wanted.bounces = options.bounces;
            interreflection = std::make_unique<Interreflection>(enclosure, direct_light(), wanted);
        });
        return interreflection->dark() ? nullptr : interreflection.get();
    }

    // In bands in which the lamp sends nothing there is nothing to follow from wall to wall.
    void on_surfaces(int lamp, std::span<const Vec3> points, std::span<const Vec3> normals,
                     std::span<Bands> out) const {
        if (points.empty()) return;
        const PointSet at(points), facing(normals);
        const Bands& lit_bands = has_light[static_cast<std::size_t>(lamp)];
        if (direct.panes().count() == 0) {
            const auto values = fast.planar(lamp, at, facing, relative(lamp), Grain::reflected);
            for (std::size_t i = 0; i < out.size(); ++i) out[i] = static_cast<double>(values[i]) * lit_bands;
            return;
        }
        for (std::size_t band = 0; band < static_cast<std::size_t>(bands); ++band) {
            const auto b = static_cast<Eigen::Index>(band);
            if (lit_bands[b] == 0) continue;
            const auto values =
                fast.planar(lamp, at, facing, only_band(relative(lamp), band), Grain::reflected);
            for (std::size_t i = 0; i < out.size(); ++i) out[i][b] = static_cast<double>(values[i]);
        }
    }

    // The quantity for which an aimed receiver turns at listed points.
    Quantity aimed_for() const {
        double uvi = 0;
        for (int l = 0; l < lamps(); ++l) uvi += worth(l, Quantity::uvi).sum();
        return uvi > 0 ? Quantity::uvi : Quantity::irradiance;
    }

    Arrival arriving(const Vec3& point, const Facing& facing) const;
    std::vector<std::vector<double>> values(std::span<const Vec3> points, Quantity quantity,
                                            const Facing& facing) const;
    std::vector<std::vector<double>> aimed_values(std::span<const Vec3> points, Quantity quantity) const;

    Vec3 aim(const Vec3& point, const std::vector<std::vector<IndirectPacket>>& indirect) const {
        const Quantity quantity = aimed_for();
        std::vector<Beam> beams;
        std::vector<Vec3> lamp_flux;
        for (int l = 0; l < lamps(); ++l) {
            if (!lit(l)) continue;
            const Spectrum weighted = worth(l, quantity);
            const double whole = weighted.sum();
            Vec3 flux = Vec3::Zero();
            for (const Sample& sample : direct.samples(l, point)) {
                const double value =
                    sample.weight * whole * direct.panes().transmittance(sample.crossed, weighted);
                beams.push_back({value * sample.direction});
                flux += beams.back().flux;
            }
            lamp_flux.push_back(flux);
            const Bands value = band_sums(weighted);
            for (const IndirectPacket& packet : indirect[static_cast<std::size_t>(l)]) {
                beams.push_back({(packet.weight * value).sum() * packet.direction});
            }
        }
        Vec3 all = Vec3::Zero();
        for (const Beam& beam : beams) all += beam.flux;
        auto starts = starts_of(lamp_flux);
        starts.push_back(all);
        return best_normal(beams, starts);
    }
};

Field::Field(const scene::Enclosure& enclosure, const FieldOptions& options)
    : state_(std::make_unique<State>(enclosure, options)) {}
Field::Field(std::unique_ptr<State> state) : state_(std::move(state)) {}
Field::~Field() = default;
Field::Field(Field&&) noexcept = default;
Field& Field::operator=(Field&&) noexcept = default;

Field Field::relit(const scene::Enclosure& with_other_lamps) const {
    auto state = std::make_unique<State>(with_other_lamps, state_->options);
    state->inherit(*state_);
    return Field(std::move(state));
}

const scene::Enclosure& Field::enclosure() const {
    return state_->enclosure;
}

Arrival Field::at(const Vec3& point, const Facing& facing) const {
    if (auto known = state_->listed->find(point, facing)) return std::move(*known);
    Arrival arrival = state_->arriving(point, facing);
    state_->listed->keep(arrival);
    return arrival;
}

Arrival Field::State::arriving(const Vec3& point, const Facing& facing) const {
    std::vector<std::vector<IndirectPacket>> indirect(static_cast<std::size_t>(lamps()));
    if (const Interreflection* bouncing = reflected()) {
        for (int l = 0; l < lamps(); ++l) {
            if (lit(l)) indirect[static_cast<std::size_t>(l)] = bouncing->gather(l, point, gather_rays);
        }
    }
    const bool back = facing.kind == Facing::Kind::back;
    Vec3 normal = Vec3::Zero();
    if (facing.kind == Facing::Kind::aimed) normal = aim(point, indirect);
    if (facing.kind == Facing::Kind::up) normal = Vec3::UnitZ();
    if (facing.kind == Facing::Kind::fixed) normal = facing.normal;

    Arrival arrival{point, facing, normal, {}};
    for (int l = 0; l < lamps(); ++l) {
        if (!lit(l)) {
            arrival.by_lamp.push_back(spectrum::constant(0));
            continue;
        }
        const Transport transport = back ? direct.back(l, point) : direct.planar(l, point, normal);
        Bands bounced = Bands::Zero();
        for (const IndirectPacket& packet : indirect[static_cast<std::size_t>(l)]) {
            const double weight =
                back ? back_weight(packet.direction.z()) : std::max(0.0, packet.direction.dot(normal));
            bounced += weight * packet.weight;
        }
        arrival.by_lamp.emplace_back(strength[static_cast<std::size_t>(l)] * relative(l) *
                                     (direct.panes().factor(transport) + staircase(bounced)));
    }
    return arrival;
}

std::vector<std::vector<double>> Field::values_by_lamp(std::span<const Vec3> points, Quantity quantity,
                                                       const Facing& facing) const {
    constexpr std::size_t many = 1024;  // from which putting neighbours together pays
    if (points.size() < many) return values_in_order(points, quantity, facing);
    const auto order = near_order(points);
    std::vector<Vec3> sorted;
    sorted.reserve(points.size());
    for (const auto i : order) sorted.push_back(points[i]);
    auto values = values_in_order(sorted, quantity, facing);
    std::vector<double> put_back(points.size());
    for (auto& lamp : values) {
        for (std::size_t i = 0; i < order.size(); ++i) put_back[order[i]] = lamp[i];
        lamp.swap(put_back);
    }
    return values;
}

std::vector<std::vector<double>> Field::values_in_order(std::span<const Vec3> points, Quantity quantity,
                                                        const Facing& facing) const {
    if (points.empty()) return std::vector<std::vector<double>>(static_cast<std::size_t>(state_->lamps()));
    return facing.kind == Facing::Kind::aimed ? state_->aimed_values(points, quantity)
                                              : state_->values(points, quantity, facing);
}

std::vector<std::vector<double>> Field::State::values(std::span<const Vec3> points, Quantity quantity,
                                                      const Facing& facing) const {
    std::vector<std::vector<double>> all(strength.size(), std::vector<double>(points.size(), 0.0));
    const PointSet at(points);
    const bool back = facing.kind == Facing::Kind::back;
    const std::vector<Vec3> normals = back ? back_normals() : std::vector<Vec3>{facing.normal};
    for (int lamp = 0; lamp < lamps(); ++lamp) {
        if (!lit(lamp)) continue;
        auto& values = all[static_cast<std::size_t>(lamp)];
        const Spectrum weighted = worth(lamp, quantity);
        const double scale = weighted.sum();
        if (!(scale > 0)) continue;
        const std::vector<Vec3> facings(back ? 0 : points.size(), facing.normal);
        const auto received =
            back ? fast.back(lamp, at, weighted) : fast.planar(lamp, at, PointSet(facings), weighted);
        for (std::size_t i = 0; i < points.size(); ++i) values[i] = scale * static_cast<double>(received[i]);
        const Interreflection* bouncing = reflected();
        if (bouncing == nullptr) continue;
        const auto bounced = bouncing->probes(lamp, band_sums(weighted), points);
        const double share = 1.0 / static_cast<double>(normals.size());
        tbb::parallel_for(tbb::blocked_range<std::size_t>(0, points.size(), 256), [&](const auto& range) {
            for (std::size_t i = range.begin(); i < range.end(); ++i) {
                for (const Vec3& normal : normals) values[i] += share * bounced[i].irradiance(normal);
            }
        });
    }
    return all;
}

std::vector<std::vector<double>> Field::State::aimed_values(std::span<const Vec3> points,
                                                            Quantity quantity) const {
    std::vector<std::vector<double>> values(strength.size(), std::vector<double>(points.size(), 0.0));
    const auto light = aimed_light(points, PointSet(points), quantity);
    struct Part {
        std::size_t lamp;
        double scale;
        const Flux* flux;
    };
    std::vector<Part> parts;
    bool bounces = false;
    for (std::size_t l = 0; l < values.size(); ++l) {
        if (!light->by_lamp[l]) continue;
        const double scale = worth(static_cast<int>(l), quantity).sum();
        for (const Flux& flux : light->by_lamp[l]->parts) parts.push_back({l, scale, &flux});
        bounces = bounces || !light->by_lamp[l]->bounced.empty();
    }
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, points.size(), 256), [&](const auto& range) {
        std::vector<Beam> beams;
        std::vector<Vec3> lamp_flux(values.size());
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            beams.clear();
            std::fill(lamp_flux.begin(), lamp_flux.end(), Vec3::Zero());
            for (const Part& part : parts) {
                const Vec3 flux(static_cast<double>(part.flux->x[i]), static_cast<double>(part.flux->y[i]),
                                static_cast<double>(part.flux->z[i]));
                beams.push_back({part.scale * flux});
                lamp_flux[part.lamp] += beams.back().flux;
            }
            // The reflected light as one more beam, only to find where to turn.
            Vec3 bounced = Vec3::Zero();
            for (const auto& lamp : light->by_lamp) {
                if (lamp && !lamp->bounced.empty()) bounced += lamp->bounced[i].flux();
            }
            auto starts = starts_of(lamp_flux);
            if (bounces) {
                beams.push_back({bounced});
                Vec3 all = bounced;
                for (const Vec3& flux : lamp_flux) all += flux;
                starts.push_back(all);
            }
            const Vec3 normal = best_normal(beams, starts);
            for (std::size_t b = 0; b < parts.size(); ++b) {
                values[parts[b].lamp][i] += std::max(0.0, beams[b].flux.dot(normal));
            }
            for (std::size_t l = 0; l < values.size(); ++l) {
                const auto& lamp = light->by_lamp[l];
                if (lamp && !lamp->bounced.empty()) values[l][i] += lamp->bounced[i].irradiance(normal);
            }
        }
    });
    return values;
}

std::vector<double> Field::values(std::span<const Vec3> points, Quantity quantity,
                                  const Facing& facing) const {
    std::vector<double> sum(points.size(), 0.0);
    for (const auto& lamp : values_by_lamp(points, quantity, facing)) {
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += lamp[i];
    }
    return sum;
}

}  // namespace dapple::light
