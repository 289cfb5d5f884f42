// Signing in and out, invitations, one's own settings.
#include <gtest/gtest.h>

#include "server/a_server.h"
#include "server/tries.h"

namespace dapple::tests {
namespace {

using nlohmann::json;
using record::Role;
using server::Response;

class People : public testing::Test {
  protected:
    AServer server{{.accounts = true, .public_url = "https://herps.example"}};
};

TEST_F(People, sign_in_and_out) {
    server.somebody("keeper", Role::keeper);
    EXPECT_TRUE(body(server.get("/api/me"))["person"].is_null());
    const Response signed_in =
        server.post("/api/session", {{"login", "keeper"}, {"password", good_password}});
    ASSERT_EQ(signed_in.status, 200) << signed_in.body;
    const std::string cookie = header(signed_in, "Set-Cookie");
    for (const char* rule : {"HttpOnly", "SameSite=Strict", "Path=/"}) {
        EXPECT_NE(cookie.find(rule), std::string::npos) << cookie;
    }
    const Asker who{cookie.substr(0, cookie.find(';')), body(signed_in)["csrf"]};
    EXPECT_EQ(body(server.get("/api/me", who))["person"]["login"], "keeper");
    EXPECT_EQ(server.ask({"DELETE", "/api/session"}, who).status, 204);
    expect_refusal(server.get("/api/collection", who), 401);
}

TEST_F(People, behind_tls_the_cookie_is_bound_to_the_host) {
    server.somebody("keeper", Role::keeper);
    server::Request request{"POST",
                            "/api/session",
                            {},
                            "application/json",
                            json{{"login", "keeper"}, {"password", good_password}}.dump()};
    request.secure = true;
    const std::string cookie = header(server.ask(request), "Set-Cookie");
    EXPECT_TRUE(cookie.starts_with("__Host-")) << cookie;
    EXPECT_NE(cookie.find("Secure"), std::string::npos);
}

TEST_F(People, who_guesses_has_to_wait) {
    server.somebody("keeper", Role::keeper);
    int refused = 0;
    Response last;
    for (int i = 0; i < 12 && last.status != 429; ++i, ++refused) {
        last = server.post("/api/session", {{"login", "keeper"}, {"password", "wrong " + std::to_string(i)}});
    }
    EXPECT_EQ(last.status, 429) << "after " << refused;
    EXPECT_FALSE(header(last, "Retry-After").empty());
    // The right password waits too: else the guesser would learn that it is right.
    EXPECT_EQ(server.post("/api/session", {{"login", "keeper"}, {"password", good_password}}).status, 429);
}

TEST(Tries, fade_with_time) {
    server::Tries tries;
    const server::Tries::Time begin{};
    for (int i = 0; i < 20; ++i) tries.failed("x", begin);
    EXPECT_GT(tries.wait("x", begin).count(), 600);
    EXPECT_EQ(tries.wait("x", begin + std::chrono::hours(1)).count(), 0);
    EXPECT_EQ(tries.wait("y", begin).count(), 0);
}

TEST_F(People, are_invited_by_a_link_once) {
    const Asker manager = server.somebody("manager", Role::manager);
    const Response made = server.post("/api/invitations", {{"site", "home"}, {"role", "keeper"}}, manager);
    ASSERT_EQ(made.status, 201) << made.body;
    const std::string token = body(made)["token"];
    EXPECT_EQ(body(made)["url"], "https://herps.example/invited#" + token);
    EXPECT_NE(body(made)["qr_svg"].get<std::string>().find("<svg"), std::string::npos);
    EXPECT_EQ(body(server.get("/api/invited", {}, {{"token", token}}))["role"], "keeper");
    const json account = {{"token", token}, {"name", "New"}, {"login", "new"}, {"password", good_password}};
    json weak = account;
    weak["password"] = "short";
    expect_refusal(server.post("/api/invited", weak), 422);
    const Response accepted = server.post("/api/invited", account);
    ASSERT_EQ(accepted.status, 200) << accepted.body;
    EXPECT_EQ(body(accepted)["sites"][0]["role"], "keeper");
    EXPECT_NE(server.post("/api/invited", account).status, 200);
    expect_refusal(server.get("/api/invited", {}, {{"token", token}}), 404);

    const json second =
        body(server.post("/api/invitations", {{"site", "home"}, {"role", "viewer"}}, manager));
    const std::string id = second["invitation"]["id"];
    EXPECT_EQ(
        server.ask({"POST", "/api/invitations/" + id + "/withdraw", {{"site", "home"}}}, manager).status,
        204);
    expect_refusal(server.get("/api/invited", {}, {{"token", second["token"]}}), 404);
    EXPECT_EQ(body(server.get("/api/invitations", manager, {{"site", "home"}}))["invitations"].size(), 2U);
}

TEST_F(People, keep_their_own_settings_and_change_their_own_password) {
    const Asker viewer = server.somebody("looks", Role::viewer);
    const Response kept =
        server.ask({"PUT", "/api/me/settings", {}, "application/json", R"({"length": "in"})"}, viewer);
    ASSERT_EQ(kept.status, 200) << kept.body;
    EXPECT_EQ(body(server.get("/api/me", viewer))["person"]["settings"]["length"], "in");
    const auto change = [&](const std::string& before, const std::string& after) {
        return server.ask(
            {"PUT", "/api/me/password", {}, "application/json", json{{"old", before}, {"new", after}}.dump()},
            viewer);
    };
    expect_refusal(change("not mine at all", "another long password"), 403);
    expect_refusal(change(good_password, "short"), 422);
    EXPECT_EQ(change(good_password, "another long password").status, 204);
    EXPECT_FALSE(server.signed_in("looks", "another long password").cookie.empty());
}

TEST(OnThisMachineAlone, nobody_signs_in) {
    AServer server;
    const json me = body(server.get("/api/me"));
    EXPECT_EQ(me["accounts"], false);
    EXPECT_EQ(me["person"]["id"], "local");
    expect_refusal(server.post("/api/session", {{"login", "x"}, {"password", "y"}}), 409);
}

}  // namespace
}  // namespace dapple::tests
