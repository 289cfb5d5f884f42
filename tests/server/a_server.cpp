#include "server/a_server.h"

#include <cstdlib>

#include "record/people.h"

namespace dapple::tests {

using nlohmann::json;
using server::Request;
using server::Response;

Folder::Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "dapple-test-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = pattern;
}
Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

AServer::AServer(const server::ServiceOptions& options) {
    record::StoreOptions how;
    how.database = folder_.file("record.sqlite");
    auto store = record::Store::open(how);
    if (!store) throw std::runtime_error(to_text(store.error().problems));
    api_ = std::make_unique<server::Api>(std::move(*store), options);
}

Response AServer::ask(Request request, const Asker& who) {
    if (!who.cookie.empty()) request.headers["cookie"] = who.cookie;
    if (!who.csrf.empty()) request.headers["x-dapple-csrf"] = who.csrf;
    request.address = who.address;
    return api_->answer(request);
}

Response AServer::get(const std::string& path, const Asker& who, std::map<std::string, std::string> query) {
    return ask({"GET", path, std::move(query)}, who);
}

Response AServer::post(const std::string& path, const json& body, const Asker& who,
                       std::map<std::string, std::string> headers) {
    return ask({"POST", path, {}, "application/json", body.dump(), std::move(headers)}, who);
}

Response AServer::put(const std::string& path, const json& body, std::int64_t seen, const Asker& who) {
    return ask({"PUT", path, {}, "application/json", body.dump(), {{"if-match", std::to_string(seen)}}}, who);
}

void AServer::make_site(const std::string& id, const std::string& name) {
    record::Write site{.deed = record::Deed::create, .kind = "site", .id = id};
    site.fields = {{"name", name}};
    const auto done = store().write({}, site);
    if (!done) throw std::runtime_error(to_text(done.error().problems));
}

Asker AServer::somebody(const std::string& login, record::Role role, const std::string& site) {
    if (!store().find("site", site)) make_site(site, site);
    record::Write person{.deed = record::Deed::create, .kind = "person"};
    person.fields = {{"name", login}, {"login", login}};
    const auto made = store().write({}, person);
    if (!made) throw std::runtime_error(to_text(made.error().problems));
    record::Write membership{.deed = record::Deed::create, .kind = "membership", .site = site};
    membership.fields = {{"person", made->id}, {"role", name(role)}};
    if (!store().write({}, membership)) throw std::runtime_error("no membership");
    if (!record::set_password(store(), {}, made->id, good_password)) throw std::runtime_error("no password");
    const auto session = record::begin_session(store(), made->id);
    if (!session) throw std::runtime_error("no session");
    return {"dapple_session=" + session->token, session->session.csrf, "127.0.0.1"};
}

Asker AServer::signed_in(const std::string& login, const std::string& password) {
    const Response answer = post("/api/session", {{"login", login}, {"password", password}});
    if (answer.status != 200) return {};
    const std::string cookie = header(answer, "Set-Cookie");
    return {cookie.substr(0, cookie.find(';')), body(answer)["csrf"], "127.0.0.1"};
}

json AServer::made(const std::string& plural, json fields, const std::string& site) {
    fields["site"] = site;
    const Response answer = post("/api/" + plural, fields);
    EXPECT_EQ(answer.status, 201) << answer.body;
    return body(answer);
}

json body(const Response& response) {
    return json::parse(response.body);
}

void expect_refusal(const Response& response, int status) {
    EXPECT_EQ(response.status, status) << response.body;
    EXPECT_TRUE(response.content_type.starts_with("application/problem+json")) << response.content_type;
    const json details = json::parse(response.body);
    EXPECT_EQ(details["status"], status);
    EXPECT_FALSE(details["title"].get<std::string>().empty());
    EXPECT_TRUE(details["problems"].is_array());
}

std::string header(const Response& response, const std::string& name) {
    for (const auto& [key, value] : response.headers) {
        if (key == name) return value;
    }
    return {};
}

json box_with_a_lamp(const std::string& id) {
    return {{"format", "dapple/enclosure@1"},
            {"id", id},
            {"size_cm", {60, 40, 40}},
            {"animals", {{{"species", "pogona_vitticeps"}}}},
            {"lamps",
             {{{"id", "uv"},
               {"kind", "tube"},
               {"length_cm", 40},
               {"diameter_cm", 1.6},
               {"centre_cm", {30, 20, 38}},
               {"spectrum", "fluorescent_uvb_mid"},
               {"output", {{"uvi", 4.0}, {"at_cm", 25}}}}}},
            {"spots", {{{"id", "floor"}, {"position_cm", {30, 20, 0}}, {"role", "bask"}}}}};
}

}  // namespace dapple::tests
