#include "inference/fit_model.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <tuple>

namespace dapple::inference {

namespace {

using scene::Vec3;
using spectrum::Quantity;

// Parts of the spectrum that a lamp's age and make shift against one another.
std::string part_of(Quantity quantity) {
    switch (quantity) {
        case Quantity::lux:
            return "visible light";
        case Quantity::irradiance:
            return "radiant heat";
        case Quantity::uva:
            return "UVA";
        default:
            return "UV";
    }
}

std::string name_of(const std::string& name, const std::string& id) {
    return name.empty() ? id : name;
}

// Different quantities are different sensors, even in one housing.
std::string meter_of(const Reading& reading) {
    return reading.meter + (reading.meter.empty() ? "" : " ") +
           std::string(spectrum::name(*reading.quantity));
}

bool is_light(const Reading& reading) {
    return reading.quantity.has_value();
}

}  // namespace

double floor_of(Quantity quantity) {
    switch (quantity) {
        case Quantity::uvi:
            return 0.05;
        case Quantity::lux:
            return 10;
        case Quantity::irradiance:
            return 1;
        default:
            return 0.02;
    }
}

std::vector<Unknown> list_unknowns(const scene::Enclosure& enclosure, const std::vector<Reading>& readings,
                                   const FitOptions& options) {
    using Kind = Unknown::Kind;
    std::vector<Unknown> unknowns;
    for (std::size_t i = 0; i < enclosure.lamps.size(); ++i) {
        const scene::Lamp& lamp = enclosure.lamps[i];
        if (lamp.output.empty()) continue;  // dark to the engine, whatever factor it is given
        unknowns.push_back({Kind::lamp, static_cast<int>(i), lamp.id,
                            "the output of " + name_of(lamp.name, lamp.id), options.lamp_sd, ""});
    }
    for (std::size_t i = 0; i < enclosure.screens.size(); ++i) {
        const scene::Screen& screen = enclosure.screens[i];
        if (std::holds_alternative<scene::Pane>(screen.kind) && !screen.transmittance) continue;
        unknowns.push_back({Kind::screen, static_cast<int>(i), screen.id,
                            "what " + name_of(screen.name, screen.id) + " lets through", options.screen_sd,
                            ""});
    }
    for (std::size_t i = 0; i < enclosure.foliage.size(); ++i) {
        const scene::Foliage& foliage = enclosure.foliage[i];
        unknowns.push_back({Kind::foliage, static_cast<int>(i), foliage.id,
                            "how dense " + name_of(foliage.name, foliage.id) + " is", options.foliage_sd,
                            ""});
    }
    std::set<std::string> parts;
    std::set<std::string> meters;
    for (const Reading& reading : readings) {
        if (!is_light(reading)) continue;
        parts.insert(part_of(*reading.quantity));
        meters.insert(meter_of(reading));
    }
    for (const std::string& part : parts) {
        for (std::size_t i = 0; i < enclosure.lamps.size(); ++i) {
            const scene::Lamp& lamp = enclosure.lamps[i];
            if (lamp.output.empty() || part_of(lamp.output.front().quantity) == part) continue;
            unknowns.push_back({Kind::spectrum, static_cast<int>(i), lamp.id,
                                "the " + part + " of " + name_of(lamp.name, lamp.id), options.spectrum_sd,
                                part});
        }
    }
    for (const std::string& meter : meters) {
        unknowns.push_back({Kind::meter, -1, meter, "how true the meter reads", options.meter_sd, meter});
    }
    return unknowns;
}

Placement placement_at(const ResponseField& field, const Vec3& point, Quantity quantity,
                       const light::Facing& facing, double error) {
    // Abramowitz & Stegun 1964, table 25.10, n = 3, for a normal weight: nodes 0 and +-sqrt(3) sd.
    constexpr std::array nodes = {-std::numbers::sqrt3, 0.0, std::numbers::sqrt3};
    constexpr std::array weights = {1.0 / 6, 2.0 / 3, 1.0 / 6};
    std::vector<Vec3> places = {point};
    std::vector<double> shares = {0};
    for (std::size_t i = 0; i < 27; ++i) {
        const std::array<std::size_t, 3> node = {i / 9, i / 3 % 3, i % 3};
        const Vec3 moved = point + error * Vec3(nodes[node[0]], nodes[node[1]], nodes[node[2]]);
        places.emplace_back(moved.cwiseMax(Vec3::Zero()).cwiseMin(field.enclosure().size));
        shares.push_back(weights[node[0]] * weights[node[1]] * weights[node[2]]);
    }
    const double floor = floor_of(quantity);
    // Direct light makes the shadows' edges; reflected light hardly changes within a few centimetres.
    std::vector<double> light = field.direct().values(places, quantity, facing);
    const double whole = field.field().values(std::span(&point, 1), quantity, facing).front();
    const double reflected = std::max(0.0, whole - light.front());
    for (double& value : light) value += reflected;
    constexpr double edge = std::numbers::ln2;  // so much within a few centimetres is a shadow's edge
    Placement placement;
    double smooth = 0;
    for (std::size_t i = 1; i < light.size(); ++i) {
        const double step = std::log((light[i] + floor) / (light[0] + floor));
        if (std::abs(step) > edge) {
            placement.steps.emplace_back(shares[i], step);
        } else {
            smooth += shares[i];
            placement.sd += shares[i] * step * step;
        }
    }
    placement.sd = std::sqrt(placement.sd / smooth);  // the node in the middle is always smooth
    return placement;
}

namespace {

// What readings of the same place and kind have in common; surveys come back to the same spots month after month.
class Places {
  public:
    Places(const ResponseField& field, double error) : field_(field), error_(error) {}

    void describe(const Reading& reading, Observation& seen) {
        const auto [known, is_new] =
            known_.try_emplace({*reading.quantity, light::to_text(reading.facing), reading.point.x(),
                                reading.point.y(), reading.point.z()});
        auto& [placement, response] = known->second;
        if (is_new) {
            placement = placement_at(field_, reading.point, *reading.quantity, reading.facing, error_);
            response = field_.at(std::span(&reading.point, 1), *reading.quantity, reading.facing, true);
        }
        seen.placement = placement;
        seen.response = response;
    }

  private:
    const ResponseField& field_;
    double error_;
    std::map<std::tuple<Quantity, std::string, double, double, double>, std::pair<Placement, Response>>
        known_;
};

}  // namespace

std::vector<Observation> observe(const ResponseField& field, const std::vector<Unknown>& unknowns,
                                 const std::vector<Reading>& readings, const FitOptions& options) {
    std::vector<Observation> all;
    const std::size_t lamps = field.enclosure().lamps.size();
    Places places(field, options.placement);
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const Reading& reading = readings[i];
        if (!is_light(reading)) continue;
        Observation seen{};
        seen.index = i;
        seen.value = reading.value;
        seen.floor = floor_of(*reading.quantity);
        const auto count = static_cast<double>(reading.values.size());
        seen.repeats = count < 3 ? count : count * 2 / std::numbers::pi;  // a median's efficiency
        seen.scatter =
            reading.value > 0 ? std::max(options.noise, reading.scatter / reading.value) : options.noise;
        places.describe(reading, seen);
        seen.spectrum.assign(lamps, -1);
        const std::string part = part_of(*reading.quantity);
        const std::string meter = meter_of(reading);
        for (std::size_t u = 0; u < unknowns.size(); ++u) {
            const Unknown& unknown = unknowns[u];
            if (unknown.kind == Unknown::Kind::spectrum && unknown.group == part) {
                seen.spectrum[static_cast<std::size_t>(unknown.index)] = static_cast<int>(u);
            }
            if (unknown.kind == Unknown::Kind::meter && unknown.group == meter)
                seen.meter = static_cast<int>(u);
        }
        all.push_back(std::move(seen));
    }
    return all;
}

Expectation expect(const ResponseField& field, const Observation& seen, const Eigen::VectorXd& unknowns,
                   Eigen::VectorXd* derivatives) {
    Eigen::VectorXd slope;
    double light = field.value(seen.response, 0, unknowns.data(), seen.spectrum,
                               derivatives != nullptr ? &slope : nullptr);
    const double meter = std::exp(unknowns[seen.meter]);
    light *= meter;
    if (derivatives != nullptr) {
        slope *= meter;
        slope[seen.meter] = light;
        *derivatives = slope / (light + seen.floor);
    }
    const double noise = seen.scatter * light / std::sqrt(seen.repeats);
    const double own = std::hypot(noise, seen.floor) / (light + seen.floor);
    return {light, std::log(light + seen.floor), std::hypot(own, seen.placement.sd)};
}

}  // namespace dapple::inference
