// The interface on a record of its own, without sockets; and people who ask it.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "server/api.h"

namespace dapple::tests {

class Folder {  // temporary, gone at the end
  public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string file(const std::string& name) const { return (path_ / name).string(); }

  private:
    std::filesystem::path path_;
};

// Who asks: with the cookie and the word of their session, or as a stranger.
struct Asker {
    std::string cookie = {};
    std::string csrf = {};
    std::string address = "127.0.0.1";
};

class AServer {
  public:
    explicit AServer(const server::ServiceOptions& options = {});

    server::Api& api() { return *api_; }
    record::Store& store() { return *api_->service().store; }

    server::Response ask(server::Request request, const Asker& who = {});
    server::Response get(const std::string& path, const Asker& who = {},
                         std::map<std::string, std::string> query = {});
    server::Response post(const std::string& path, const nlohmann::json& body, const Asker& who = {},
                          std::map<std::string, std::string> headers = {});
    server::Response put(const std::string& path, const nlohmann::json& body, std::int64_t seen,
                         const Asker& who = {});

    // With accounts: somebody with a role at a site (made if it is not there), signed in.
    Asker somebody(const std::string& login, record::Role role, const std::string& site = "home");
    Asker signed_in(const std::string& login, const std::string& password);

    nlohmann::json made(const std::string& plural, nlohmann::json fields, const std::string& site = "home");
    void make_site(const std::string& id, const std::string& name = "Home");

  private:
    Folder folder_;
    std::unique_ptr<server::Api> api_;
};

inline const std::string good_password = "nine ledges and a lamp";

nlohmann::json body(const server::Response& response);
void expect_refusal(const server::Response& response, int status);
std::string header(const server::Response& response, const std::string& name);

// A tube over an empty box, with a bearded dragon.
nlohmann::json box_with_a_lamp(const std::string& id = "box");

}  // namespace dapple::tests
