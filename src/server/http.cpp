#include "server/http.h"

#include <fmt/format.h>
#include <httplib.h>

#include <algorithm>
#include <cctype>
#include <memory>
#include <random>

#include "server/answers.h"
#include "server/api.h"
#include "server/hosts.h"
#include "server/page.h"
#include "server/serve.h"

namespace dapple::server {

namespace {

constexpr std::size_t mega = std::size_t{1024} * 1024;
constexpr std::size_t largest_document = 8 * mega;
constexpr std::size_t largest_import = 256 * mega;
// A browser keeps six connections open a page, most of them idle, and one for events.
constexpr std::size_t threads = 384;

std::string random_word() {
    std::random_device random;
    return fmt::format("{:08x}{:08x}{:08x}{:08x}", random(), random(), random(), random());
}

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
    return text;
}

// The last address a chain of proxies names is the one the nearest proxy saw.
std::string last_of(const std::string& list) {
    const auto comma = list.rfind(',');
    const std::string last = comma == std::string::npos ? list : list.substr(comma + 1);
    const auto begin = last.find_first_not_of(' ');
    return begin == std::string::npos ? std::string() : last.substr(begin);
}

Request request_of(const httplib::Request& http, const ServeOptions& options) {
    Request request{http.method, http.path, {}, http.get_header_value("Content-Type"), http.body};
    for (const auto& [name, value] : http.params) request.query.emplace(name, value);
    for (const auto& [name, value] : http.headers) request.headers.emplace(lower(name), value);
    request.address = http.remote_addr;
    request.secure = !options.certificate.empty();
    if (options.behind_proxy) {
        const std::string forwarded = last_of(request.header("x-forwarded-for"));
        if (!forwarded.empty()) request.address = forwarded;
        request.secure = last_of(request.header("x-forwarded-proto")) != "http";
    }
    return request;
}

// The body goes out as it is: on one machine, compressing costs more than it saves, and the library would.
void write(httplib::Response& http, const Response& response) {
    http.status = response.status;
    for (const auto& [name, value] : response.headers) http.set_header(name, value);
    if (response.feed) {
        http.set_chunked_content_provider(
            response.content_type, [feed = response.feed](std::size_t, httplib::DataSink& sink) {
                const auto out = [&sink](std::string_view text) {
                    return sink.is_writable() && sink.write(text.data(), text.size());
                };
                return feed(out);
            });
        return;
    }
    const auto body = std::make_shared<const std::string>(response.body);
    if (body->empty()) return;
    http.set_content_provider(body->size(), response.content_type,
                              [body](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
                                  return sink.write(body->data() + offset, length);
                              });
}

bool comes_from_elsewhere(const Request& request, const ServeOptions& options) {
    const std::string host = request.header("host");
    const std::string origin = request.header("origin");
    if (!options.accounts) return !is_own_host(host) || !is_own_origin(origin);
    if (!options.public_url.empty() && options.public_url.starts_with(origin)) return false;
    return !is_same_host(origin, host);
}

Response answer(const Request& request, Api& api, const ServeOptions& options, const std::string& nonce) {
    if (comes_from_elsewhere(request, options)) {
        return refusal(421,
                       options.accounts
                           ? "A page of another address may not ask here"
                           : "Dapple answers only to this machine, under the name localhost or 127.0.0.1");
    }
    const std::size_t most = request.path.starts_with("/api/import/") ? largest_import : largest_document;
    if (request.body.size() > most) {
        return refusal(413, fmt::format("Larger than {} MB", most / mega));
    }
    if (request.path.starts_with("/api/")) return api.answer(request);
    if (request.method == "GET" || request.method == "HEAD") return page(request.path, nonce);
    return refusal(405, "This address answers GET");
}

}  // namespace

void set_up(httplib::Server& server, Api& api, const ServeOptions& options) {
    server.new_task_queue = [] { return new httplib::ThreadPool(threads); };
    server.set_payload_max_length(largest_import);
    server.set_tcp_nodelay(true);
    server.set_keep_alive_max_count(10'000);
    const auto handle = [&api, options](const httplib::Request& http, httplib::Response& out) {
        const std::string nonce = random_word();
        for (const auto& [name, value] : security_headers(nonce)) out.set_header(name, value);
        if (!options.certificate.empty()) out.set_header("Strict-Transport-Security", "max-age=31536000");
        write(out, answer(request_of(http, options), api, options, nonce));
    };
    server.Get(".*", handle);
    server.Post(".*", handle);
    server.Put(".*", handle);
    server.Delete(".*", handle);
    server.set_error_handler([](const httplib::Request&, httplib::Response& out) {
        if (out.has_header("Content-Security-Policy")) return;  // answered above
        const std::string title = out.status == 413 ? "Too large" : "The request cannot be answered";
        const Response refused = refusal(out.status, title);
        out.set_content(refused.body, refused.content_type);
    });
}

}  // namespace dapple::server
