// The sun's promises of speed: a year of windows for one place under 1 s, an outdoor pen's day at 10-minute steps under 5 s
// on two cores.   bench_sun DOCUMENT (a pen with animals)
#include <fmt/format.h>

#include <chrono>

#include "husbandry/outdoor_day.h"
#include "scene/document.h"

namespace {

using namespace dapple;
using namespace std::chrono_literals;
using namespace date::literals;

template <class Work>
double seconds(const Work& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// Windows of UVI 2.9-7.4 on each day of 2026, ozone by the climatology.
std::size_t year_of_windows() {
    const sky::OpenSky open({48.2, 16.4, 170}, {});
    const auto clock = sky::Clock::by_longitude(16.4);
    const auto value = [&](sky::Instant time) -> std::optional<double> {
        const auto sun = open.sun(time);
        if (open.zenith_as_seen_deg(sun) >= 90) return std::nullopt;
        return open.uv(time, sun).uvi;
    };
    std::size_t found = 0;
    for (auto day = date::sys_days(2026_y / 1 / 1); day < date::sys_days(2027_y / 1 / 1);
         day += date::days(1)) {
        found += sky::windows(value, 2.9, 7.4, clock.begin_of(day), clock.end_of(day), 10min).size();
    }
    return found;
}

std::size_t pens_day(const scene::Enclosure& pen) {
    const auto animals = husbandry::resolve_animals(pen).value();
    const sky::OpenSky open({pen.outdoors->lat_deg, pen.outdoors->lon_deg, 0}, {});
    const auto clock = sky::Clock::by_longitude(pen.outdoors->lon_deg);
    const auto curve =
        sky::curve(open, clock.begin_of(2026_y / 6 / 21), clock.end_of(2026_y / 6 / 21), 10min);
    const auto day = husbandry::outdoor_day(pen, animals, open, curve, pen.outdoors->bearing_deg);
    return day.times.size();
}

}  // namespace

int main(int argc, char** argv) {
    const std::string path = argc > 1 ? argv[1] : DAPPLE_ROOT "/examples/olive-terrace.json";
    const auto pen = scene::load_enclosure(path);
    if (!pen || !pen->outdoors) {
        fmt::print(stderr, "no document of an enclosure outdoors: {}\n", path);
        return 2;
    }
    for (int round = 0; round < 3; ++round) {
        std::size_t found = 0, moments = 0;
        const double year = seconds([&] { found = year_of_windows(); });
        const double day = seconds([&] { moments = pens_day(*pen); });
        fmt::print("a year: {} windows in {:.2f} s (promised 1); {}: {} moments in {:.2f} s (promised 5)\n",
                   found, year, pen->id, moments, day);
    }
}
