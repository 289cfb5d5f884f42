#include "server/question.h"

#include <fmt/format.h>

#include <cmath>

#include "record/last_round.h"
#include "server/answers.h"
#include "server/documents.h"
#include "server/numbers.h"
#include "server/writing.h"

namespace dapple::server {

using nlohmann::json;

namespace {

constexpr int most_points = 10'000;
constexpr int most_bounces = 100;

// Where the record keeps the enclosure, if the visitor may see it.
std::string site_of(const Asked& asked, const json& document) {
    const json id = document.is_object() ? document.value("id", json()) : json();
    if (!id.is_string()) return {};
    const auto thing = asked.service.store->find("enclosure", id.get<std::string>());
    return thing && may_see(asked, *thing) ? thing->site : std::string();
}

Problem wrong_readings(const json& readings) {
    return {"request", "/readings", shown(readings), "\"recorded\", or a list of readings"};
}

Expected<std::vector<inference::Reading>> posted(const Asked& asked, const Question& question) {
    const json& rows = question.object["readings"];
    const auto readings = inference::parse_readings(
        rows.dump(-1, ' ', false, json::error_handler_t::replace), question.enclosure,
        {.file = "readings", .today = inference::to_text(asked.service.today() + std::chrono::days(1))});
    if (!readings) return tl::unexpected(readings.error());
    return readings->sets;
}

}  // namespace

tl::expected<Question, Response> read_question(const Asked& asked, const std::vector<std::string>& fields) {
    auto object = body_of(asked.request, fields);
    if (!object) return tl::unexpected(object.error());
    if (!object->contains("enclosure")) {
        return tl::unexpected(unusable({{"request", "/enclosure", "nothing", "an enclosure document"}}));
    }
    const std::string site = site_of(asked, (*object)["enclosure"]);
    auto enclosure =
        scene::parse_enclosure((*object)["enclosure"].dump(-1, ' ', false, json::error_handler_t::replace),
                               reading_of(*asked.service.store, site, "enclosure"));
    if (!enclosure) return tl::unexpected(unusable(enclosure.error()));
    return Question{*std::move(object), *std::move(enclosure), site};
}

Expected<Given> given_readings(const Asked& asked, const Question& question) {
    Given given;
    const json readings = question.object.value("readings", json());
    if (readings.is_null()) return given;
    if (readings == "recorded") {
        given.recorded = true;
        if (question.site.empty()) return given;
        const auto fit = recorded_fit(*asked.service.store, question.enclosure, question.enclosure.id);
        if (!fit) return tl::unexpected(fit.error());
        given.fit = *fit;
        return given;
    }
    if (!readings.is_array()) return refuse(wrong_readings(readings));
    auto sets = posted(asked, question);
    if (!sets) return tl::unexpected(sets.error());
    given.readings = *std::move(sets);
    given.fit = inference::fit(question.enclosure, given.readings);
    return given;
}

Expected<std::vector<inference::Reading>> posted_or_recorded(const Asked& asked, const Question& question) {
    const json readings = question.object.value("readings", json());
    if (readings.is_array()) return posted(asked, question);
    if (readings.is_null()) return std::vector<inference::Reading>{};
    if (readings != "recorded") return refuse(wrong_readings(readings));
    if (question.site.empty()) return std::vector<inference::Reading>{};
    const auto round = record::last_round(*asked.service.store, question.enclosure.id);
    if (!round) return tl::unexpected(round.error().problems);
    return *round ? (*round)->readings.sets : std::vector<inference::Reading>{};
}

Expected<light::Facing> facing_of(const json& object) {
    const json facing = object.value("facing", json("aimed"));
    if (!facing.is_string()) {
        return refuse({"request", "/facing", shown(facing), "\"aimed\", \"up\", \"back\" or \"nx,ny,nz\""});
    }
    return light::parse_facing(facing.get<std::string>());
}

Expected<light::FieldOptions> options_of(const json& object) {
    const json bounces = object.value("bounces", json(-1));
    if (!bounces.is_number_integer() || bounces < -1 || bounces > most_bounces) {
        return refuse({"request", "/bounces", shown(bounces),
                       fmt::format("a whole number from -1 (as many as matter) to {}", most_bounces)});
    }
    return light::FieldOptions{bounces.get<int>()};
}

Expected<spectrum::Quantity> quantity_of(const json& object) {
    const json name = object.value("quantity", json("uvi"));
    std::vector<std::string> names;
    for (const spectrum::Quantity q : spectrum::quantities) names.emplace_back(spectrum::name(q));
    const auto found = name.is_string() ? spectrum::quantity_named(name.get<std::string>()) : std::nullopt;
    if (found) return *found;
    return refuse({"request", "/quantity", shown(name), fmt::format("{}", fmt::join(names, ", "))});
}

Expected<std::vector<scene::Vec3>> points_of(const json& object) {
    const json list = object.value("points_cm", json());
    if (!list.is_array() || list.empty() || list.size() > most_points) {
        return refuse({"request", "/points_cm",
                       list.is_array() ? fmt::format("{} points", list.size()) : shown(list),
                       fmt::format("a list of 1 to {} points", most_points)});
    }
    std::vector<scene::Vec3> points;
    points.reserve(list.size());
    for (std::size_t i = 0; i < list.size(); ++i) {
        const auto point = parse_point(list[i], fmt::format("/points_cm/{}", i));
        if (!point) return tl::unexpected(point.error());
        points.push_back(*point);
    }
    return points;
}

Expected<std::optional<double>> number_of(const json& object, const std::string& name, double least,
                                          double most) {
    const json value = object.value(name, json());
    if (value.is_null()) return std::optional<double>();
    const double number = value.is_number() ? value.get<double>() : std::nan("");
    if (number >= least && number <= most) return std::optional<double>(number);
    return refuse(
        {"request", "/" + name, shown(value), fmt::format("a number from {:g} to {:g}", least, most)});
}

}  // namespace dapple::server
