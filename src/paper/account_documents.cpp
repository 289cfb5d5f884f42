// An account of documents, without a record behind them.
#include <algorithm>

#include "paper/report.h"
#include "warmth/lamp_heat.h"

namespace dapple::paper {

namespace {

LampRow lamp_row(const scene::Lamp& lamp) {
    LampRow row;
    row.name = lamp.name.empty() ? lamp.id : lamp.name;
    row.what = lamp.spectrum.name;
    if (lamp.power_w > 0) row.what += ", " + std::to_string(static_cast<int>(lamp.power_w)) + " W";
    row.installed = lamp.installed;
    row.hours_on = lamp.hours_on;
    if (lamp.output.empty()) row.remark = "Its strength is not known: it counts as dark.";
    return row;
}

}  // namespace

Account account_of_documents(const std::vector<DocumentWithReadings>& documents,
                             const ReportOptions& options) {
    Account account;
    account.from_record = false;
    account.made = options.now;
    account.since = options.since;
    for (const auto& [enclosure, readings] : documents) {
        EnclosureAccount one;
        one.id = enclosure.id;
        one.name = enclosure.name.empty() ? enclosure.id : enclosure.name;
        one.enclosure = enclosure;
        std::vector<inference::Reading> sets = readings;
        std::stable_sort(sets.begin(), sets.end(),
                         [](const inference::Reading& a, const inference::Reading& b) {
                             return a.date.substr(0, 10) < b.date.substr(0, 10);
                         });
        for (const auto& set : sets) {
            if (set.date.empty() || set.date.substr(0, 10) >= account.since)
                one.readings.insert(one.readings.begin(), row_of(set, one));
        }
        for (const scene::Lamp& lamp : enclosure.lamps) one.lamps.push_back(lamp_row(lamp));
        judge_into(one, sets);
        one.standings = standings_of(sets, one);
        account.enclosures.push_back(std::move(one));
    }
    account.title = documents.size() == 1 ? account.enclosures.front().name
                                          : std::to_string(documents.size()) + " enclosures";
    return account;
}

}  // namespace dapple::paper
