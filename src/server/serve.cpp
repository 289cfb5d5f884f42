#include "server/serve.h"

#include <fmt/format.h>
#include <httplib.h>
#include <netinet/in.h>
#include <signal.h>
#include <sys/socket.h>

#include <cstdio>
#include <memory>
#include <random>
#include <thread>

#include "server/answers.h"
#include "server/api.h"
#include "server/hosts.h"
#include "server/page.h"

namespace dapple::server {

namespace {

constexpr std::size_t largest_body = std::size_t{4} * 1024 * 1024;
constexpr int first_port = 8460;
constexpr int threads = 24;  // a browser keeps six connections open a page, most of them idle

std::string random_word() {
    std::random_device random;
    return fmt::format("{:08x}{:08x}{:08x}{:08x}", random(), random(), random(), random());
}

Request request_of(const httplib::Request& http) {
    Request request{http.method, http.path, {}, http.get_header_value("Content-Type"), http.body};
    for (const auto& [name, value] : http.params) request.query.emplace(name, value);
    return request;
}

// The body goes out as it is: on one machine, compressing costs more than it saves, and the library would.
void write(httplib::Response& http, const Response& response) {
    http.status = response.status;
    for (const auto& [name, value] : response.headers) http.set_header(name, value);
    const auto body = std::make_shared<const std::string>(response.body);
    if (body->empty()) return;
    http.set_content_provider(body->size(), response.content_type,
                              [body](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
                                  return sink.write(body->data() + offset, length);
                              });
}

Response answer(const httplib::Request& http, Api& api, const std::string& nonce) {
    if (!is_own_host(http.get_header_value("Host")) || !is_own_origin(http.get_header_value("Origin"))) {
        return refusal(421, "Dapple answers only to this machine, under the name localhost or 127.0.0.1");
    }
    if (http.path.starts_with("/api/")) return api.answer(request_of(http));
    if (http.method == "GET" || http.method == "HEAD") return page(http.path, nonce);
    return refusal(405, "This address answers GET");
}

void set_up(httplib::Server& server, Api& api) {
    server.new_task_queue = [] { return new httplib::ThreadPool(threads); };
    server.set_payload_max_length(largest_body);
    server.set_tcp_nodelay(true);
    // The library would also set SO_REUSEPORT, by which two programs could hold one port without noticing.
    server.set_socket_options([](socket_t socket) {
        const int yes = 1;
        setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    const auto handle = [&api](const httplib::Request& http, httplib::Response& out) {
        const std::string nonce = random_word();
        for (const auto& [name, value] : security_headers(nonce)) out.set_header(name, value);
        write(out, answer(http, api, nonce));
    };
    server.Get(".*", handle);
    server.Post(".*", handle);
    server.Put(".*", handle);
    server.Delete(".*", handle);
    server.set_error_handler([](const httplib::Request&, httplib::Response& out) {
        if (out.has_header("Content-Security-Policy")) return;  // answered above
        const std::string title = out.status == 413 ? "Larger than 4 MB" : "The request cannot be answered";
        const Response refused = refusal(out.status, title);
        out.set_content(refused.body, refused.content_type);
    });
}

// The port bound to, or -1.
int bind(httplib::Server& server, const ServeOptions& options) {
    if (options.port != 0) return server.bind_to_port(options.host, options.port) ? options.port : -1;
    if (server.bind_to_port(options.host, first_port)) return first_port;
    return server.bind_to_any_port(options.host);
}

bool is_loopback(const std::string& host) {
    return host == "127.0.0.1" || host == "localhost" || host == "::1";
}

// Ends the server when the person at the terminal or the system asks for it. Constructed before any other
// thread, so that all of them leave these signals alone.
class Ending {
  public:
    explicit Ending(httplib::Server& server) {
        sigemptyset(&signals_);
        sigaddset(&signals_, SIGINT);
        sigaddset(&signals_, SIGTERM);
        pthread_sigmask(SIG_BLOCK, &signals_, &before_);
        waiting_ = std::jthread([this, &server](const std::stop_token& stop) {
            const timespec pause{0, 100'000'000};
            while (!stop.stop_requested()) {
                if (sigtimedwait(&signals_, nullptr, &pause) > 0) return server.stop();
            }
        });
    }
    ~Ending() {
        waiting_.request_stop();
        waiting_.join();
        pthread_sigmask(SIG_SETMASK, &before_, nullptr);
    }
    Ending(const Ending&) = delete;
    Ending& operator=(const Ending&) = delete;

  private:
    sigset_t signals_{};
    sigset_t before_{};
    std::jthread waiting_;
};

}  // namespace

int serve(const ServeOptions& options) {
    if (!is_loopback(options.host)) {
        fmt::print(stderr,
                   "dapple serves this machine only: listen on 127.0.0.1, localhost or ::1, not on {}\n",
                   options.host);
        return 2;
    }
    httplib::Server server;
    Api api;
    set_up(server, api);
    const int port = bind(server, options);
    if (port < 0) {
        fmt::print(stderr, "port {} of {} is taken; name another, or none for any free one\n", options.port,
                   options.host);
        return 2;
    }
    const std::string host = options.host == "::1" ? "[::1]" : options.host;
    if (options.ready) options.ready(fmt::format("http://{}:{}/", host, port));
    const Ending ending(server);
    return server.listen_after_bind() ? 0 : 1;
}

}  // namespace dapple::server
