#include "server/recent_fields.h"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace dapple::server {

namespace {

std::string without_lamps(const std::string& document) {
    auto room = nlohmann::json::parse(document);
    room.erase("lamps");
    return room.dump();
}

}  // namespace

RecentFields::Found RecentFields::find(const scene::Enclosure& enclosure,
                                       const light::FieldOptions& options) {
    const std::lock_guard lock(guard_);
    const auto known = std::find_if(entries_.begin(), entries_.end(), [&](const auto& e) {
        return e->bounces == options.bounces && e->document == enclosure.source;
    });
    if (known != entries_.end()) {
        entries_.splice(entries_.begin(), entries_, known);
        return {entries_.front(), nullptr};
    }
    auto made = std::make_shared<Entry>();
    made->document = enclosure.source;
    made->room = without_lamps(enclosure.source);
    made->bounces = options.bounces;
    const auto alike = std::find_if(entries_.begin(), entries_.end(), [&](const auto& e) {
        return e->bounces == options.bounces && e->room == made->room && e->field.load() != nullptr;
    });
    const auto same_room = alike != entries_.end() ? *alike : nullptr;
    entries_.push_front(made);
    if (entries_.size() > most_) entries_.pop_back();
    return {made, same_room};
}

const light::Field& RecentFields::built(const Found& found, const scene::Enclosure& enclosure,
                                        const light::FieldOptions& options) {
    Entry& entry = *found.entry;
    if (!entry.field.load()) {
        const auto other = found.same_room ? found.same_room->field.load() : nullptr;
        entry.field.store(std::make_shared<const light::Field>(other ? other->relit(enclosure)
                                                                     : light::Field(enclosure, options)));
    }
    return *entry.field.load();
}

std::vector<double> RecentFields::values(const scene::Enclosure& enclosure,
                                         const light::FieldOptions& options,
                                         const std::vector<scene::Vec3>& points, spectrum::Quantity quantity,
                                         const light::Facing& facing) {
    const Found found = find(enclosure, options);
    const std::lock_guard lock(found.entry->one_at_a_time);
    return built(found, enclosure, options).values(points, quantity, facing);
}

std::vector<light::Arrival> RecentFields::arrivals(const scene::Enclosure& enclosure,
                                                   const light::FieldOptions& options,
                                                   const std::vector<scene::Vec3>& points,
                                                   const light::Facing& facing) {
    const Found found = find(enclosure, options);
    const std::lock_guard lock(found.entry->one_at_a_time);
    const light::Field& field = built(found, enclosure, options);
    std::vector<light::Arrival> result;
    result.reserve(points.size());
    for (const scene::Vec3& point : points) result.push_back(field.at(point, facing));
    return result;
}

}  // namespace dapple::server
