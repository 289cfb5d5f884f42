#include "husbandry/words.h"

#include <fmt/format.h>

#include <cmath>

namespace dapple::husbandry {

namespace {

std::string third(double at, double length, const char* first, const char* middle, const char* last) {
    if (at < length / 3) return first;
    return at > 2 * length / 3 ? last : middle;
}

std::string region(const scene::Enclosure& enclosure, const scene::Vec3& place) {
    const std::string across = third(place.x(), enclosure.size.x(), "left", "middle", "right");
    std::string along = third(place.y(), enclosure.size.y(), "front", "middle", "back");
    if (across == "middle" && along == "middle") return "middle";
    if (across == "middle") return along;
    return along == "middle" ? across : along + " " + across;
}

}  // namespace

std::string uvi_in_words(double uvi) {
    if (uvi < 0.005) return "0";
    if (uvi < 0.1) return fmt::format("{:.2f}", uvi);
    return uvi < 9.95 ? fmt::format("{:.1f}", uvi) : fmt::format("{:.0f}", uvi);
}

std::string coordinates(const scene::Vec3& place) {
    const auto cm = [](double m) { return std::lround(m * 100); };
    return fmt::format("at {}, {}, {} cm", cm(place.x()), cm(place.y()), cm(place.z()));
}

std::string place_in_words(const scene::Enclosure& enclosure, const Reach& reach, std::size_t point) {
    const int on = reach.on[point];
    std::string words = "on " + reach.surfaces[static_cast<std::size_t>(on)];
    if (on == 0) words += " (" + region(enclosure, reach.feet[point]) + ")";
    return words + " " + coordinates(reach.points[point]);
}

}  // namespace dapple::husbandry
