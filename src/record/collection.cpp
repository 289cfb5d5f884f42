#include "record/collection.h"

#include <fmt/format.h>

#include <map>

#include "inference/life_date.h"
#include "inference/readings_repeats.h"
#include "record/database.h"
#include "record/rows.h"
#include "record/survey_times.h"

namespace dapple::record {

namespace {

using nlohmann::json;

struct Sites {
    std::string marks;  // "?, ?"
    Row parameters;
};

Sites sites_of(const std::vector<std::string>& sites) {
    Sites result;
    for (const std::string& site : sites) {
        result.marks += result.marks.empty() ? "?" : ", ?";
        result.parameters.push_back(text(site));
    }
    if (sites.empty()) result.marks = "''";
    return result;
}

using Cards = std::vector<Card>;
using Places = std::map<std::string, std::size_t>;  // enclosure -> its card

Cards empty_cards(Connection& connection, const Sites& sites) {
    const Kind& kind = *kind_named("enclosure");
    Cards cards;
    connection.each(
        fmt::format(
            "select {}, r.name, s.survey_every_days from enclosures e left join rooms r on r.id = e.room "
            "join sites s on s.id = e.site where e.site in ({}) and e.retired_at is null order by e.id",
            columns_of(kind, "e."), sites.marks),
        types_of(kind) + "ti", sites.parameters, [&](const Row& row) {
            Card card{thing_of(kind, row), text_of(row[row.size() - 2]), {}, 0, 0, {}, {}, {}};
            // For next_survey, until the last one is known.
            card.next_survey = std::to_string(survey_interval(card.enclosure, whole_of(row.back())));
            cards.push_back(std::move(card));
        });
    return cards;
}

void add_animals(Connection& connection, const Sites& sites, const Places& places, Cards& cards) {
    const Kind& kind = *kind_named("animal");
    connection.each(
        fmt::format(
            "select {} from animals where site in ({}) and retired_at is null and enclosure is not null "
            "order by id",
            columns_of(kind), sites.marks),
        types_of(kind), sites.parameters, [&](const Row& row) {
            Thing animal = thing_of(kind, row);
            const auto at = places.find(animal.fields["enclosure"].get<std::string>());
            if (at != places.end()) cards[at->second].animals.push_back(std::move(animal));
        });
}

void add_counts(Connection& connection, const Sites& sites, const Places& places, Cards& cards) {
    const auto count = [&](const char* table, const char* also, int Card::*member) {
        connection.each(
            fmt::format("select enclosure, count(*) from {} where site in ({}) and retired_at is null and "
                        "enclosure is not null{} group by enclosure",
                        table, sites.marks, also),
            "ti", sites.parameters, [&](const Row& row) {
                const auto at = places.find(text_of(row[0]));
                if (at != places.end()) cards[at->second].*member = static_cast<int>(whole_of(row[1]));
            });
    };
    count("lamps", "", &Card::lamps);
    count("tasks", " and done_on is null", &Card::open_tasks);
}

// The median of each spot's values on the day the enclosure was last read.
void add_readings(Connection& connection, const Sites& sites, const Places& places, Cards& cards) {
    struct Values {
        std::vector<double> values;
        std::string taken_at;
    };
    std::map<std::tuple<std::size_t, std::string, std::string>, Values> found;
    connection.each(
        fmt::format(
            "select r.enclosure, r.spot, r.quantity, r.value, r.taken_at from ({}) last "
            "join readings r on r.enclosure = last.enclosure and r.taken_at >= substr(last.taken_at, 1, 10) "
            "where r.retired_at is null",
            last_readings_sql(sites.marks)),
        "tttrt", sites.parameters, [&](const Row& row) {
            const auto at = places.find(text_of(row[0]));
            if (at == places.end()) return;
            Card& card = cards[at->second];
            card.last_survey = std::max(card.last_survey, text_of(row[4]).substr(0, 10));
            if (is_null(row[1])) return;
            Values& values = found[{at->second, text_of(row[1]), text_of(row[2])}];
            values.values.push_back(real_of(row[3]));
            values.taken_at = std::max(values.taken_at, text_of(row[4]));
        });
    for (const auto& [key, values] : found) {
        const auto& [card, spot, quantity] = key;
        cards[card].readings.push_back(
            {spot, quantity, inference::summarise(values.values).value, values.taken_at});
    }
}

void date_next_surveys(Cards& cards) {
    for (Card& card : cards) {
        const int every = std::stoi(card.next_survey);
        card.next_survey.clear();
        if (const auto day = inference::day_of(card.last_survey)) {
            card.next_survey = inference::to_text(*day + std::chrono::days(every));
        }
    }
}

}  // namespace

std::string last_readings_sql(const std::string& site_marks) {
    return fmt::format(
        "select e.id as enclosure, (select n.taken_at from readings n where n.enclosure = e.id and "
        "n.retired_at is null order by n.taken_at desc limit 1) as taken_at from enclosures e "
        "where e.site in ({}) and e.retired_at is null",
        site_marks);
}

int survey_interval(const Thing& enclosure, std::int64_t of_site, int otherwise) {
    if (enclosure.fields.contains("survey_every_days"))
        return enclosure.fields["survey_every_days"].get<int>();
    return of_site > 0 ? static_cast<int>(of_site) : otherwise;
}

Result<Cards> collection(const Store& store, const std::vector<std::string>& site_ids) {
    return store.database().read<Cards>(
        [&](Connection& connection) -> Result<Cards> {
            const Sites sites = sites_of(site_ids);
            Cards cards = empty_cards(connection, sites);
            Places places;
            for (std::size_t i = 0; i < cards.size(); ++i) places[cards[i].enclosure.id] = i;
            add_animals(connection, sites, places, cards);
            add_counts(connection, sites, places, cards);
            add_readings(connection, sites, places, cards);
            date_next_surveys(cards);
            return cards;
        },
        true);
}

json to_json(const Card& card) {
    json animals = json::array();
    for (const Thing& animal : card.animals) animals.push_back(to_json(animal));
    json readings = json::array();
    for (const LatestReading& r : card.readings) {
        readings.push_back(
            {{"spot", r.spot}, {"quantity", r.quantity}, {"value", r.value}, {"taken_at", r.taken_at}});
    }
    const auto or_null = [](const std::string& text) { return text.empty() ? json(nullptr) : json(text); };
    return {{"enclosure", to_json(card.enclosure)},
            {"room_name", or_null(card.room_name)},
            {"animals", animals},
            {"lamps", card.lamps},
            {"open_tasks", card.open_tasks},
            {"last_survey", or_null(card.last_survey)},
            {"next_survey", or_null(card.next_survey)},
            {"readings", readings}};
}

}  // namespace dapple::record
