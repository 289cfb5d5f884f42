// What the screens show of the record at a glance: cards with verdicts, what is due, lamps' lives, the trail, and
// changes as they come.
#include "record/collection.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <memory>
#include <nlohmann/json.hpp>

#include "record/deeds.h"
#include "record/due.h"
#include "server/answers.h"
#include "server/sites.h"

namespace dapple::server {

using nlohmann::json;

namespace {

json with_judgement(const record::Card& card, Judgements& judgements) {
    json result = to_json(card);
    const auto kept = judgements.of(card.enclosure);
    result["judging"] = !kept.has_value();
    result["judgement"] = kept ? kept->judgement : json(nullptr);
    result["problems"] = kept ? json(kept->problems) : json::array();
    return result;
}

using Sites = std::vector<std::string>;

// The same for everybody who may see the same sites.
Response shared(const Asked& asked, Response (*work)(const Asked&, const Sites&)) {
    const auto sites = sites_asked(asked);
    if (!sites) return sites.error();
    const std::string question = asked.request.path + " " + json(*sites).dump();
    return asked.service.shared_work.answer(question, [&] { return work(asked, *sites); });
}

Response cards(const Asked& asked, const Sites& sites) {
    const auto found = record::collection(*asked.service.store, sites);
    if (!found) return refusal(found.error());
    json list = json::array();
    for (const record::Card& card : *found) list.push_back(with_judgement(card, asked.service.judgements));
    return json_answer({{"cards", std::move(list)}});
}

Response due(const Asked& asked, const Sites& sites) {
    const auto found =
        record::due_list(*asked.service.store, asked.service.lives, sites, asked.service.today());
    if (!found) return refusal(found.error());
    json list = json::array();
    for (const record::Due& one : *found) list.push_back(to_json(one));
    return json_answer({{"due", std::move(list)}});
}

Response lamp_lives(const Asked& asked, const Sites& sites) {
    const inference::Day today = asked.service.today();
    const auto found = asked.service.lives.of_sites(*asked.service.store, sites, today);
    if (!found) return refusal(found.error());
    json list = json::array();
    for (const record::LampForecast& forecast : *found) {
        const auto hours = record::lamp_hours(*asked.service.store, forecast.lamp, inference::to_text(today));
        json one = to_json(forecast);
        one["hours"] = hours ? json(*hours) : json(nullptr);
        list.push_back(std::move(one));
    }
    return json_answer({{"lamps", std::move(list)}});
}

Response trail(const Asked& asked) {
    const auto sites = sites_asked(asked);
    if (!sites) return sites.error();
    const auto limit = limit_asked(asked.request);
    if (!limit) return unusable(limit.error());
    record::ChangeQuery query;
    query.sites = *sites;
    query.kind = asked.request.asked("kind");
    query.id = asked.request.asked("id");
    query.newest_first = true;
    query.limit = asked.request.asked("limit").empty() ? 200 : *limit;
    const auto changes = asked.service.store->changes(query);
    if (!changes) return refusal(changes.error());
    json list = json::array();
    for (const record::Change& change : *changes) list.push_back(to_json(change));
    return json_answer({{"changes", std::move(list)}});
}

// ---- server-sent events (WHATWG HTML, section 9.2)

constexpr std::chrono::seconds heartbeat{15};
constexpr int at_once = 500;

std::string event_of(const record::Change& change) {
    json data = {{"seq", change.seq},
                 {"kind", change.kind},
                 {"id", change.id},
                 {"site", change.site.empty() ? json(nullptr) : json(change.site)},
                 {"revision", change.revision},
                 {"deed", change.deed}};
    return fmt::format("event: change\nid: {}\ndata: {}\n\n", change.seq,
                       data.dump(-1, ' ', false, json::error_handler_t::replace));
}

std::optional<std::int64_t> whole(const std::string& text) {
    std::int64_t value = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (text.empty() || fault != std::errc() || end != text.data() + text.size() || value < 0)
        return std::nullopt;
    return value;
}

// As they are now: a site may be new, a role taken away, since the stream began.
std::vector<std::string> sites_of(const record::Store& store, const std::string& person) {
    Visitor visitor;
    if (auto standings = record::standings(store, person)) visitor.standings = std::move(*standings);
    return visitor.sites();
}

Response events(const Asked& asked) {
    const std::string last = asked.request.header("last-event-id");
    const std::string after = asked.request.asked("after");
    const std::string& from = last.empty() ? after : last;
    const auto at = whole(from);
    if (!from.empty() && !at) {
        return unusable({{"request", last.empty() ? "?after" : "Last-Event-ID", "\"" + from + "\"",
                          "the number of a change"}});
    }
    Service& service = asked.service;
    auto seen = std::make_shared<std::int64_t>(at.value_or(service.following.newest()));
    auto begun = std::make_shared<bool>(false);
    const std::string person = asked.visitor.person;
    Response answer{
        200, "text/event-stream", "", {{"Cache-Control", "no-store"}, {"X-Accel-Buffering", "no"}}};
    answer.feed = [&service, seen, begun, person](const Sink& sink) {
        if (!*begun) {
            *begun = true;
            return sink("retry: 2000\n\n");
        }
        service.following.wait(*seen, heartbeat);
        if (service.following.ending()) return false;
        if (service.following.newest() <= *seen) return sink(": still here\n\n");
        record::ChangeQuery query;
        query.after = *seen;
        query.sites = sites_of(*service.store, person);
        query.limit = at_once;
        const std::int64_t newest = service.following.newest();
        const auto changes = service.store->changes(query);
        if (!changes) return sink(": the record cannot be reached\n\n");
        std::string text;
        for (const record::Change& change : *changes) text += event_of(change);
        *seen = changes->size() == static_cast<std::size_t>(at_once) ? changes->back().seq : newest;
        return text.empty() || sink(text);
    };
    return answer;
}

}  // namespace

std::vector<Route> collection_routes() {
    return {
        {"GET", "/api/collection", Access::viewer, [](const Asked& asked) { return shared(asked, cards); }},
        {"GET", "/api/due", Access::viewer, [](const Asked& asked) { return shared(asked, due); }},
        {"GET", "/api/lamp-lives", Access::viewer,
         [](const Asked& asked) { return shared(asked, lamp_lives); }},
        {"GET", "/api/trail", Access::viewer, trail},
        {"GET", "/api/events", Access::viewer, events}};
}

}  // namespace dapple::server
