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

std::vector<Sensitivity> sensitivities(const Warmth& warmth) {
    std::vector<Sensitivity> all;
    for (const Assumption& assumption : warmth.assumptions()) {
        const auto moved = [&](double by) {
            Assumptions assumptions = as_published(warmth.enclosure());
            move(assumptions, assumption, by);
            return warmth.at_spots(assumptions);
        };
        const auto up = moved(assumption.sd);
        const auto down = moved(-assumption.sd);
        Sensitivity sensitivity{assumption, {}, {}};
        for (std::size_t i = 0; i < up.size(); ++i) {
            sensitivity.surface_k.push_back((up[i].surface_c - down[i].surface_c) / 2);
            sensitivity.air_k.push_back((up[i].air_c - down[i].air_c) / 2);
        }
        all.push_back(std::move(sensitivity));
    }
    return all;
}

Report report(const light::Field& field, const WarmthOptions& options) {
    const scene::Enclosure& enclosure = field.enclosure();
    const auto spots = spots_of(enclosure);
    const Warmth day(field, spots, options);
    WarmthOptions dark = options;
    dark.night = true;
    const Warmth night(field, spots, dark);
    const Assumptions published = as_published(enclosure);
    const Warmth::State state = day.state(published);
    const auto now = day.at_spots(state, published);
    const auto by_night = night.at_spots();
    const auto moved = sensitivities(day);
    Report report;
    report.balance = state.balance;
    const double room_c = state.balance.room_k - zero_c;
    for (std::size_t i = 0; i < now.size(); ++i) {
        double surface = std::pow(model_sd(now[i].surface_c - room_c), 2);
        double air = std::pow(model_sd(now[i].air_c - room_c), 2);
        for (const Sensitivity& s : moved) {
            surface += s.surface_k[i] * s.surface_k[i];
            air += s.air_k[i] * s.air_k[i];
        }
        const scene::Place& place = enclosure.spots[i];
        report.spots.push_back({place.id, place.name.empty() ? place.id : place.name, now[i].surface_c,
                                now[i].air_c, about(now[i].surface_c, std::sqrt(surface)),
                                about(now[i].air_c, std::sqrt(air)), by_night[i].surface_c});
    }
    report.notes = notes_on(day, state, report.spots);
    return report;
}

}  // namespace dapple::warmth
