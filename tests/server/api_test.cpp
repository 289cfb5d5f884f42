// Calculations over HTTP, without sockets, and every way to ask for them wrongly.
#include "server/api.h"

#include <gtest/gtest.h>

#include <atomic>
#include <bit>
#include <cstdint>
#include <cstring>
#include <nlohmann/json.hpp>
#include <thread>

#include "server/a_server.h"

namespace dapple::server {
namespace {

using nlohmann::json;

using tests::box_with_a_lamp;
using tests::expect_refusal;

class TheInterface : public testing::Test {
  protected:
    Response get(const std::string& path, std::map<std::string, std::string> query = {}) {
        return server_.get(path, {}, std::move(query));
    }
    Response post(const std::string& path, const json& body) { return post_text(path, body.dump()); }
    Response post_text(const std::string& path, const std::string& body,
                       const std::string& type = "application/json") {
        return server_.ask({"POST", path, {}, type, body});
    }

    tests::AServer server_;
};

TEST_F(TheInterface, reads_the_same_uvi_at_a_point_and_in_a_field_through_it) {
    const json at = json::parse(
        post("/api/at", {{"enclosure", box_with_a_lamp()}, {"points_cm", {{20, 20, 10}}}, {"bounces", 0}})
            .body);
    const json grid = {{"min_cm", {10, 20, 10}}, {"max_cm", {30, 20, 10}}, {"counts", {3, 1, 1}}};
    const Response field =
        post("/api/field", {{"enclosure", box_with_a_lamp()}, {"grid", grid}, {"bounces", 0}});
    ASSERT_EQ(field.status, 200) << field.body;
    const auto byte = [&](std::size_t i) {
        return static_cast<std::uint32_t>(static_cast<unsigned char>(field.body[i]));
    };
    const auto word = [&](std::size_t i) {
        return byte(i) | byte(i + 1) << 8U | byte(i + 2) << 16U | byte(i + 3) << 24U;
    };
    const std::size_t length = word(0);
    EXPECT_EQ(length % 4, 0U);
    ASSERT_EQ(field.body.size(), 4 + length + std::size_t{3} * 4);
    EXPECT_EQ(json::parse(field.body.substr(4, length))["quantity"], "uvi");
    const double middle = static_cast<double>(std::bit_cast<float>(word(4 + length + 4)));
    // The fast path of grids is allowed a few tenths of a percent (light/field.h).
    EXPECT_NEAR(middle, at["points"][0]["uvi"].get<double>(), 0.01 * middle);
}

TEST_F(TheInterface, judges_and_searches_a_document_as_the_command_line_does) {
    const json check = json::parse(post("/api/check", {{"enclosure", box_with_a_lamp()}}).body);
    EXPECT_EQ(check["enclosure"], "box");
    EXPECT_EQ(check["spots"][0]["id"], "floor");
    EXPECT_TRUE(check["animals"][0]["verdict"]["overall"].contains("holds"));
    EXPECT_TRUE(json::parse(post("/api/fix", {{"enclosure", box_with_a_lamp()}}).body)["fixes"].is_array());
}

TEST_F(TheInterface, finds_species_and_names_materials_spectra_and_its_own_description) {
    const json found = json::parse(get("/api/species", {{"words", "bearded dragon"}}).body)["species"];
    ASSERT_FALSE(found.empty());
    const std::string id = found[0]["id"];
    EXPECT_EQ(json::parse(get("/api/species/" + id).body)["id"], id);
    expect_refusal(get("/api/species/nobody_knows_this"), 404);
    const json materials = json::parse(get("/api/materials").body);
    for (const json& m : materials["materials"]) {
        EXPECT_EQ(m["colour"].get<std::string>().size(), 7U) << m["id"];
    }
    const json spectra = json::parse(get("/api/spectra").body);
    for (const json& s : spectra["spectra"]) {
        EXPECT_EQ(s["nm"].size(), s["relative"].size()) << s["id"];
    }
    EXPECT_EQ(json::parse(get("/api/openapi.json").body)["openapi"], "3.1.0");
    EXPECT_TRUE(json::parse(get("/api/schema/enclosure").body).contains("$schema"));
}

TEST_F(TheInterface, rests_on_readings_that_come_along_or_are_in_the_record) {
    const json enclosure = box_with_a_lamp();
    const double unread = json::parse(post("/api/check", {{"enclosure", enclosure}}).body)["spots"][0]["uvi"];
    const json rows = {{{"spot", "floor"}, {"value", 0.5 * unread}},
                       {{"spot", "floor"}, {"value", 0.52 * unread}}};
    const json read = json::parse(post("/api/check", {{"enclosure", enclosure}, {"readings", rows}}).body);
    EXPECT_LT(read["spots"][0]["uvi"].get<double>(), 0.8 * unread);
    EXPECT_TRUE(read["spots"][0]["interval"].is_array());
    const json fit = json::parse(post("/api/fit", {{"enclosure", enclosure}, {"readings", rows}}).body);
    EXPECT_EQ(fit["factors"][0]["of"], "uv");
    EXPECT_FALSE(json::parse(post("/api/next", {{"enclosure", enclosure}}).body)["next"].empty());

    server_.make_site("home");
    server_.made("enclosures", {{"document", enclosure}});
    for (const double share : {0.5, 0.52}) {
        server_.made("readings", {{"enclosure", "box"},
                                  {"spot", "floor"},
                                  {"quantity", "uvi"},
                                  {"value", share * unread},
                                  {"taken_at", "2026-03-01T10:00:00Z"}});
    }
    const json recorded =
        json::parse(post("/api/check", {{"enclosure", enclosure}, {"readings", "recorded"}}).body);
    EXPECT_NEAR(recorded["spots"][0]["uvi"].get<double>(), read["spots"][0]["uvi"].get<double>(), 1e-6);
    EXPECT_EQ(recorded["notes"][0], "By the readings of 2026-03-01.");
    expect_refusal(post("/api/check", {{"enclosure", enclosure}, {"readings", "some"}}), 422);
    expect_refusal(
        post("/api/fit", {{"enclosure", enclosure}, {"readings", {{{"spot", "attic"}, {"value", 1}}}}}), 422);
}

TEST_F(TheInterface, plans_warms_and_follows_the_sun_as_the_command_line_does) {
    const json warmth =
        json::parse(post("/api/warmth", {{"enclosure", box_with_a_lamp()}, {"room_c", 20}}).body);
    EXPECT_EQ(warmth["spots"][0]["id"], "floor");
    expect_refusal(post("/api/warmth", {{"enclosure", box_with_a_lamp()}, {"room_c", 200}}), 422);
    const json plan =
        json::parse(post("/api/plan", {{"species", "pogona_vitticeps"}, {"size_cm", {120, 60, 60}}}).body);
    EXPECT_FALSE(plan["plans"].empty() && plan["nearest"].empty());
    expect_refusal(post("/api/plan", {{"species", "pogona_vitticeps"}, {"size_cm", {1, 60, 60}}}), 422);
    expect_refusal(post("/api/plan", {{"size_cm", {120, 60, 60}}}), 422);
    const json sun = json::parse(post("/api/sun", {{"lat_deg", 48.2},
                                                   {"lon_deg", 16.4},
                                                   {"date", "2026-06-21"},
                                                   {"time_zone", "Europe/Vienna"},
                                                   {"species", "pogona_vitticeps"}})
                                     .body);
    EXPECT_GT(sun["max"]["uvi"].get<double>(), 5);
    EXPECT_FALSE(sun["windows"].empty());
    expect_refusal(post("/api/sun", {{"lat_deg", 48.2}}), 422);
    expect_refusal(post("/api/sun", {{"lat_deg", 48.2}, {"lon_deg", 16.4}, {"date", "soon"}}), 422);
    expect_refusal(post("/api/sun", {{"lat_deg", 48.2}, {"lon_deg", 16.4}, {"time_zone", "Mars/Base"}}), 422);
}

TEST_F(TheInterface, answers_the_newest_question_of_a_view_and_ends_the_one_before) {
    std::atomic<bool> begun = false;
    std::atomic<bool> go_on = false;
    Calculators calculators(1);
    std::thread first([&] {
        const Response answer = calculators.answer("a tab", Haste::patient, [&](const Superseded& is_over) {
            begun = true;
            while (!go_on) std::this_thread::yield();
            EXPECT_TRUE(is_over());
            return Response{};
        });
        EXPECT_EQ(answer.status, 409);
    });
    while (!begun) std::this_thread::yield();
    std::thread second([&] {
        const Response answer = calculators.answer("a tab", Haste::patient, [](const Superseded& is_over) {
            EXPECT_FALSE(is_over());
            return Response{};
        });
        EXPECT_EQ(answer.status, 200);
    });
    std::thread other([&] {
        const auto quick = [](const Superseded&) { return Response{}; };
        EXPECT_EQ(calculators.answer("another tab", Haste::patient, quick).status, 200);
    });
    // The second has said that it is the newest before it waits for its turn.
    while (!calculators.is_newest_waiting("a tab")) std::this_thread::yield();
    // What follows a hand does not wait behind them.
    const auto prompt = [](const Superseded&) { return Response{}; };
    EXPECT_EQ(calculators.answer("a hand", Haste::prompt, prompt).status, 200);
    go_on = true;
    first.join();
    second.join();
    other.join();
}

TEST_F(TheInterface, names_the_place_and_the_nearest_word_when_a_document_is_wrong) {
    json wrong = box_with_a_lamp();
    wrong["lamps"][0]["spectrun"] = "halogen";
    const Response refused = post("/api/check", {{"enclosure", wrong}});
    expect_refusal(refused, 422);
    EXPECT_NE(refused.body.find("/lamps/0"), std::string::npos) << refused.body;
    EXPECT_NE(refused.body.find("spectrum"), std::string::npos) << refused.body;
}

TEST_F(TheInterface, refuses_what_it_cannot_use_and_says_why) {
    const json enclosure = box_with_a_lamp();
    expect_refusal(post_text("/api/check", "{"), 400);
    expect_refusal(post_text("/api/check", "[]"), 400);
    expect_refusal(post_text("/api/check", ""), 400);
    expect_refusal(post_text("/api/check", std::string(1'000'000, '[')), 400);
    expect_refusal(post_text("/api/check", "{\"enclosure\": \"\xff\xfe\"}"), 400);
    expect_refusal(post("/api/check", {{"enclosur", enclosure}}), 400);
    expect_refusal(post("/api/check", json::object()), 422);
    expect_refusal(post_text("/api/check", json{{"enclosure", enclosure}}.dump(), "text/plain"), 415);
    expect_refusal(get("/api/check"), 405);
    expect_refusal(post("/api/species", json::object()), 405);
    expect_refusal(get("/api/nothing"), 404);
    expect_refusal(get("/api/enclosures/nowhere"), 404);
    expect_refusal(get("/api/enclosures/../../secret"), 404);
}

TEST_F(TheInterface, refuses_grids_points_and_words_out_of_range) {
    const json enclosure = box_with_a_lamp();
    const auto field = [&](const json& counts, const json& min) {
        return post("/api/field", {{"enclosure", enclosure},
                                   {"grid", {{"min_cm", min}, {"max_cm", {1, 1, 1}}, {"counts", counts}}}});
    };
    expect_refusal(field({0, 1, 1}, {1, 1, 1}), 422);
    expect_refusal(field({1000, 1000, 1000}, {1, 1, 1}), 422);
    expect_refusal(field({1.5, 1, 1}, {1, 1, 1}), 422);
    expect_refusal(field({2, 2, 1}, {1e300, 1, 1}), 422);
    expect_refusal(field({2, 2, 1}, "here"), 422);
    expect_refusal(post("/api/field", {{"enclosure", enclosure}}), 422);
    expect_refusal(post("/api/at", {{"enclosure", enclosure}, {"points_cm", json::array()}}), 422);
    expect_refusal(post("/api/at", {{"enclosure", enclosure}, {"points_cm", {{1, 2}}}}), 422);
    expect_refusal(
        post("/api/at", {{"enclosure", enclosure}, {"points_cm", {{1, 2, 3}}}, {"facing", "sideways"}}), 422);
    expect_refusal(post("/api/at", {{"enclosure", enclosure}, {"points_cm", {{1, 2, 3}}}, {"bounces", 1e9}}),
                   422);
}

}  // namespace
}  // namespace dapple::server
