// Any bytes as readings of an enclosure, and as readings of lamps through their lives: refused with reasons, or finite
// values at places inside the box, and nothing dark below zero.
#include "inference/readings.h"

#include <algorithm>
#include <cmath>

#include "bytes.h"
#include "inference/life_readings.h"
#include "scene/document.h"

namespace {

using namespace dapple;

const scene::Enclosure& pen() {
    static const scene::Enclosure enclosure = *scene::parse_enclosure(R"({
      "format": "dapple/enclosure@1", "id": "pen", "name": "Test pen", "size_cm": [60, 40, 50],
      "animals": [{"species": "crotaphytus_collaris", "back_height_cm": 4}],
      "spots": [{"id": "bask", "name": "Flat stone", "position_cm": [30, 20, 10], "role": "bask"},
                {"id": "cool", "name": "Corner", "position_cm": [55, 5, 0], "role": "retreat"}]
    })");
    return enclosure;
}

bool is_in_the_box(const scene::Vec3& point) {
    constexpr double rounding = 1e-6;
    return (point.array() >= -rounding).all() && ((point - pen().size).array() <= rounding).all();
}

bool says_what_is_wrong(const Problems& problems) {
    return !problems.empty() && std::all_of(problems.begin(), problems.end(), [](const Problem& problem) {
        return !problem.found.empty() && !problem.allowed.empty();
    });
}

void read_survey(std::string_view text) {
    const auto readings = inference::parse_readings(text, pen(), {"fuzz.csv", "2026-04-01"});
    if (!readings) return fuzz::promise(says_what_is_wrong(readings.error()), "a refusal says why");
    fuzz::promise(!readings->sets.empty(), "readings are at least one");
    for (const inference::Reading& reading : readings->sets) {
        fuzz::promise(is_in_the_box(reading.point), "a reading is in the box");
        fuzz::promise(!reading.values.empty(), "a reading has a value");
        for (const double value : reading.values) {
            fuzz::promise(std::isfinite(value), "a value is finite");
            fuzz::promise(!reading.quantity || value >= 0, "light is never negative");
        }
        fuzz::promise(std::isfinite(reading.value) && reading.scatter >= 0, "repeats have a middle");
        (void)in_words(reading, pen());
    }
}

void read_lives(std::string_view text) {
    const auto readings = inference::parse_life_readings(text, {"fuzz.csv", inference::day_of("2026-04-01")});
    if (!readings) return fuzz::promise(says_what_is_wrong(readings.error()), "a refusal says why");
    fuzz::promise(!readings->empty(), "readings are at least one");
    for (const inference::LifeReading& reading : *readings) {
        fuzz::promise(reading.day || reading.hours, "a reading has its time");
        fuzz::promise(std::isfinite(reading.value) && reading.value >= 0, "light is never negative");
        fuzz::promise(!reading.lamp.empty(), "a reading is of a lamp");
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    const std::string_view text = fuzz::text(bytes, size);
    read_survey(text);
    read_lives(text);
    return 0;
}
