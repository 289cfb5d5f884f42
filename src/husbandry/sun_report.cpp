#include "husbandry/sun_report.h"

#include <algorithm>

namespace dapple::husbandry {

namespace {

// Behind glass or plastic, or with neither its top nor a side open, a box catches the sun's warmth.
bool may_overheat(const scene::Enclosure& enclosure, bool behind_panes) {
    const bool airy = std::any_of(scene::faces.begin(), scene::faces.end(), [&](scene::Face face) {
        return face != scene::Face::floor && !enclosure.walls[static_cast<std::size_t>(face)];
    });
    return behind_panes || !airy;
}

std::vector<std::string> cautions_of(const SunReport& report) {
    std::vector<std::string> all;
    const auto& shade = report.question.shade;
    if (shade && may_overheat(*shade, report.outdoor->behind_panes)) {
        all.emplace_back(
            "This enclosure has closed or glazed sides. A closed box in the sun overheats within minutes and "
            "kills, on cool "
            "days too: put no animal out in it before its sides are open or mesh and half of it lies in "
            "shade at every hour.");
    } else {
        all.emplace_back(
            "Never put an animal in the sun in a closed or glazed box: it overheats within minutes and dies. "
            "Outdoors it needs "
            "shade it can reach at every hour, water, a sound lid, and somebody who looks after it.");
    }
    if (shade && report.outdoor->behind_panes) {
        const OutdoorSpot& spot = report.outdoor->spots[report.spot];
        if (spot.uvi_share > 0 && spot.d3_share < 0.5 * spot.uvi_share) {
            all.emplace_back(
                "Between this spot and the sky is glass or plastic that lets UVA pass, which still counts a "
                "little in the UV "
                "index, but not the UVB that makes vitamin D3. Behind it the UV index is no measure of "
                "vitamin D.");
        }
    }
    all.emplace_back(
        "A model of a clear sky, or of the cloud you named: ozone, haze and broken cloud move a day's UV "
        "index by 10-20 %. "
        "Trust the meter.");
    return all;
}

// Where a time lies between the moments of the curve.
struct Between {
    std::size_t a, b;
    double share;
    double mix(double at_a, double at_b) const { return at_a + share * (at_b - at_a); }
};

Between place_of(const SunReport& report, sky::Instant time) {
    const auto next = std::upper_bound(report.open.begin(), report.open.end(), time,
                                       [](sky::Instant t, const sky::Moment& m) { return t < m.time; });
    const auto i = std::clamp<std::ptrdiff_t>(next - report.open.begin(), 1, std::ssize(report.open) - 1);
    const auto b = static_cast<std::size_t>(i), a = b - 1;
    const double share = std::chrono::duration<double>(time - report.open[a].time) /
                         std::chrono::duration<double>(report.open[b].time - report.open[a].time);
    return {a, b, share};
}

// The value between the moments of a curve, and nothing while the sun is down.
std::optional<double> between(const SunReport& report, sky::Instant time) {
    const Between at = place_of(report, time);
    if (at.mix(report.open[at.a].elevation_deg, report.open[at.b].elevation_deg) <= 0) return std::nullopt;
    return at.mix(report.uvi[at.a], report.uvi[at.b]);
}

// What a flat back gets at the spot within the windows: trapezoids between the curve's moments.
sky::Dose dose_at_spot(const SunReport& report) {
    const auto& flat = report.outdoor->spots[report.spot].flat;
    const auto uv = [&](sky::Instant time) -> sky::Uv {
        const Between at = place_of(report, time);
        return {at.mix(flat[at.a].uvi, flat[at.b].uvi), at.mix(flat[at.a].d3_w_m2, flat[at.b].d3_w_m2)};
    };
    sky::Dose sum;
    for (const sky::Window& window : report.windows) {
        std::vector<sky::Instant> times = {window.from};
        for (const sky::Moment& moment : report.open)
            if (moment.time > window.from && moment.time < window.to) times.push_back(moment.time);
        times.push_back(window.to);
        for (std::size_t i = 1; i < times.size(); ++i) {
            const sky::Uv before = uv(times[i - 1]), after = uv(times[i]);
            const double seconds = std::chrono::duration<double>(times[i] - times[i - 1]).count();
            sum.erythemal += seconds * (before.erythemal_w_m2() + after.erythemal_w_m2()) / 2;
            sum.d3 += seconds * (before.d3_w_m2 + after.d3_w_m2) / 2;
        }
    }
    return sum;
}

Expected<std::vector<AnimalJudgement>> animals_under(const SunQuestion& question) {
    if (!question.shade) return std::vector<AnimalJudgement>{};
    return resolve_animals(*question.shade);
}

void choose_band(SunReport& report, const std::vector<AnimalJudgement>& animals) {
    const auto& species = report.question.species;
    if (species) {
        report.animal = species->id;
        report.band = band_of(species->zones);
    } else if (!animals.empty()) {
        report.animal = animals.front().named;
        report.band = animals.front().band;
    }
}

void shade_curve(SunReport& report, const sky::OpenSky& sky, const std::vector<AnimalJudgement>& animals) {
    const scene::Enclosure& enclosure = *report.question.shade;
    const double bearing = enclosure.outdoors ? enclosure.outdoors->bearing_deg : 0;
    OutdoorOptions options;
    if (report.question.plan) {
        options.plan.emplace();
        options.plan->band = report.band;
        const auto& species = report.question.species;
        const double height =
            species ? species->back_height : (animals.empty() ? 0 : animals.front().species.back_height);
        if (height > 0) options.plan->height = height;
    }
    report.outdoor = outdoor_day(enclosure, animals, sky, report.open, bearing, options);
    const auto& spots = report.outdoor->spots;
    const auto bask = std::find_if(spots.begin(), spots.end(),
                                   [](const OutdoorSpot& s) { return s.role == scene::Role::bask; });
    report.spot = bask == spots.end() ? 0 : static_cast<std::size_t>(bask - spots.begin());
    report.uvi = spots[report.spot].uvi;
}

}  // namespace

Expected<SunReport> sun_report(SunQuestion question) {
    const auto animals = animals_under(question);
    if (!animals) return tl::unexpected(animals.error());
    SunReport report{std::move(question), 0, "", {}, {}, {}, {}, 0, {}, {}, {}, {}, 0, {}};
    const SunQuestion& asked = report.question;
    choose_band(report, *animals);
    const sky::OpenSky sky(asked.site, asked.weather, asked.forecast);
    const auto begin = asked.clock.begin_of(asked.date), end = asked.clock.end_of(asked.date);
    report.ozone_du = sky.ozone_du(begin + (end - begin) / 2);
    report.open = sky::curve(sky, begin, end, asked.step);
    report.highest_open = sky::highest(sky, report.open);
    if (asked.shade) {
        shade_curve(report, sky, *animals);
    } else {
        for (const sky::Moment& moment : report.open) report.uvi.push_back(moment.uv.uvi);
    }
    report.highest =
        static_cast<std::size_t>(std::max_element(report.uvi.begin(), report.uvi.end()) - report.uvi.begin());

    const auto value = [&](sky::Instant time) -> std::optional<double> {
        if (asked.shade) return between(report, time);
        const auto sun = sky.sun(time);
        if (sky.zenith_as_seen_deg(sun) >= 90) return std::nullopt;
        return sky.uv(time, sun).uvi;
    };
    const auto in = [&](double low, double high) {
        return sky::windows(value, low, high, begin, end, asked.step);
    };
    if (report.band) {
        report.windows = in(report.band->low, report.band->high);
        report.dose = asked.shade ? dose_at_spot(report) : sky::dose(sky, report.windows);
    } else if (report.animal.empty()) {
        for (const int zone : {1, 2, 3, 4}) {
            const Band band = *band_of({zone});
            report.zones.push_back({zone, band, in(band.low, band.high)});
        }
        report.windows = in(report.zones[1].band.low, report.zones[3].band.high);
    }
    report.cautions = cautions_of(report);
    return report;
}

}  // namespace dapple::husbandry
