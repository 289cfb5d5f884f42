#include "paper/shopping.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <tuple>

#include "paper/things.h"

namespace dapple::paper {

namespace {

using inference::Day;
using nlohmann::json;
using record::Thing;

json day_or_null(const std::optional<Day>& day) {
    return day ? json(inference::to_text(*day)) : json(nullptr);
}

std::optional<LampNeeded> need_of(const Thing& lamp, const record::LampForecast& forecast) {
    const inference::Leaving* leaving = forecast.life ? forecast.life->leaving() : nullptr;
    if (leaving == nullptr || !leaving->date) return std::nullopt;
    // A new lamp of its kind would be too weak as well: the enclosure wants a fix, not a replacement.
    if (leaving->from_start) return std::nullopt;
    LampNeeded need;
    need.lamp = lamp.id;
    need.name = field(lamp, "name");
    need.what = what_lamp_is(lamp);
    need.enclosure = field(lamp, "enclosure");
    need.by = leaving->early.value_or(*leaving->date);
    need.leaves = *leaving->date;
    need.late = leaving->late;
    need.beyond_limit = leaving->beyond_limit;
    if (lamp.fields.contains("price")) need.price = lamp.fields["price"].get<double>();
    return need;
}

// Each spare is promised once, to whoever needs it first.
void hand_out_spares(std::vector<LampNeeded>& list, const std::vector<Thing>& lamps) {
    std::multimap<std::string, std::string> spares;
    for (const Thing& lamp : lamps) {
        if (field(lamp, "enclosure").empty() && field(lamp, "retired_on").empty())
            spares.emplace(what_lamp_is(lamp), field(lamp, "name"));
    }
    for (LampNeeded& need : list) {
        const auto spare = spares.find(need.what);
        if (spare == spares.end()) continue;
        need.spare = spare->second;
        spares.erase(spare);
    }
}

}  // namespace

record::Result<std::vector<LampNeeded>> lamps_needed(const record::Store& store, record::LampLives& lives,
                                                     const std::vector<std::string>& sites, Day today,
                                                     const ShoppingOptions& options) {
    const auto forecasts = lives.of_sites(store, sites, today);
    if (!forecasts) return tl::unexpected(forecasts.error());
    const auto lamps = things_at(store, "lamp", sites);
    if (!lamps) return tl::unexpected(lamps.error());
    const auto enclosures = things_at(store, "enclosure", sites);
    if (!enclosures) return tl::unexpected(enclosures.error());

    std::map<std::string, const Thing*> lamp_of;
    for (const Thing& lamp : *lamps) lamp_of[lamp.id] = &lamp;
    std::map<std::string, std::string> names;
    for (const Thing& enclosure : *enclosures) names[enclosure.id] = name_of_enclosure(enclosure);

    std::vector<LampNeeded> list;
    for (const record::LampForecast& forecast : *forecasts) {
        const auto lamp = lamp_of.find(forecast.lamp);
        if (lamp == lamp_of.end()) continue;
        auto need = need_of(*lamp->second, forecast);
        if (!need || need->by > today + std::chrono::days(options.within_days)) continue;
        need->enclosure_name = names[need->enclosure];
        list.push_back(std::move(*need));
    }
    std::sort(list.begin(), list.end(), [](const LampNeeded& a, const LampNeeded& b) {
        return std::tie(a.by, a.name, a.lamp) < std::tie(b.by, b.name, b.lamp);
    });
    hand_out_spares(list, *lamps);
    return list;
}

json to_json(const std::vector<LampNeeded>& list) {
    json lamps = json::array();
    for (const LampNeeded& need : list) {
        lamps.push_back({{"lamp", need.lamp},
                         {"name", need.name},
                         {"what", need.what},
                         {"enclosure", need.enclosure},
                         {"enclosure_name", need.enclosure_name},
                         {"by", inference::to_text(need.by)},
                         {"leaves_band",
                          {{"date", inference::to_text(need.leaves)},
                           {"interval", {inference::to_text(need.by), day_or_null(need.late)}}}},
                         {"beyond_limit", need.beyond_limit},
                         {"price", need.price ? json(*need.price) : json(nullptr)},
                         {"spare", need.spare.empty() ? json(nullptr) : json(need.spare)}});
    }
    return {{"lamps", lamps}};
}

std::string to_text(const std::vector<LampNeeded>& list) {
    if (list.empty()) return "No lamp is needed that the readings know of.\n";
    std::string text;
    for (const LampNeeded& need : list) {
        text += fmt::format("by {}  {}\n            for {} in {}; leaves the band on {}{}\n",
                            inference::to_text(need.by), need.what, need.name, need.enclosure_name,
                            inference::to_text(need.leaves),
                            need.beyond_limit ? " (further ahead than the readings can tell)" : "");
        if (!need.spare.empty()) text += fmt::format("            in store: {}\n", need.spare);
        if (need.spare.empty() && need.price)
            text += fmt::format("            the last one cost {:.2f}\n", *need.price);
    }
    return text;
}

}  // namespace dapple::paper
