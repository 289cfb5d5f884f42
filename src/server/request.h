// What the interface is asked and what it answers, without sockets, so that every route can be tested alone.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace dapple::server {

struct Request {
    std::string method = "GET";
    std::string path = "/";
    std::map<std::string, std::string> query = {};  // decoded
    std::string content_type = {};
    std::string body = {};
    std::map<std::string, std::string> headers = {};  // by name in lower case
    std::string address = "127.0.0.1";                // who asks, as far as the network can tell
    bool secure = false;                              // came through TLS

    std::string header(const std::string& name) const {
        const auto found = headers.find(name);
        return found == headers.end() ? std::string() : found->second;
    }
    std::string asked(const std::string& name) const {  // of the query; empty: not there
        const auto found = query.find(name);
        return found == query.end() ? std::string() : found->second;
    }
};

// Writes a piece of an answer that has no end; false: nobody listens any more.
using Sink = std::function<bool(std::string_view)>;

struct Response {
    int status = 200;
    std::string content_type = {};
    std::string body = {};
    std::vector<std::pair<std::string, std::string>> headers = {};
    std::function<bool(const Sink&)> feed = {};  // in place of a body: called until it answers false
};

}  // namespace dapple::server
