#include "server/recent_fields.h"

#include <algorithm>

namespace dapple::server {

std::shared_ptr<RecentFields::Entry> RecentFields::entry(const scene::Enclosure& enclosure,
                                                         const light::FieldOptions& options) {
    const std::lock_guard lock(guard_);
    const auto known = std::find_if(entries_.begin(), entries_.end(), [&](const auto& e) {
        return e->bounces == options.bounces && e->document == enclosure.source;
    });
    if (known != entries_.end()) {
        entries_.splice(entries_.begin(), entries_, known);
        return entries_.front();
    }
    auto made = std::make_shared<Entry>();
    made->document = enclosure.source;
    made->bounces = options.bounces;
    entries_.push_front(made);
    if (entries_.size() > most_) entries_.pop_back();
    return made;
}

std::vector<double> RecentFields::values(const scene::Enclosure& enclosure,
                                         const light::FieldOptions& options,
                                         const std::vector<scene::Vec3>& points, spectrum::Quantity quantity,
                                         const light::Facing& facing) {
    const auto kept = entry(enclosure, options);
    const std::lock_guard lock(kept->one_at_a_time);
    if (!kept->field) kept->field = std::make_unique<light::Field>(enclosure, options);
    return kept->field->values(points, quantity, facing);
}

std::vector<light::Arrival> RecentFields::arrivals(const scene::Enclosure& enclosure,
                                                   const light::FieldOptions& options,
                                                   const std::vector<scene::Vec3>& points,
                                                   const light::Facing& facing) {
    const auto kept = entry(enclosure, options);
    const std::lock_guard lock(kept->one_at_a_time);
    if (!kept->field) kept->field = std::make_unique<light::Field>(enclosure, options);
    std::vector<light::Arrival> result;
    result.reserve(points.size());
    for (const scene::Vec3& point : points) result.push_back(kept->field->at(point, facing));
    return result;
}

}  // namespace dapple::server
