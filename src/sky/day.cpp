#include "sky/day.h"

#include <algorithm>
#include <cmath>

#include "sky/cloud.h"
#include "sky/ozone.h"

namespace dapple::sky {

namespace {

// Columns between which the table is interpolated: those of the climatology and beyond.
std::vector<double> ozone_nodes(const Weather& weather) {
    if (weather.ozone_du) return {*weather.ozone_du};
    return {220, 260, 310, 370, 450};
}

Conditions fixed_conditions(const Site& site, const Weather& weather) {
    Conditions c;
    c.air.elevation_m = std::max(0.0, site.elevation_m);
    c.air.aerosol = weather.aerosol;
    c.albedo = weather.albedo;
    return c;
}

double day_of_year(Instant time) {
    const auto days = date::floor<date::days>(time);
    const auto new_year = date::sys_days(date::year_month_day(days).year() / date::January / 1);
    return std::chrono::duration<double>(time - new_year) / std::chrono::duration<double>(date::days(1));
}

}  // namespace

OpenSky::OpenSky(const Site& site, const Weather& weather, std::optional<Forecast> forecast)
    : site_(site),
      weather_(weather),
      forecast_(std::move(forecast)),
      table_(fixed_conditions(site, weather), ozone_nodes(weather)) {}

double OpenSky::ozone_du(Instant time) const {
    return weather_.ozone_du.value_or(climatological_ozone_du(site_.lat_deg, day_of_year(time)));
}

double OpenSky::zenith_as_seen_deg(const SunPosition& sun) const {
    return 90 - apparent_elevation_deg(sun.elevation_deg, site_);
}

Uv OpenSky::modelled(Instant time, const SunPosition& sun) const {
    Uv uv = table_.at(ozone_du(time), zenith_as_seen_deg(sun));
    const double factor = cloud_factor_uv(weather_.cloud) / (sun.distance_au * sun.distance_au);
    uv.uvi *= factor;
    uv.d3_w_m2 *= factor;
    return uv;
}

Uv OpenSky::uv(Instant time, const SunPosition& sun) const {
    const Uv uv = modelled(time, sun);
    const double factor = forecast_factor(time, sun);
    return {uv.uvi * factor, uv.d3_w_m2 * factor};
}

Uv OpenSky::uv(Instant time) const {
    return uv(time, sun(time));
}

double OpenSky::forecast_factor(Instant time, const SunPosition& sun) const {
    const auto told = forecast_ ? forecast_->uvi(time) : std::nullopt;
    const double uvi = modelled(time, sun).uvi;
    return told && uvi > 0 ? *told / uvi : 1;
}

Conditions OpenSky::conditions(Instant time, const SunPosition& sun) const {
    Conditions c = fixed_conditions(site_, weather_);
    c.air.ozone_du = ozone_du(time);
    c.distance_au = sun.distance_au;
    return c;
}

std::vector<Moment> curve(const OpenSky& sky, Instant begin, Instant end, std::chrono::seconds step) {
    std::vector<Moment> moments;
    for (Instant time = begin;; time = std::min(time + step, end)) {
        const auto sun = sky.sun(time);
        moments.push_back({time, 90 - sky.zenith_as_seen_deg(sun), sun.azimuth_deg, sky.uv(time, sun)});
        if (time == end) return moments;
    }
}

Moment highest(const OpenSky& sky, const std::vector<Moment>& curve) {
    const auto by_uvi = [](const Moment& a, const Moment& b) { return a.uv.uvi < b.uv.uvi; };
    const auto best = std::max_element(curve.begin(), curve.end(), by_uvi);
    const Instant begin = best == curve.begin() ? best->time : (best - 1)->time;
    const Instant end = best + 1 == curve.end() ? best->time : (best + 1)->time;
    const auto fine = dapple::sky::curve(sky, begin, end, std::chrono::minutes(1));
    return *std::max_element(fine.begin(), fine.end(), by_uvi);
}

std::vector<Window> windows(const std::function<std::optional<double>(Instant)>& value, double low,
                            double high, Instant begin, Instant end, std::chrono::seconds step) {
    const auto inside = [&](Instant time) {
        const auto v = value(time);
        return v && *v >= low && *v <= high;
    };
    // The first moment of the second's state, between two that differ.
    const auto turn = [&](Instant before, Instant after) {
        const bool then = inside(after);
        while (after - before > std::chrono::seconds(1)) {
            const Instant middle = before + (after - before) / 2;
            (inside(middle) == then ? after : before) = middle;
        }
        return after;
    };
    std::vector<Window> found;
    bool open = inside(begin);
    if (open) found.push_back({begin, end});
    for (Instant time = begin; time < end;) {
        const Instant next = std::min(time + step, end);
        if (inside(next) != open) {
            open = !open;
            const Instant at = turn(time, next);
            if (open) found.push_back({at, end});
            if (!open) found.back().to = at;
        }
        time = next;
    }
    return found;
}

Dose dose(const OpenSky& sky, const std::vector<Window>& windows) {
    Dose sum;
    for (const Window& window : windows) {
        const auto moments = curve(sky, window.from, window.to, std::chrono::minutes(5));
        for (std::size_t i = 1; i < moments.size(); ++i) {
            const double seconds =
                std::chrono::duration<double>(moments[i].time - moments[i - 1].time).count();
            sum.erythemal +=
                seconds * (moments[i].uv.erythemal_w_m2() + moments[i - 1].uv.erythemal_w_m2()) / 2;
            sum.d3 += seconds * (moments[i].uv.d3_w_m2 + moments[i - 1].uv.d3_w_m2) / 2;
        }
    }
    return sum;
}

}  // namespace dapple::sky
