// What others do is seen: verdicts are worked out anew, changes come as events.
#include <gtest/gtest.h>

#include <thread>

#include "server/a_server.h"

namespace dapple::tests {
namespace {

using nlohmann::json;
using server::Response;

// Asks until the answer is as wanted; a verdict is worked out beside the requests.
json card_when(AServer& server, const std::function<bool(const json&)>& wanted) {
    const auto give_up = std::chrono::steady_clock::now() + std::chrono::minutes(2);
    json card;
    while (std::chrono::steady_clock::now() < give_up) {
        const json cards = body(server.get("/api/collection"))["cards"];
        if (!cards.empty()) card = cards[0];
        if (!cards.empty() && wanted(card)) return card;
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    ADD_FAILURE() << "it never came: " << card.dump();
    return card;
}

bool is_judged(const json& card) {
    return !card["judging"].get<bool>();
}

TEST(TheCollection, is_judged_and_judged_again_when_readings_come) {
    AServer server;
    server.make_site("home");
    server.made("enclosures", {{"document", box_with_a_lamp()}});
    const json before = card_when(server, is_judged);
    const double unread = before["judgement"]["spots"][0]["uvi"];
    EXPECT_TRUE(before["judgement"]["spots"][0]["interval"].is_null());
    for (const double share : {0.6, 0.62, 0.61}) {
        server.made("readings", {{"enclosure", "box"},
                                 {"spot", "floor"},
                                 {"quantity", "uvi"},
                                 {"value", share * unread},
                                 {"taken_at", "2026-03-01T10:00:00Z"}});
    }
    const json after = card_when(server, [](const json& card) {
        return is_judged(card) && card["judgement"]["spots"][0]["interval"].is_array();
    });
    EXPECT_LT(after["judgement"]["spots"][0]["uvi"].get<double>(), 0.9 * unread);
    EXPECT_EQ(after["last_survey"], "2026-03-01");
}

TEST(TheCollection, says_why_an_enclosure_cannot_be_judged) {
    AServer server;
    server.make_site("home");
    json document = box_with_a_lamp();
    document["animals"][0]["species"] = "nobody_knows_this";
    server.made("enclosures", {{"document", document}});
    const json card = card_when(server, is_judged);
    EXPECT_TRUE(card["judgement"].is_null());
    EXPECT_NE(card["problems"].dump().find("nobody_knows_this"), std::string::npos);
}

TEST(Events, tell_of_every_change_after_the_one_that_was_seen_last) {
    AServer server;
    server.make_site("home");
    const Response stream = server.get("/api/events", {}, {{"after", "0"}});
    ASSERT_TRUE(stream.feed);
    EXPECT_EQ(stream.content_type, "text/event-stream");
    const json lamp = server.made("lamps", {{"name", "Tube"}});
    std::string text;
    const auto give_up = std::chrono::steady_clock::now() + std::chrono::minutes(1);
    while (text.find(lamp["id"].get<std::string>()) == std::string::npos &&
           std::chrono::steady_clock::now() < give_up) {
        ASSERT_TRUE(stream.feed([&](std::string_view piece) {
            text += piece;
            return true;
        }));
    }
    EXPECT_NE(text.find("event: change\nid: 1\n"), std::string::npos) << text;
    EXPECT_NE(text.find("\"kind\":\"lamp\""), std::string::npos) << text;
    server.api().service().following.end();
    EXPECT_FALSE(stream.feed([](std::string_view) { return true; }));
    expect_refusal(server.get("/api/events", {}, {{"after", "yesterday"}}), 422);
}

TEST(Events, are_of_the_visitors_sites_alone) {
    AServer server({.accounts = true, .public_url = {}});
    const Asker here = server.somebody("here", record::Role::viewer, "home");
    server.make_site("away");
    record::Write lamp{.deed = record::Deed::create, .kind = "lamp", .id = "secret", .site = "away"};
    lamp.fields = {{"name", "Tube"}};
    ASSERT_TRUE(server.store().write({}, lamp));
    lamp.id = "open";
    lamp.site = "home";
    ASSERT_TRUE(server.store().write({}, lamp));
    const Response stream = server.get("/api/events", here, {{"after", "0"}});
    std::string text;
    const auto give_up = std::chrono::steady_clock::now() + std::chrono::minutes(1);
    while (text.find("\"open\"") == std::string::npos && std::chrono::steady_clock::now() < give_up) {
        stream.feed([&](std::string_view piece) {
            text += piece;
            return true;
        });
    }
    EXPECT_EQ(text.find("secret"), std::string::npos) << text;
}

}  // namespace
}  // namespace dapple::tests
