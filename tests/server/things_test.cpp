// The record over HTTP: made, changed, corrected, brought back; many at once; what two people do at the same time.
#include <gtest/gtest.h>

#include "server/a_server.h"

namespace dapple::tests {
namespace {

using nlohmann::json;
using server::Response;

class TheRecordOverHttp : public testing::Test {
  protected:
    void SetUp() override { server.make_site("home"); }

    Response deed(const std::string& path, std::int64_t seen, const json& given = json::object()) {
        return server.post(path, given, {}, {{"if-match", "\"" + std::to_string(seen) + "\""}});
    }

    AServer server;
};

TEST_F(TheRecordOverHttp, makes_a_thing_and_says_where_it_is) {
    const Response made = server.post("/api/lamps", {{"site", "home"}, {"name", "Tube 7"}, {"power_w", 39}});
    ASSERT_EQ(made.status, 201) << made.body;
    EXPECT_EQ(header(made, "ETag"), "\"1\"");
    const json lamp = body(made);
    const Response there = server.get(header(made, "Location"));
    EXPECT_EQ(body(there), lamp);
    EXPECT_EQ(lamp["made"]["by"], "local");
    EXPECT_EQ(body(server.get("/api/lamps"))["things"][0]["id"], lamp["id"]);
}

TEST_F(TheRecordOverHttp, changes_only_what_was_seen_and_shows_what_stands_there_otherwise) {
    const json lamp = server.made("lamps", {{"name", "Tube 7"}});
    const std::string at = "/api/lamps/" + lamp["id"].get<std::string>();
    expect_refusal(server.ask({"PUT", at, {}, "application/json", R"({"name": "Tube 8"})"}), 428);
    EXPECT_EQ(server.put(at, {{"name", "Tube 8"}}, 1).status, 200);
    const Response late = server.put(at, {{"name", "Tube 9"}}, 1);
    expect_refusal(late, 412);
    EXPECT_EQ(body(late)["theirs"]["name"], "Tube 8");
    EXPECT_EQ(body(late)["theirs"]["revision"], 2);
}

TEST_F(TheRecordOverHttp, does_a_write_once_however_often_it_is_sent) {
    const json lamp = {{"site", "home"}, {"name", "Tube 7"}};
    const Response first = server.post("/api/lamps", lamp, {}, {{"idempotency-key", "k1"}});
    const Response again = server.post("/api/lamps", lamp, {}, {{"idempotency-key", "k1"}});
    EXPECT_EQ(body(first), body(again));
    EXPECT_EQ(body(server.get("/api/lamps"))["things"].size(), 1U);
    json other = lamp;
    other["name"] = "Tube 8";
    expect_refusal(server.post("/api/lamps", other, {}, {{"idempotency-key", "k1"}}), 422);
}

TEST_F(TheRecordOverHttp, keeps_every_version_and_brings_an_earlier_one_back) {
    server.made("enclosures", {{"document", box_with_a_lamp()}});
    json changed = box_with_a_lamp();
    changed["name"] = "Another name";
    ASSERT_EQ(server.put("/api/enclosures/box", {{"document", changed}}, 1).status, 200);
    ASSERT_EQ(deed("/api/enclosures/box/restore", 2, {{"revision", 1}}).status, 200);
    const json versions = body(server.get("/api/enclosures/box/history"))["versions"];
    ASSERT_EQ(versions.size(), 3U);
    EXPECT_EQ(versions[0]["deed"], "restore");
    EXPECT_FALSE(versions[0]["thing"]["document"].contains("name"));
    EXPECT_EQ(versions[1]["thing"]["document"]["name"], "Another name");
    ASSERT_EQ(deed("/api/enclosures/box/retire", 3).status, 200);
    EXPECT_TRUE(body(server.get("/api/enclosures"))["things"].empty());
    EXPECT_EQ(body(server.get("/api/enclosures", {}, {{"retired", "1"}}))["things"].size(), 1U);
    EXPECT_EQ(deed("/api/enclosures/box/reinstate", 4).status, 200);
}

TEST_F(TheRecordOverHttp, refuses_a_document_the_engine_cannot_read_and_names_the_place) {
    json wrong = box_with_a_lamp();
    wrong["spots"][0]["position_cm"] = {3000, 20, 0};
    const Response refused = server.post("/api/enclosures", {{"site", "home"}, {"document", wrong}});
    expect_refusal(refused, 422);
    EXPECT_NE(refused.body.find("/spots/0/position_cm"), std::string::npos) << refused.body;
    expect_refusal(server.post("/api/lamps", {{"site", "home"}, {"name", "x"}, {"watt", 3}}), 422);
    expect_refusal(server.post("/api/lamps", {{"site", "nowhere"}, {"name", "x"}}), 422);
    expect_refusal(server.post("/api/lamps", {{"name", "x"}}), 422);
    expect_refusal(server.get("/api/lamps", {}, {{"colour", "red"}}), 422);
    expect_refusal(server.get("/api/lamps", {}, {{"limit", "many"}}), 422);
    expect_refusal(server.get("/api/lamps/none"), 404);
}

TEST_F(TheRecordOverHttp, takes_what_a_phone_gathered_each_for_itself) {
    server.made("enclosures", {{"document", box_with_a_lamp()}});
    const auto reading = [](const json& value) {
        return json{{"enclosure", "box"},
                    {"spot", "floor"},
                    {"quantity", "uvi"},
                    {"value", value},
                    {"taken_at", "2026-03-01T10:00:00Z"}};
    };
    const auto create = [](const std::string& key, const json& fields, const std::string& kind = "reading") {
        return json{{"deed", "create"}, {"kind", kind}, {"site", "home"}, {"key", key}, {"fields", fields}};
    };
    const json writes = {{"writes",
                          {create("a", reading(2.5)), create("b", reading("much")), create("a", reading(2.5)),
                           create("c", reading(2.6)), create("d", {{"name", "x"}}, "site"), "nonsense"}}};
    const json answers = body(server.post("/api/writes", writes))["answers"];
    ASSERT_EQ(answers.size(), 6U);
    EXPECT_EQ(answers[0]["status"], 201);
    EXPECT_EQ(answers[1]["status"], 422);
    EXPECT_EQ(answers[2]["thing"]["id"], answers[0]["thing"]["id"]);
    EXPECT_EQ(answers[3]["status"], 201);
    EXPECT_EQ(answers[4]["status"], 403);
    EXPECT_EQ(answers[5]["status"], 422);
    const json again = body(server.post("/api/writes", writes))["answers"];
    EXPECT_EQ(again[3]["thing"]["id"], answers[3]["thing"]["id"]);
    EXPECT_EQ(body(server.get("/api/readings", {}, {{"enclosure", "box"}}))["things"].size(), 2U);
    expect_refusal(server.post("/api/writes", {{"writes", 3}}), 422);
}

TEST_F(TheRecordOverHttp, moves_animals_and_lamps_and_keeps_their_hours) {
    server.made("enclosures", {{"document", box_with_a_lamp()}});
    server.made("enclosures", {{"document", box_with_a_lamp("other")}});
    const json animal = server.made("animals", {{"species", "pogona_vitticeps"}, {"enclosure", "box"}});
    const Response moved = deed("/api/animals/" + animal["id"].get<std::string>() + "/move", 1,
                                {{"to", "other"}, {"day", "2026-03-02"}, {"note", "quieter"}});
    ASSERT_EQ(moved.status, 200) << moved.body;
    EXPECT_EQ(body(moved)["thing"]["enclosure"], "other");
    EXPECT_EQ(body(moved)["event"]["from_enclosure"], "box");

    const json old_lamp = server.made("lamps", {{"name", "old"}, {"hours_on", 10}});
    const json new_lamp = server.made("lamps", {{"name", "new"}});
    const std::string at = "/api/lamps/" + old_lamp["id"].get<std::string>();
    ASSERT_EQ(deed(at + "/place", 1, {{"enclosure", "box"}, {"place", "uv"}, {"day", "2026-01-01"}}).status,
              200);
    const Response replaced =
        deed(at + "/replace", 2, {{"new_lamp", new_lamp["id"]}, {"new_seen", 1}, {"day", "2026-03-01"}});
    ASSERT_EQ(replaced.status, 200) << replaced.body;
    EXPECT_NEAR(body(replaced)["old_lamp"]["event"]["hours"].get<double>(), 590, 10.1);
    EXPECT_EQ(body(replaced)["new_lamp"]["thing"]["place"], "uv");
    expect_refusal(deed(at + "/place", 3, {{"enclosure", "box"}, {"day", "soon"}}), 422);
    expect_refusal(deed(at + "/place", 3, {{"enclosure", 7}, {"day", "2026-03-02"}}), 422);
}

TEST_F(TheRecordOverHttp, settles_a_task_and_applies_its_fix) {
    server.made("enclosures", {{"document", box_with_a_lamp()}});
    json better = box_with_a_lamp();
    better["lamps"][0]["centre_cm"] = {30, 20, 30};
    const json task =
        server.made("tasks", {{"title", "Lower the lamp"}, {"enclosure", "box"}, {"fix", better}});
    const Response settled =
        deed("/api/tasks/" + task["id"].get<std::string>() + "/settle", 1, {{"apply", true}});
    ASSERT_EQ(settled.status, 200) << settled.body;
    EXPECT_TRUE(body(settled).contains("done_on"));
    EXPECT_EQ(body(server.get("/api/enclosures/box"))["document"]["lamps"][0]["centre_cm"][2], 30);
}

TEST_F(TheRecordOverHttp, brings_in_a_notebook_after_a_preview_and_gives_all_out_as_a_zip) {
    server.made("enclosures", {{"document", box_with_a_lamp()}});
    const std::string table = "date,enclosure,spot,uvi\n2026-02-01,box,floor,2.4\n2026-02-01,box,floor,2.6\n";
    const auto import = [&](const std::string& text, std::map<std::string, std::string> query) {
        query["site"] = "home";
        return server.ask({"POST", "/api/import/readings", query, "text/csv", text});
    };
    const json preview = body(import(table, {}));
    EXPECT_EQ(preview["would_add"]["reading"], 2);
    EXPECT_TRUE(preview["added"].is_null());
    EXPECT_TRUE(body(server.get("/api/readings"))["things"].empty());
    EXPECT_EQ(body(import(table, {{"apply", "1"}}))["added"], 2);
    EXPECT_EQ(body(import(table, {{"apply", "1"}}))["added"], 0);
    EXPECT_FALSE(body(import("date,enclosure,spot,uvi\n2026-02-01,box,attic,2.4\n", {}))["faults"].empty());
    const Response zip = server.get("/api/export");
    EXPECT_EQ(zip.content_type, "application/zip");
    EXPECT_EQ(zip.body.substr(0, 2), "PK");
    AServer other;
    const Response moved =
        other.ask({"POST", "/api/import/collection", {{"apply", "1"}}, "application/zip", zip.body});
    ASSERT_EQ(moved.status, 200) << moved.body;
    EXPECT_EQ(body(other.get("/api/readings"))["things"].size(), 2U);
}

}  // namespace
}  // namespace dapple::tests
