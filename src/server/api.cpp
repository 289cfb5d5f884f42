#include "server/api.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <exception>
#include <string_view>

#include "server/answers.h"

namespace dapple::server {

namespace {

// The part of `path` that stands where the pattern has {id}; false: another address.
bool matches(std::string_view pattern, std::string_view path, std::string& id) {
    const auto hole = pattern.find("{id}");
    if (hole == std::string_view::npos) return pattern == path;
    const std::string_view before = pattern.substr(0, hole);
    const std::string_view after = pattern.substr(hole + 4);
    if (path.size() <= before.size() + after.size()) return false;
    if (!path.starts_with(before) || !path.ends_with(after)) return false;
    const auto middle = path.substr(before.size(), path.size() - before.size() - after.size());
    if (middle.find('/') != std::string_view::npos) return false;
    id = middle;
    return true;
}

bool only_reads(const Request& request) {
    return request.method == "GET" || request.method == "HEAD";
}

std::optional<Response> refused(const Visitor& visitor, const Request& request, Access access) {
    if (access == Access::everybody) return std::nullopt;
    if (visitor.is_stranger()) {
        return refusal(401, "Sign in first");
    }
    if (!only_reads(request) && !visitor.csrf.empty() && request.header("x-dapple-csrf") != visitor.csrf) {
        return forbidden(
            "The request does not carry this session's word (X-Dapple-Csrf); load the page again");
    }
    const auto needs = [&](record::Role least, const char* who) -> std::optional<Response> {
        if (visitor.has_role(least)) return std::nullopt;
        return forbidden(fmt::format("This needs the role of a {}", who));
    };
    switch (access) {
        case Access::viewer:
            return needs(record::Role::viewer, "viewer");
        case Access::keeper:
            return needs(record::Role::keeper, "keeper");
        case Access::manager:
            return needs(record::Role::manager, "manager");
        default:
            return std::nullopt;
    }
}

}  // namespace

Api::Api(std::unique_ptr<record::Store> store, const ServiceOptions& options)
    : service_(std::make_unique<Service>(std::move(store), options)) {
    for (auto* part : {engine_routes, library_routes, collection_routes, deed_routes, people_routes,
                       invitation_routes, moving_routes, paper_routes, thing_routes}) {
        auto more = part();
        std::move(more.begin(), more.end(), std::back_inserter(routes_));
    }
}

const Route* Api::find(const Request& request, std::string& id, std::vector<std::string>& allowed) const {
    const std::string method = request.method == "HEAD" ? "GET" : request.method;
    const Route* loose = nullptr;
    for (const Route& route : routes_) {
        std::string found;
        if (!matches(route.pattern, request.path, found)) continue;
        if (route.method != method) {
            if (std::find(allowed.begin(), allowed.end(), route.method) == allowed.end())
                allowed.push_back(route.method);
            continue;
        }
        if (loose == nullptr) {  // an address said in full comes before one with a hole
            loose = &route;
            id = found;
        }
        if (route.pattern == request.path) {
            id.clear();
            return &route;
        }
    }
    return loose;
}

Response Api::answer_as(const Request& request, const Route& route, const std::string& id) {
    const auto visitor = visitor_of(request, *service_->store, service_->options.accounts);
    if (!visitor) {
        // What is meant for everybody needs no record either.
        if (route.access != Access::everybody) return refusal(visitor.error());
        return route.handle({request, Visitor{}, *service_, id});
    }
    if (auto no = refused(*visitor, request, route.access)) return *std::move(no);
    return route.handle({request, *visitor, *service_, id});
}

Response Api::answer(const Request& request) try {
    std::string id;
    std::vector<std::string> allowed;
    const Route* route = find(request, id, allowed);
    if (route != nullptr) return answer_as(request, *route, id);
    if (allowed.empty()) return refusal(404, "There is nothing at this address");
    const std::string list = fmt::format("{}", fmt::join(allowed, ", "));
    Response no = refusal(405, "This address answers " + list);
    no.headers.emplace_back("Allow", list);
    return no;
} catch (const std::exception& error) {  // a fault of ours; the page is told so, the terminal is told what
    std::fprintf(stderr, "%s %s: %s\n", request.method.c_str(), request.path.c_str(), error.what());
    return refusal(500, "Something went wrong in the program");
}

}  // namespace dapple::server
