#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "warmth/warmth.h"

namespace dapple::warmth {

namespace {

constexpr double z90 = 1.6448536269514722;  // 95 % quantile of the standard normal

Interval about(double middle, double sd) {
    return {middle - z90 * sd, middle + z90 * sd};
}

std::vector<std::string> notes_on(const Warmth& warmth, const Warmth::State& state,
                                  const std::vector<SpotWarmth>& spots) {
    std::vector<std::string> notes;
    const scene::Enclosure& enclosure = warmth.enclosure();
    for (std::size_t l = 0; l < enclosure.lamps.size(); ++l) {
        const scene::Lamp& lamp = enclosure.lamps[l];
        const LampHeat& heat = warmth.lamps()[l];
        if (!(heat.power() > 0)) {
            notes.push_back(fmt::format(
                "Nothing is known of the power or output of lamp \"{}\"; it counts as cold.", lamp.name));
        } else if (heat.over_power && lamp.power_w > 0) {
            notes.push_back(fmt::format(
                "The light of lamp \"{}\" as measured carries {:.0f} W, more than its power of {:g} W: its "
                "beam is "
                "narrower than \"beam_deg\" says, or one of the numbers is wrong. Its light was believed.",
                lamp.name, heat.with_light, lamp.power_w));
        } else if (lamp.power_w <= 0) {
            notes.push_back(fmt::format("Lamp \"{}\" has no \"power_w\"; {:.0f} W were taken from its light.",
                                        lamp.name, heat.power()));
        }
        if (state.on[l] < 1 && lamp.thermostat_c) {
            notes.push_back(
                fmt::format("The thermostat at {:g} C turns lamp \"{}\" down to {:.0f} % of its heat; "
                            "its light goes down with it.",
                            *lamp.thermostat_c, lamp.name, 100 * state.on[l]));
        }
    }
    constexpr double promised = 1e-3;
    if (state.balance.closed() > promised) {
        notes.emplace_back(
            "So much heat in so small a box is beyond what this model covers: its temperatures are not to be "
            "used.");
    }
    if (enclosure.outdoors) {
        notes.emplace_back(
            "The sun's heat is not in these numbers. A closed or glazed box in the sun overheats within "
            "minutes: never leave an animal in one.");
    }
    constexpr double burns_c =
        60;  // a second or so on metal or stone hurts human skin; EN ISO 13732-1, from memory
    for (const SpotWarmth& spot : spots) {
        if (spot.interval.second < burns_c) continue;
        notes.push_back(
            fmt::format("{} may reach {:.0f} C: that burns skin.", spot.name, spot.interval.second));
    }
    notes.emplace_back(
        "An estimate at rest, with the lamps on for hours; it is no thermostat and does not replace "
        "one, nor a thermometer at the place.");
    notes.emplace_back(
        "Mains, heat and fire: fixed fittings, a thermostat on every heater, guards in place, nothing "
        "that burns near a lamp, the local electrical code, and a licensed electrician.");
    return notes;
}

}  // namespace

std::vector<Sensitivity> sensitivities(const Warmth& warmth, const Belief& belief) {
    std::vector<Sensitivity> all;
    const std::vector<Assumption>& assumptions = warmth.assumptions();
    for (std::size_t a = 0; a < assumptions.size(); ++a) {
        const auto shifted = [&](double by) {
            Eigen::VectorXd at = belief.mean;
            at[static_cast<Eigen::Index>(a)] += by;
            return warmth.at_spots(moved(warmth.enclosure(), assumptions, at));
        };
        const auto up = shifted(assumptions[a].sd);
        const auto down = shifted(-assumptions[a].sd);
        Sensitivity sensitivity{assumptions[a], {}, {}};
        for (std::size_t i = 0; i < up.size(); ++i) {
            sensitivity.surface_k.push_back((up[i].surface_c - down[i].surface_c) / 2);
            sensitivity.air_k.push_back((up[i].air_c - down[i].air_c) / 2);
        }
        all.push_back(std::move(sensitivity));
    }
    return all;
}

std::vector<Sensitivity> sensitivities(const Warmth& warmth) {
    return sensitivities(warmth, prior(warmth.assumptions()));
}

Report report(const light::Field& field, const Belief& belief, const WarmthOptions& options) {
    const scene::Enclosure& enclosure = field.enclosure();
    const auto spots = spots_of(enclosure);
    const Warmth day(field, spots, options);
    WarmthOptions dark = options;
    dark.night = true;
    const Warmth night(field, spots, dark);
    const Assumptions believed = moved(enclosure, day.assumptions(), belief.mean);
    const Warmth::State state = day.state(believed);
    const auto now = day.at_spots(state, believed);
    const auto by_night = night.at_spots(believed);
    Report report;
    report.balance = state.balance;
    report.by_assumption = sensitivities(day, belief);
    const auto n = static_cast<Eigen::Index>(report.by_assumption.size());
    // A temperature's slopes by the assumptions, and the variance that what is believed leaves it.
    const auto variance = [&](std::vector<double> Sensitivity::*of, std::size_t spot) {
        Eigen::VectorXd slopes(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const Sensitivity& s = report.by_assumption[static_cast<std::size_t>(i)];
            slopes[i] = (s.*of)[spot] / s.assumption.sd;
        }
        return slopes.dot(belief.covariance * slopes);
    };
    const double room_c = state.balance.room_k - zero_c;
    for (std::size_t i = 0; i < now.size(); ++i) {
        const auto interval = [&](double middle, std::vector<double> Sensitivity::*of) {
            const double model = model_sd(middle - room_c);
            return about(middle, std::sqrt(variance(of, i) + model * model));
        };
        const scene::Place& place = enclosure.spots[i];
        report.spots.push_back({place.id, place.name.empty() ? place.id : place.name, now[i].surface_c,
                                now[i].air_c, interval(now[i].surface_c, &Sensitivity::surface_k),
                                interval(now[i].air_c, &Sensitivity::air_k), by_night[i].surface_c});
    }
    report.notes = notes_on(day, state, report.spots);
    return report;
}

Report report(const light::Field& field, const WarmthOptions& options) {
    return report(field, prior(assumptions_of(field.enclosure())), options);
}

}  // namespace dapple::warmth
