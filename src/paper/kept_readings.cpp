#include "paper/kept_readings.h"

#include <algorithm>
#include <map>

#include "husbandry/verdict.h"
#include "inference/readings_repeats.h"
#include "paper/things.h"

namespace dapple::paper {

namespace {

using record::Thing;
using scene::Vec3;

constexpr double cm = 0.01;

std::string meter_name(const Thing& reading, const Meters& meters) {
    const std::string name = meters.name(field(reading, "meter"));
    return name.empty() ? field(reading, "meter_words") : name;
}

// Where the sensor was; false: the spot is none of the document's, or the point lies outside.
bool place(const Thing& reading, const scene::Enclosure& enclosure,
           const std::vector<husbandry::AnimalJudgement>& animals, inference::Reading& set) {
    const double height = reading.fields.value("height_cm", 0.0) * cm;
    set.spot = field(reading, "spot");
    if (set.spot.empty()) {
        set.point = Vec3(reading.fields.value("x_cm", 0.0), reading.fields.value("y_cm", 0.0),
                         reading.fields.value("z_cm", 0.0)) *
                        cm +
                    Vec3(0, 0, height);
        return (set.point.array() >= 0).all() && (set.point.array() <= enclosure.size.array()).all();
    }
    for (const scene::Place& spot : enclosure.spots) {
        if (spot.id != set.spot) continue;
        set.point = reading.fields.contains("height_cm") ? Vec3(spot.position + Vec3(0, 0, height))
                                                         : husbandry::reading_point(spot, animals);
        return true;
    }
    return false;
}

// What readings have in common that are repeats of one another.
std::string key_of(const Thing& reading) {
    const auto number = [&](const char* name) {
        return reading.fields.contains(name) ? reading.fields[name].dump() : std::string("-");
    };
    const std::string survey = field(reading, "survey");
    std::string key = survey.empty() ? field(reading, "taken_at").substr(0, 10) : survey;
    for (const char* name : {"spot", "quantity", "facing", "meter", "meter_words", "lamp"})
        key += '\n' + field(reading, name);
    for (const char* name : {"x_cm", "y_cm", "z_cm", "height_cm"}) key += '\n' + number(name);
    return key;
}

}  // namespace

std::vector<KeptSet> kept_sets(const std::vector<Thing>& readings, const scene::Enclosure& enclosure,
                               const Meters& meters) {
    const auto resolved = husbandry::resolve_animals(enclosure);
    const auto animals = resolved ? *resolved : std::vector<husbandry::AnimalJudgement>();
    std::vector<const Thing*> in_order;
    for (const Thing& reading : readings) in_order.push_back(&reading);
    std::sort(in_order.begin(), in_order.end(), [](const Thing* a, const Thing* b) {
        return std::pair(field(*a, "taken_at"), a->id) < std::pair(field(*b, "taken_at"), b->id);
    });

    std::vector<KeptSet> sets;
    std::map<std::string, std::size_t> known;
    for (const Thing* reading : in_order) {
        const std::string day = field(*reading, "taken_at").substr(0, 10);
        const bool is_light = field(*reading, "quantity") != "temperature";
        double value = meters.true_value(field(*reading, "meter"), day, reading->fields.value("value", 0.0));
        if (is_light) value = std::max(0.0, value);
        const auto [at, is_new] = known.emplace(key_of(*reading), sets.size());
        if (!is_new) {
            sets[at->second].reading.values.push_back(value);
            continue;
        }
        KeptSet set;
        set.reading.where = "reading " + reading->id;
        set.reading.date = day;
        set.reading.quantity = spectrum::quantity_named(field(*reading, "quantity"));
        set.reading.meter = meter_name(*reading, meters);
        set.reading.note = field(*reading, "note");
        set.reading.values = {value};
        set.of_one_lamp = !field(*reading, "lamp").empty();
        set.nowhere = !place(*reading, enclosure, animals, set.reading);
        if (const auto facing = light::parse_facing(field(*reading, "facing"));
            facing && !field(*reading, "facing").empty())
            set.reading.facing = *facing;
        sets.push_back(std::move(set));
    }
    for (KeptSet& set : sets) {
        const auto repeats = inference::summarise(set.reading.values);
        set.reading.value = repeats.value;
        set.reading.scatter = repeats.scatter;
    }
    return sets;
}

}  // namespace dapple::paper
