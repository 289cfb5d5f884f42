#include "paper/meter_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "paper/things.h"

namespace dapple::paper {

namespace {

using record::Thing;

std::string calibration_words(const Meters& meters, const std::string& meter, const std::string& day) {
    const Thing* last = meters.last_calibration(meter, day);
    if (last == nullptr) return "not known";
    std::string words =
        field(*last, "calibrated_on") + fmt::format(", factor {:g}", last->fields.value("factor", 1.0));
    if (const double offset = last->fields.value("offset_by", 0.0); offset != 0)
        words += fmt::format(", offset {:+g}", offset);
    const std::string certificate = field(*last, "certificate");
    return certificate.empty() ? words : words + ", " + certificate;
}

struct Use {
    std::size_t count = 0;
    std::string last;
    std::set<std::string> people;
};

MeterRow row_of(const Meters& meters, const std::string& id, const std::string& words, const Use& use) {
    const Thing* meter = meters.find(id);
    MeterRow row;
    row.name = meter != nullptr ? field(*meter, "name") : words;
    if (row.name.empty()) row.name = "not named";
    if (meter != nullptr) {
        row.model = field(*meter, "model");
        if (!field(*meter, "serial").empty())
            row.model += (row.model.empty() ? "no. " : ", no. ") + field(*meter, "serial");
    }
    row.calibrated = calibration_words(meters, id, use.last);
    row.last_used = use.last;
    row.readings = use.count;
    row.people.assign(use.people.begin(), use.people.end());
    return row;
}

}  // namespace

std::vector<MeterRow> meter_rows(const std::vector<Thing>& readings, const std::string& since,
                                 const Meters& meters, const std::map<std::string, std::string>& people) {
    std::map<std::pair<std::string, std::string>, Use> uses;
    for (const Thing& reading : readings) {
        const std::string day = field(reading, "taken_at").substr(0, 10);
        if (day < since) continue;
        Use& use = uses[{field(reading, "meter"), field(reading, "meter_words")}];
        ++use.count;
        use.last = std::max(use.last, day);
        const auto person = people.find(reading.made_by);
        use.people.insert(person == people.end() ? reading.made_by : person->second);
    }
    std::vector<MeterRow> rows;
    for (const auto& [key, use] : uses) rows.push_back(row_of(meters, key.first, key.second, use));
    return rows;
}

}  // namespace dapple::paper
