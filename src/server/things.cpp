// Every kind of the record alike: list, make, look at, change, retire, reinstate, restore, history; and many writes at
// once, as a phone sends what it gathered without a signal.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "record/kind.h"
#include "server/answers.h"
#include "server/sites.h"
#include "server/writing.h"

namespace dapple::server {

using nlohmann::json;
using record::Deed;
using record::Kind;

namespace {

constexpr std::size_t most_writes = 5000;

Response list(const Asked& asked, const Kind& kind) {
    const auto sites = sites_asked(asked);
    if (!sites) return sites.error();
    const auto limit = limit_asked(asked.request);
    if (!limit) return unusable(limit.error());
    record::Query query{.kind = std::string(kind.name)};
    if (kind.has_site) query.sites = *sites;
    for (const auto& [name, value] : asked.request.query) {
        const record::Field* field = kind.field(name);
        const bool can = field != nullptr && (field->type == record::FieldType::reference ||
                                              field->type == record::FieldType::text);
        if (can) {
            query.equal[name] = value;
        } else if (name != "site" && name != "limit" && name != "after" && name != "retired" &&
                   name != "from" && name != "before") {
            return unusable({{"request", "?" + name, "a question this list does not know",
                              "site, retired, limit, after, from, before, and the kind's words and links"}});
        }
    }
    query.from = asked.request.asked("from");
    query.before = asked.request.asked("before");
    query.retired = asked.request.asked("retired") == "1";
    query.after = asked.request.asked("after");
    query.limit = *limit;
    const auto page = asked.service.store->list(query);
    if (!page) return refusal(page.error());
    json things = json::array();
    for (const record::Thing& thing : page->things) {
        if (kind.has_site || may_see(asked, thing)) things.push_back(to_json(thing));
    }
    return json_answer({{"things", std::move(things)}, {"next", page->next}});
}

// A new site's maker manages it.
Response make_site(const Asked& asked, record::Write write) {
    if (write.id.empty())
        write.id =
            record::new_id(asked.service.store->options().clock(), asked.service.store->options().chance);
    if (asked.visitor.person == record::local_person) {
        const auto made = asked.service.store->write(asked.visitor.actor(), write);
        return made ? thing_answer(*made, true) : refusal(made.error());
    }
    record::Write role{.deed = Deed::create, .kind = "membership", .site = write.id};
    role.fields = {{"person", asked.visitor.person}, {"role", "manager"}};
    const auto made = asked.service.store->write_all(asked.visitor.actor(), {write, role});
    return made ? thing_answer(made->front(), true) : refusal(made.error());
}

// Takes a text out of the body; what is no text stays for the check of unknown fields to refuse.
std::string taken(json& body, const char* name) {
    const auto found = body.find(name);
    if (found == body.end() || !found->is_string()) return {};
    std::string text = found->get<std::string>();
    body.erase(found);
    return text;
}

Response make(const Asked& asked, const Kind& kind) {
    auto body = body_of(asked.request);
    if (!body) return body.error();
    record::Write write{.deed = Deed::create, .kind = std::string(kind.name)};
    write.id = taken(*body, "id");
    if (kind.has_site && kind.name != "site") write.site = taken(*body, "site");
    write.fields = *std::move(body);
    write.key = key_of(asked.request);
    write.why = why_of(asked.request);
    if (auto no = may_not_make(asked, kind.name, write.site)) return *std::move(no);
    if (kind.name == "site") return make_site(asked, std::move(write));
    const auto made = asked.service.store->write(asked.visitor.actor(), write);
    return made ? thing_answer(*made, true) : refusal(made.error());
}

Response look_at(const Asked& asked, const Kind& kind) {
    const auto thing = seen_thing(asked, kind.name, asked.id);
    return thing ? thing_answer(*thing) : thing.error();
}

Response history(const Asked& asked, const Kind& kind) {
    const auto thing = seen_thing(asked, kind.name, asked.id);
    if (!thing) return thing.error();
    const auto versions = asked.service.store->history(std::string(kind.name), asked.id);
    if (!versions) return refusal(versions.error());
    json list = json::array();
    for (const record::Version& version : *versions) list.push_back(to_json(version));
    return json_answer({{"versions", std::move(list)}});
}

Response alter(const Asked& asked, const Kind& kind, Deed deed) {
    const auto thing = seen_thing(asked, kind.name, asked.id);
    if (!thing) return thing.error();
    if (auto no = may_not_alter(asked, *thing)) return *std::move(no);
    const auto seen = seen_of(asked.request);
    if (!seen) return needs_seen();
    record::Write write{.deed = deed, .kind = std::string(kind.name), .id = asked.id, .seen = seen};
    write.key = key_of(asked.request);
    write.why = why_of(asked.request);
    if (deed == Deed::change) {
        auto body = body_of(asked.request);
        if (!body) return body.error();
        write.fields = *std::move(body);
    }
    if (deed == Deed::restore) {
        const auto body = body_of(asked.request, {"revision"});
        if (!body) return body.error();
        const json revision = body->value("revision", json());
        if (!revision.is_number_integer() || revision < 1 || revision > 1'000'000'000) {
            return unusable({{"request", "/revision", revision.dump(), "an earlier revision"}});
        }
        write.revision = revision.get<std::int64_t>();
    }
    const auto altered = asked.service.store->write(asked.visitor.actor(), write);
    return altered ? thing_answer(*altered) : refusal(altered.error());
}

// ---- many at once

struct Item {
    record::Write write;
    std::optional<Response> no;  // refused before it came to the record
};

Problems faults_of(const json& item) {
    const std::vector<std::string> known = {"deed",   "kind",     "id",  "site", "seen",
                                            "fields", "revision", "key", "why"};
    if (!item.is_object()) return {{"request", "/writes", item.type_name(), "an object"}};
    Problems problems;
    for (const auto& [name, value] : item.items()) {
        const bool text = name != "seen" && name != "fields" && name != "revision";
        if (std::find(known.begin(), known.end(), name) == known.end()) {
            problems.push_back(
                {"request", "/" + name, "unknown field", fmt::format("{}", fmt::join(known, ", "))});
        } else if (text && !value.is_string()) {
            problems.push_back({"request", "/" + name, value.type_name(), "a text"});
        } else if ((name == "seen" || name == "revision") && !value.is_number_integer()) {
            problems.push_back({"request", "/" + name, value.type_name(), "a whole number"});
        } else if (name == "fields" && !value.is_object()) {
            problems.push_back({"request", "/fields", value.type_name(), "an object"});
        }
    }
    return problems;
}

std::optional<Deed> deed_of(const std::string& word) {
    for (const Deed deed : {Deed::create, Deed::change, Deed::retire, Deed::reinstate, Deed::restore}) {
        if (word == record::name(deed)) return deed;
    }
    return std::nullopt;
}

Item item_of(const Asked& asked, const json& item) {
    if (Problems problems = faults_of(item); !problems.empty()) return {{}, unusable(problems)};
    const auto deed = deed_of(item.value("deed", ""));
    if (!deed) {
        return {{},
                unusable({{"request", "/deed", "\"" + item.value("deed", "") + "\"",
                           "create, change, retire, reinstate, restore"}})};
    }
    record::Write write{.deed = *deed,
                        .kind = item.value("kind", ""),
                        .id = item.value("id", ""),
                        .site = item.value("site", "")};
    if (const Kind* kind = record::kind_named(write.kind)) write.kind = kind->name;
    if (item.contains("seen")) write.seen = item["seen"].get<std::int64_t>();
    write.fields = item.value("fields", json::object());
    write.revision = item.value("revision", std::int64_t{0});
    write.key = item.value("key", "");
    write.why = item.value("why", "");
    if (record::kind_named(write.kind) == nullptr)
        return {write, std::nullopt};  // the record says what is wrong
    if (write.kind == "site" || write.kind == "person") {
        return {write, forbidden("Sites and people are not written in bulk")};
    }
    if (*deed == Deed::create) return {write, may_not_make(asked, write.kind, write.site)};
    const auto thing = seen_thing(asked, write.kind, write.id);
    if (!thing) return {write, thing.error()};
    return {write, may_not_alter(asked, *thing)};
}

json answer_of(const Response& refused) {
    return {{"status", refused.status}, {"problem", json::parse(refused.body)}};
}

Response write_many(const Asked& asked) {
    const auto body = body_of(asked.request, {"writes"});
    if (!body) return body.error();
    const json writes = body->value("writes", json());
    if (!writes.is_array() || writes.size() > most_writes) {
        return unusable({{"request", "/writes",
                          writes.is_array() ? fmt::format("{} writes", writes.size()) : writes.type_name(),
                          fmt::format("a list of at most {} writes", most_writes)}});
    }
    std::vector<Item> items;
    std::vector<record::Write> good;
    for (const json& item : writes) {
        items.push_back(item_of(asked, item));
        if (!items.back().no) good.push_back(items.back().write);
    }
    const auto written = asked.service.store->write_each(asked.visitor.actor(), good);
    json answers = json::array();
    std::size_t next = 0;
    for (const Item& item : items) {
        if (item.no) {
            answers.push_back(answer_of(*item.no));
            continue;
        }
        const auto& answer = written[next++];
        if (answer) {
            answers.push_back(
                {{"status", item.write.deed == Deed::create ? 201 : 200}, {"thing", to_json(*answer)}});
        } else {
            answers.push_back(answer_of(refusal(answer.error())));
        }
    }
    return json_answer({{"answers", std::move(answers)}});
}

}  // namespace

std::vector<Route> thing_routes() {
    std::vector<Route> routes = {{"POST", "/api/writes", Access::keeper, write_many}};
    for (const Kind& kind : record::kinds()) {
        const std::string all = "/api/" + std::string(kind.plural);
        const std::string one = all + "/{id}";
        const bool managers = kind.name == "site" || kind.name == "person" || kind.name == "membership";
        const Access writers = managers ? Access::manager : Access::keeper;
        const auto with = [&kind](auto handle) {
            return [&kind, handle](const Asked& a) { return handle(a, kind); };
        };
        const auto altering = [&kind](Deed deed) {
            return [&kind, deed](const Asked& a) { return alter(a, kind, deed); };
        };
        routes.push_back({"GET", all, Access::viewer, with(list)});
        routes.push_back({"POST", all, writers, with(make)});
        routes.push_back({"GET", one, Access::viewer, with(look_at)});
        routes.push_back({"PUT", one, writers, altering(Deed::change)});
        routes.push_back({"GET", one + "/history", Access::viewer, with(history)});
        routes.push_back({"POST", one + "/retire", writers, altering(Deed::retire)});
        routes.push_back({"POST", one + "/reinstate", writers, altering(Deed::reinstate)});
        routes.push_back({"POST", one + "/restore", writers, altering(Deed::restore)});
    }
    return routes;
}

}  // namespace dapple::server
