#include "warmth/warmth.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>

#include "warmth/lamp_heat.h"
#include "warmth/matter.h"

namespace dapple::warmth {

namespace {

using scene::Enclosure;
using scene::Vec3;

// Whether a lamp's heat is not in the field of the document: no output, or an emitter's.
bool needs_power(const scene::Lamp& lamp) {
    return lamp.power_w > 0 && lamp_heat(lamp).by_power;
}

// The axis along which a surface mostly looks, for which light is asked many places at once.
int looks(const Vec3& normal) {
    if (normal.z() > 0.5) return 4;
    Eigen::Index axis = 0;
    normal.cwiseAbs().maxCoeff(&axis);
    return 2 * static_cast<int>(axis) + (normal[axis] < 0 ? 1 : 0);
}

Vec3 direction(int look) {
    return (look % 2 == 1 ? -1.0 : 1.0) * Vec3::Unit(look / 2);
}

// Irradiance at the spots, [lamp][spot], W/m2.
std::vector<std::vector<double>> light_at(const light::Field& field, std::span<const Spot> spots) {
    constexpr double above = 1e-3;  // m, clear of the surface
    std::vector<std::vector<double>> light(field.enclosure().lamps.size(),
                                           std::vector<double>(spots.size(), 0.0));
    std::map<int, std::vector<std::size_t>> by_look;
    for (std::size_t i = 0; i < spots.size(); ++i) by_look[looks(spots[i].normal)].push_back(i);
    for (const auto& [look, members] : by_look) {
        std::vector<Vec3> points;
        points.reserve(members.size());
        for (const std::size_t i : members) points.emplace_back(spots[i].feet + above * direction(look));
        const auto values = field.values_by_lamp(points, spectrum::Quantity::irradiance,
                                                 light::Facing::fixed(direction(look)));
        for (std::size_t l = 0; l < light.size(); ++l) {
            for (std::size_t k = 0; k < members.size(); ++k) light[l][members[k]] = values[l][k];
        }
    }
    return light;
}

}  // namespace

double model_sd(double rise_k) {
    return std::hypot(1.0, 0.08 * rise_k);
}

struct Warmth::Data {
    explicit Data(const Enclosure& of) : enclosure(of), grounds(of) {}

    Enclosure enclosure;
    WarmthOptions options;
    std::vector<Assumption> unsure;
    std::vector<LampHeat> lamps;
    std::vector<LightShares> shares;
    Grounds grounds;
    std::vector<std::size_t> ground;  // by spot
    std::vector<Spot> spots;          // asked for, then those that thermostats watch
    std::size_t asked = 0;
    std::vector<std::vector<double>> light;        // [lamp][spot]: W/m2 of the field
    std::vector<std::vector<double>> absorptance;  // [lamp][ground]

    double room_k(const Assumptions& assumptions) const {
        const scene::Room& room = enclosure.room;
        const double document = options.night ? room.night_c.value_or(room.day_c) : room.day_c;
        return options.room_c.value_or(document) + zero_c + assumptions.room_k;
    }

    bool burns(std::size_t lamp) const {
        constexpr double all_day = 23.99;
        return !options.night || enclosure.lamps[lamp].hours_on > all_day;
    }

    std::vector<LampHeat> lamps_under(const Assumptions& assumptions) const {
        std::vector<LampHeat> under;
        for (const scene::Lamp& lamp : enclosure.lamps) {
            under.push_back(lamp_heat(lamp, assumptions.infrared, assumptions.body));
        }
        return under;
    }

    Temperature at(std::size_t spot, const std::vector<LampHeat>& heat, const State& state,
                   const Assumptions& assumptions, std::optional<double> near_k = std::nullopt) const {
        const Ground& under = grounds[ground[spot]];
        double absorbed = 0;
        for (std::size_t l = 0; l < light.size(); ++l) {
            const double share = std::min(1.0, assumptions.absorptance * absorptance[l][ground[spot]]);
            absorbed += state.on[l] * assumptions.lamps[l] * heat[l].per_light * share * light[l][spot];
        }
        const Balance& whole = state.balance;
        const double air = whole.air_k(spots[spot].feet.z(), enclosure.size.z());
        const Around around{air, whole.radiant_k, under.to_room ? whole.room_k : whole.lower_k};
        return {warmth::surface_k(absorbed, under, around, assumptions, near_k) - zero_c, air - zero_c};
    }

    State settled(const std::vector<LampHeat>& heat, std::vector<double> on,
                  const Assumptions& assumptions) const {
        const HeatIn in = heat_in(enclosure, heat, shares, on, assumptions);
        return {balance(enclosure, in, room_k(assumptions), assumptions), std::move(on)};
    }

    // What a thermostat feels: the warmest watched spot, or the lower air where there is none.
    double felt(const std::vector<LampHeat>& heat, const State& state, const Assumptions& assumptions) const {
        if (asked == spots.size()) return state.balance.lower_k - zero_c;
        double warmest = -zero_c;
        for (std::size_t i = asked; i < spots.size(); ++i) {
            warmest = std::max(warmest, at(i, heat, state, assumptions).surface_c);
        }
        return warmest;
    }
};

Warmth::Warmth(const light::Field& field, std::span<const Spot> spots, const WarmthOptions& options)
    : data_(std::make_unique<Data>(field.enclosure())) {
    Data& d = *data_;
    d.options = options;
    d.unsure = assumptions_of(d.enclosure);
    d.spots.assign(spots.begin(), spots.end());
    d.asked = spots.size();
    const bool watched = std::any_of(d.enclosure.lamps.begin(), d.enclosure.lamps.end(),
                                     [](const scene::Lamp& lamp) { return lamp.thermostat_c.has_value(); });
    for (const scene::Place& place : d.enclosure.spots) {
        if (watched && place.role == scene::Role::bask) d.spots.push_back({place.position});
    }
    const auto& lamps = d.enclosure.lamps;
    if (std::any_of(lamps.begin(), lamps.end(), needs_power)) {
        Enclosure lit = d.enclosure;
        for (scene::Lamp& lamp : lit.lamps) {
            if (needs_power(lamp)) lamp = lit_by_power(lamp);
        }
        d.light = light_at(field.relit(lit), d.spots);
    } else {
        d.light = light_at(field, d.spots);
    }
    d.lamps = d.lamps_under(as_published(d.enclosure));
    d.shares = where_light_ends(d.enclosure);
    for (std::size_t l = 0; options.mixed_light && l < lamps.size(); ++l) {
        const double mixed = d.shares[l].mixed * d.lamps[l].with_light / d.lamps[l].per_light;
        for (double& light : d.light[l]) light += mixed;
    }
    for (const Spot& spot : d.spots) d.ground.push_back(d.grounds.under(spot.feet));
    for (const scene::Lamp& lamp : lamps) {
        std::vector<double> by_ground;
        for (const Ground& ground : d.grounds) {
            const scene::Wall& wall = d.enclosure.walls[static_cast<std::size_t>(ground.face)];
            const spectrum::Material* material =
                ground.furniture >= 0
                    ? &d.enclosure.furniture[static_cast<std::size_t>(ground.furniture)].material
                    : (wall ? &*wall : nullptr);
            if (heat_kind(lamp) == scene::HeatKind::emitter) {
                by_ground.push_back(ground.emissivity);  // long waves
            } else {
                by_ground.push_back(
                    material != nullptr ? optical(*material, lamp.spectrum.relative, 0).absorbed() : 0.9);
            }
        }
        d.absorptance.push_back(std::move(by_ground));
    }
}

Warmth::~Warmth() = default;
Warmth::Warmth(Warmth&&) noexcept = default;
Warmth& Warmth::operator=(Warmth&&) noexcept = default;

const std::vector<Assumption>& Warmth::assumptions() const {
    return data_->unsure;
}
const std::vector<LampHeat>& Warmth::lamps() const {
    return data_->lamps;
}
const Enclosure& Warmth::enclosure() const {
    return data_->enclosure;
}

Warmth::State Warmth::state(const Assumptions& assumptions) const {
    const Data& d = *data_;
    const auto heat = d.lamps_under(assumptions);
    std::vector<double> on(heat.size());
    for (std::size_t l = 0; l < on.size(); ++l) on[l] = d.burns(l) ? 1 : 0;
    State state = d.settled(heat, std::move(on), assumptions);
    constexpr int rounds = 2;  // thermostats disturb one another a little
    for (int round = 0; round < rounds; ++round) {
        for (std::size_t l = 0; l < heat.size(); ++l) {
            const auto limit = d.enclosure.lamps[l].thermostat_c;
            if (!limit || !d.burns(l)) continue;
            const auto with = [&](double part) {
                std::vector<double> turned = state.on;
                turned[l] = part;
                return d.settled(heat, std::move(turned), assumptions);
            };
            State full = with(1);
            if (d.felt(heat, full, assumptions) <= *limit) {
                state = std::move(full);
                continue;
            }
            double low = 0;
            double high = 1;
            for (int halving = 0; halving < 12; ++halving) {
                const double middle = (low + high) / 2;
                (d.felt(heat, with(middle), assumptions) > *limit ? high : low) = middle;
            }
            state = with(low);
        }
    }
    return state;
}

Warmth::State Warmth::state() const {
    return state(as_published(data_->enclosure));
}

std::vector<Temperature> Warmth::at_spots(const State& state, const Assumptions& assumptions) const {
    const Data& d = *data_;
    const auto heat = d.lamps_under(assumptions);
    std::vector<Temperature> all;
    all.reserve(d.asked);
    for (std::size_t i = 0; i < d.asked; ++i) {
        const bool neighbour = i > 0 && d.ground[i] == d.ground[i - 1];
        const auto near_k =
            neighbour ? std::optional(all.back().surface_c + zero_c) : std::optional<double>();
        all.push_back(d.at(i, heat, state, assumptions, near_k));
    }
    return all;
}

std::vector<Temperature> Warmth::at_spots(const Assumptions& assumptions) const {
    return at_spots(state(assumptions), assumptions);
}

std::vector<Temperature> Warmth::at_spots() const {
    return at_spots(as_published(data_->enclosure));
}

std::vector<Spot> spots_of(const Enclosure& enclosure) {
    std::vector<Spot> spots;
    for (const scene::Place& place : enclosure.spots) spots.push_back({place.position});
    return spots;
}

std::vector<Temperature> glance(const Enclosure& enclosure, const WarmthOptions& options) {
    light::FieldOptions direct;
    direct.bounces = 0;
    WarmthOptions quick = options;
    quick.mixed_light = true;
    return Warmth(light::Field(enclosure, direct), spots_of(enclosure), quick).at_spots();
}

}  // namespace dapple::warmth
