// Who may do what: every address is asked by a stranger, by who only looks, by a manager of another site.
#include <gtest/gtest.h>

#include <algorithm>

#include "record/kind.h"
#include "server/a_server.h"

namespace dapple::tests {
namespace {

using nlohmann::json;
using record::Role;
using server::Access;
using server::Response;
using server::Route;

std::string filled(const Route& route, const std::string& id = "nobody") {
    std::string path = route.pattern;
    if (const auto hole = path.find("{id}"); hole != std::string::npos) path.replace(hole, 4, id);
    return path;
}

class Accounts : public testing::Test {
  protected:
    Response ask(const Route& route, const std::string& path, const Asker& who) {
        return server.ask({route.method,
                           path,
                           {},
                           route.method == "GET" ? "" : "application/json",
                           route.method == "GET" ? "" : "{}"},
                          who);
    }
    AServer server{{.accounts = true, .public_url = {}}};
};

TEST_F(Accounts, every_address_refuses_a_stranger_but_those_meant_for_everybody) {
    server.somebody("first", Role::manager);
    int open = 0;
    for (const Route& route : server.api().routes()) {
        const Response answer = ask(route, filled(route), {});
        if (route.pattern == "/api/calendar") {  // lets programs sign in with each request
            EXPECT_EQ(answer.status, 401);
            EXPECT_NE(header(answer, "WWW-Authenticate").find("Basic"), std::string::npos);
        } else if (route.access == Access::everybody) {
            ++open;
            EXPECT_NE(answer.status, 401) << route.method << " " << route.pattern;
        } else {
            EXPECT_EQ(answer.status, 401) << route.method << " " << route.pattern;
        }
    }
    EXPECT_EQ(open, 7) << "an address was opened to everybody: is that meant?";
}

TEST_F(Accounts, every_address_that_writes_refuses_a_viewer) {
    const Asker viewer = server.somebody("looks", Role::viewer);
    for (const Route& route : server.api().routes()) {
        if (route.access != Access::keeper && route.access != Access::manager) continue;
        const Response answer = ask(route, filled(route), viewer);
        EXPECT_EQ(answer.status, 403) << route.method << " " << route.pattern << " " << answer.body;
    }
}

TEST_F(Accounts, nobody_sees_or_touches_another_sites_things) {
    server.make_site("home");
    std::map<std::string, std::string> there = {{"sites", "home"}};
    const auto keep = [&](const std::string& kind, json fields, const std::string& id = {}) {
        record::Write write{.deed = record::Deed::create, .kind = kind, .id = id, .site = "home"};
        write.fields = std::move(fields);
        const auto made = server.store().write({}, write);
        ASSERT_TRUE(made) << to_text(made.error().problems);
        there[std::string(record::kind_named(kind)->plural)] = made->id;
    };
    keep("room", {{"name", "Back room"}});
    keep("file", {{"name", "a.csv"}, {"text", "nm"}});
    keep("enclosure", {{"document", box_with_a_lamp()}});
    keep("animal", {{"species", "pogona_vitticeps"}, {"enclosure", "box"}});
    keep("lamp", {{"name", "Tube"}});
    keep("meter", {{"name", "Meter"}, {"measures", "uvi"}});
    keep("calibration", {{"meter", there["meters"]}, {"calibrated_on", "2026-01-01"}, {"factor", 1}});
    keep("survey", {{"enclosure", "box"}, {"begun_at", "2026-01-01T10:00:00Z"}});
    keep("reading", {{"enclosure", "box"},
                     {"spot", "floor"},
                     {"quantity", "uvi"},
                     {"value", 2},
                     {"taken_at", "2026-01-01T10:00:00Z"}});
    keep("task", {{"title", "Do"}});
    keep("note",
         {{"about_kind", "lamp"}, {"about", there["lamps"]}, {"written_on", "2026-01-01"}, {"text", "x"}});
    const Asker other = server.somebody("elsewhere", Role::manager, "away");
    for (const Route& route : server.api().routes()) {
        if (route.access == Access::everybody || route.pattern.find("{id}") == std::string::npos) continue;
        const std::string kind = route.pattern.substr(5, route.pattern.find('/', 5) - 5);
        const auto thing = there.find(kind);
        if (thing == there.end()) continue;
        const Response answer = ask(route, filled(route, thing->second), other);
        EXPECT_EQ(answer.status, 404) << route.method << " " << route.pattern << " " << answer.body;
    }
    for (const auto& [plural, id] : there) {
        if (plural == "sites") continue;
        EXPECT_TRUE(body(server.get("/api/" + plural, other))["things"].empty()) << plural;
        expect_refusal(server.get("/api/" + plural, other, {{"site", "home"}}), 404);
    }
    for (const char* path : {"/api/collection", "/api/due", "/api/lamp-lives", "/api/trail", "/api/export",
                             "/api/report", "/api/labels", "/api/calendar"}) {
        expect_refusal(server.get(path, other, {{"site", "home"}}), 404);
    }
    EXPECT_TRUE(body(server.get("/api/collection", other))["cards"].empty());
    const json trail = body(server.get("/api/trail", other));
    for (const json& line : trail["changes"]) EXPECT_NE(line["site"], "home");
    expect_refusal(server.post("/api/lamps", {{"site", "home"}, {"name", "Spy"}}, other), 422);
    expect_refusal(server.get("/api/invitations", other, {{"site", "home"}}), 404);
    expect_refusal(server.post("/api/invitations", {{"site", "home"}, {"role", "manager"}}, other), 404);
    expect_refusal(
        server.ask({"POST", "/api/import/readings", {{"site", "home"}}, "text/csv", "uvi\n1\n"}, other), 404);
    const json bulk = body(server.post(
        "/api/writes",
        {{"writes",
          {{{"deed", "retire"}, {"kind", "lamp"}, {"id", there["lamps"]}, {"seen", 1}},
           {{"deed", "create"}, {"kind", "lamp"}, {"site", "home"}, {"fields", {{"name", "Spy"}}}}}}},
        other));
    EXPECT_EQ(bulk["answers"][0]["status"], 404);
    EXPECT_EQ(bulk["answers"][1]["status"], 422);
}

TEST_F(Accounts, a_keeper_corrects_their_own_readings_and_a_manager_everybodys) {
    const Asker keeper = server.somebody("keeps", Role::keeper);
    const Asker second = server.somebody("keeps-too", Role::keeper);
    const Asker manager = server.somebody("manages", Role::manager);
    ASSERT_EQ(
        server.post("/api/enclosures", {{"site", "home"}, {"document", box_with_a_lamp()}}, keeper).status,
        201);
    json fields = {{"enclosure", "box"},
                   {"spot", "floor"},
                   {"quantity", "uvi"},
                   {"value", 2},
                   {"taken_at", "2026-01-01T10:00:00Z"}};
    json made = fields;
    made["site"] = "home";
    const std::string at =
        "/api/readings/" + body(server.post("/api/readings", made, keeper))["id"].get<std::string>();
    fields["value"] = 3;
    expect_refusal(server.put(at, fields, 1, second), 403);
    EXPECT_EQ(server.put(at, fields, 1, keeper).status, 200);
    EXPECT_EQ(server.put(at, fields, 2, manager).status, 200);
    expect_refusal(server.post("/api/sites", {{"name", "Mine"}}, keeper), 403);
    const Response site = server.post("/api/sites", {{"name", "Second house"}}, manager);
    ASSERT_EQ(site.status, 201) << site.body;
    EXPECT_EQ(body(server.get("/api/me", manager))["sites"].size(), 2U);
}

TEST_F(Accounts, a_write_without_the_sessions_word_is_refused) {
    Asker keeper = server.somebody("keeps", Role::keeper);
    keeper.csrf.clear();
    expect_refusal(server.post("/api/lamps", {{"site", "home"}, {"name", "Tube"}}, keeper), 403);
    keeper.csrf = "another word";
    expect_refusal(server.post("/api/lamps", {{"site", "home"}, {"name", "Tube"}}, keeper), 403);
}

TEST_F(Accounts, nobody_becomes_manager_by_way_of_a_person) {
    const Asker manager = server.somebody("manages", Role::manager, "home");
    server.somebody("both", Role::manager, "away");
    std::string both;
    const auto people = server.store().list({.kind = "person"});
    for (const record::Thing& person : people->things) {
        if (person.fields.value("login", "") == "both") both = person.id;
    }
    record::Write membership{.deed = record::Deed::create, .kind = "membership", .site = "home"};
    membership.fields = {{"person", both}, {"role", "viewer"}};
    ASSERT_TRUE(server.store().write({}, membership));
    // Who also manages elsewhere is not this manager's to rename.
    expect_refusal(server.put("/api/people/" + both, {{"name", "x"}, {"login", "x"}}, 1, manager), 403);
}

}  // namespace
}  // namespace dapple::tests
