// What the interface is asked and what it answers, without sockets, so that every route can be tested alone.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace dapple::server {

struct Request {
    std::string method = "GET";
    std::string path = "/";
    std::map<std::string, std::string> query = {};  // decoded
    std::string content_type = {};
    std::string body = {};
};

struct Response {
    int status = 200;
    std::string content_type = {};
    std::string body = {};
    std::vector<std::pair<std::string, std::string>> headers = {};
};

}  // namespace dapple::server
