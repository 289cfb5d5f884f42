// When can this animal go out today, and under this shade? The answer of `dapple sun`.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "husbandry/outdoor_day.h"
#include "husbandry/species.h"
#include "sky/clock.h"
#include "sky/day.h"

namespace dapple::husbandry {

struct SunQuestion {
    sky::Site site;
    sky::Clock clock;
    date::year_month_day date;
    sky::Weather weather;
    std::optional<sky::Forecast> forecast;
    std::optional<Species> species;         // whose band it is; else that of the enclosure's first animal
    std::optional<scene::Enclosure> shade;  // under which it is asked
    std::chrono::minutes step{10};
    bool plan = false;  // whether sun and shadow over the floor are wanted too; only with a shade
};

struct ZoneWindows {
    int zone;
    Band band;
    std::vector<sky::Window> windows;
};

struct SunReport {
    SunQuestion question;
    double ozone_du = 0;  // at noon
    std::string animal;   // whose band; empty: nobody's
    std::optional<Band> band;
    // UVI: under the open sky that of a horizontal surface, as forecasts give it; under shade that of a meter aimed at the
    // first basking spot.
    std::vector<sky::Moment> open;
    std::vector<double> uvi;
    sky::Moment highest_open;
    std::size_t highest = 0;  // of uvi
    std::vector<sky::Window>
        windows;  // UVI in the band; without an animal, what some basker seeks (zones 2 to 4)
    std::vector<ZoneWindows> zones;  // without an animal: each zone's own
    std::optional<sky::Dose> dose;  // of a flat back that lies out for the windows: in the open, or at `spot`
    std::optional<OutdoorDay> outdoor;
    std::size_t spot = 0;  // of outdoor: where uvi is read
    std::vector<std::string> cautions;
};

Expected<SunReport> sun_report(SunQuestion question);

nlohmann::json to_json(const SunReport& report);  // contract.md, `sun --json`, and more
std::string to_text(const SunReport& report);

}  // namespace dapple::husbandry
