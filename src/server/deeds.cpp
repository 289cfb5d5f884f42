// What keepers do that touches several things at once (record/deeds.h).
#include "record/deeds.h"

#include <nlohmann/json.hpp>

#include "server/answers.h"
#include "server/writing.h"

namespace dapple::server {

using nlohmann::json;
using record::Done;

namespace {

json as_json(const Done& done) {
    return {{"thing", to_json(done.thing)}, {"event", to_json(done.event)}};
}

Response answer(const record::Result<Done>& done) {
    return done ? json_answer(as_json(*done)) : refusal(done.error());
}

// A deed that may be done: its body (texts only, `day` a must where it is among the fields) and what it saw.
struct Given {  // NOLINT(bugprone-exception-escape): as Question
    json body;
    record::How how;

    std::string text(const char* name) const {
        const auto found = body.find(name);
        return found != body.end() && found->is_string() ? found->get<std::string>() : std::string();
    }
};

Problems faults_of(const json& body) {
    Problems problems;
    for (const auto& [name, value] : body.items()) {
        if (name == "apply" || name == "new_seen" || value.is_string() || value.is_null()) continue;
        problems.push_back({"request", "/" + name, value.type_name(), "a text"});
    }
    return problems;
}

tl::expected<Given, Response> given(const Asked& asked, std::string_view kind,
                                    const std::vector<std::string>& fields) {
    const auto thing = seen_thing(asked, kind, asked.id);
    if (!thing) return tl::unexpected(thing.error());
    if (auto no = may_not_alter(asked, *thing)) return tl::unexpected(*std::move(no));
    const auto seen = seen_of(asked.request);
    if (!seen) return tl::unexpected(needs_seen());
    auto body = body_of(asked.request, fields);
    if (!body) return tl::unexpected(body.error());
    if (Problems problems = faults_of(*body); !problems.empty()) return tl::unexpected(unusable(problems));
    return Given{*std::move(body), {*seen, key_of(asked.request), why_of(asked.request)}};
}

Response move(const Asked& asked) {
    const auto g = given(asked, "animal", {"to", "day", "note"});
    if (!g) return g.error();
    return answer(record::move_animal(*asked.service.store, asked.visitor.actor(), asked.id, g->text("to"),
                                      g->text("day"), g->text("note"), g->how));
}

Response place(const Asked& asked) {
    const auto g = given(asked, "lamp", {"enclosure", "place", "day", "note"});
    if (!g) return g.error();
    return answer(record::place_lamp(*asked.service.store, asked.visitor.actor(), asked.id,
                                     {g->text("enclosure"), g->text("place")}, g->text("day"),
                                     g->text("note"), g->how));
}

Response remove(const Asked& asked) {
    const auto g = given(asked, "lamp", {"day", "note"});
    if (!g) return g.error();
    return answer(record::remove_lamp(*asked.service.store, asked.visitor.actor(), asked.id, g->text("day"),
                                      g->text("note"), g->how));
}

Response discard(const Asked& asked) {
    const auto g = given(asked, "lamp", {"day", "note"});
    if (!g) return g.error();
    return answer(record::retire_lamp(*asked.service.store, asked.visitor.actor(), asked.id, g->text("day"),
                                      g->text("note"), g->how));
}

Response replace(const Asked& asked) {
    const auto g = given(asked, "lamp", {"new_lamp", "new_seen", "day"});
    if (!g) return g.error();
    const json seen = g->body.value("new_seen", json());
    if (!seen.is_number_integer() || seen < 1) {
        return unusable({{"request", "/new_seen", seen.dump(), "the revision seen of the new lamp"}});
    }
    const auto fresh = seen_thing(asked, "lamp", g->text("new_lamp"));
    if (!fresh) return fresh.error();
    if (auto no = may_not_alter(asked, *fresh)) return *std::move(no);
    const auto done = record::replace_lamp(*asked.service.store, asked.visitor.actor(), asked.id, fresh->id,
                                           g->text("day"), g->how, seen.get<std::int64_t>());
    if (!done) return refusal(done.error());
    return json_answer({{"old_lamp", as_json(done->old_lamp)}, {"new_lamp", as_json(done->new_lamp)}});
}

Response settle(const Asked& asked) {
    const auto g = given(asked, "task", {"apply"});
    if (!g) return g.error();
    const json apply = g->body.value("apply", json(false));
    if (!apply.is_boolean()) return unusable({{"request", "/apply", apply.dump(), "true or false"}});
    const auto task =
        record::settle_task(*asked.service.store, asked.visitor.actor(), asked.id, apply.get<bool>(), g->how);
    return task ? thing_answer(*task) : refusal(task.error());
}

}  // namespace

std::vector<Route> deed_routes() {
    return {{"POST", "/api/animals/{id}/move", Access::keeper, move},
            {"POST", "/api/lamps/{id}/place", Access::keeper, place},
            {"POST", "/api/lamps/{id}/remove", Access::keeper, remove},
            {"POST", "/api/lamps/{id}/discard", Access::keeper, discard},
            {"POST", "/api/lamps/{id}/replace", Access::keeper, replace},
            {"POST", "/api/tasks/{id}/settle", Access::keeper, settle}};
}

}  // namespace dapple::server
