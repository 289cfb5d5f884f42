#include "paper/meters.h"

#include <algorithm>

#include "paper/things.h"

namespace dapple::paper {

using record::Thing;

record::Result<Meters> Meters::of(const record::Store& store, const std::vector<std::string>& sites) {
    Meters all;
    record::Query query;
    query.sites = sites;
    query.kind = "meter";
    query.retired = true;
    const auto meters = all_things(store, query);
    if (!meters) return tl::unexpected(meters.error());
    for (const Thing& meter : *meters) all.meters_.emplace(meter.id, meter);
    query.kind = "calibration";
    query.retired = false;
    const auto calibrations = all_things(store, query);
    if (!calibrations) return tl::unexpected(calibrations.error());
    for (const Thing& one : *calibrations) all.calibrations_[field(one, "meter")].push_back(one);
    for (auto& [meter, list] : all.calibrations_) {
        std::sort(list.begin(), list.end(), [](const Thing& a, const Thing& b) {
            return std::pair(field(a, "calibrated_on"), a.id) < std::pair(field(b, "calibrated_on"), b.id);
        });
    }
    return all;
}

const Thing* Meters::last_calibration(const std::string& meter, const std::string& day) const {
    const auto list = calibrations_.find(meter);
    const Thing* last = nullptr;
    if (list == calibrations_.end()) return last;
    for (const Thing& one : list->second) {
        if (field(one, "calibrated_on") > day) break;
        last = &one;
    }
    return last;
}

double Meters::true_value(const std::string& meter, const std::string& day, double reading) const {
    const Thing* last = last_calibration(meter, day);
    if (last == nullptr) return reading;
    return reading * last->fields.value("factor", 1.0) + last->fields.value("offset_by", 0.0);
}

const Thing* Meters::find(const std::string& meter) const {
    const auto found = meters_.find(meter);
    return found == meters_.end() ? nullptr : &found->second;
}

std::string Meters::name(const std::string& meter) const {
    const Thing* found = find(meter);
    return found == nullptr ? std::string() : field(*found, "name");
}

}  // namespace dapple::paper
