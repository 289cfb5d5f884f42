#include "server/serve.h"

#include <fmt/format.h>
#include <signal.h>
#include <sys/socket.h>

#include <cstdio>
#include <filesystem>
#include <thread>

#include "server/api.h"
#include "server/hosts.h"
#include "server/http.h"
#include "server/http_library.h"
#include "server/waiting_server.h"

namespace dapple::server {

namespace {

constexpr int first_port = 8460;
constexpr int backlog = 1024;  // a hundred phones that come into reach at once; the library lets five wait

// The port bound to, or -1.
int bind(httplib::Server& server, const ServeOptions& options) {
    if (options.port != 0) return server.bind_to_port(options.host, options.port) ? options.port : -1;
    if (server.bind_to_port(options.host, first_port)) return first_port;
    return server.bind_to_any_port(options.host);
}

sigset_t endings() {
    sigset_t signals;
    sigemptyset(&signals);
    sigaddset(&signals, SIGINT);
    sigaddset(&signals, SIGTERM);
    return signals;
}

// Ends the server when the person at the terminal or the system asks for it.
std::jthread ending(httplib::Server& server, Following& following) {
    return std::jthread([&server, &following](const std::stop_token& stop) {
        const sigset_t signals = endings();
        const timespec pause{0, 100'000'000};
        while (!stop.stop_requested()) {
            if (sigtimedwait(&signals, nullptr, &pause) <= 0) continue;
            following.end();  // those who follow changes would keep the server waiting
            return server.stop();
        }
    });
}

std::unique_ptr<httplib::Server> server_for(const ServeOptions& options) {
    if (options.certificate.empty()) return waiting_server();
    return waiting_tls_server(options.certificate, options.key);
}

std::string address(const ServeOptions& options, int port) {
    const bool six = options.host.find(':') != std::string::npos;
    return fmt::format("{}://{}:{}/", options.certificate.empty() ? "http" : "https",
                       six ? "[" + options.host + "]" : options.host, port);
}

}  // namespace

Problems faults_of(const ServeOptions& options) {
    Problems problems;
    if (options.certificate.empty() != options.key.empty()) {
        problems.push_back({"", options.certificate.empty() ? "--certificate" : "--key", "nothing",
                            "both --certificate and --key, PEM files"});
    }
    for (const auto& [option, file] :
         {std::pair("--certificate", options.certificate), std::pair("--key", options.key)}) {
        if (!file.empty() && !std::filesystem::exists(file)) {
            problems.push_back({file, option, "no such file", "a PEM file that may be read"});
        }
    }
    if (is_loopback(options.host)) return problems;
    if (!options.accounts) {
        problems.push_back({"", "--listen", options.host + " without accounts",
                            "127.0.0.1, localhost or ::1; or --accounts, so that everybody must sign in"});
    }
    if (options.certificate.empty() && !options.behind_proxy) {
        problems.push_back({"", "--listen", options.host + " without encryption",
                            "--certificate and --key; or --behind-proxy, where a proxy encrypts"});
    }
    return problems;
}

void hold_endings() {
    const sigset_t signals = endings();
    pthread_sigmask(SIG_BLOCK, &signals, nullptr);
}

int serve(std::unique_ptr<record::Store> store, const ServeOptions& options) {
    if (const Problems problems = faults_of(options); !problems.empty()) {
        fmt::print(stderr, "{}", to_text(problems));
        return 2;
    }
    hold_endings();
    const auto server = server_for(options);
    if (!server->is_valid()) {
        fmt::print(stderr, "{} and {} are no certificate and its key in PEM\n", options.certificate,
                   options.key);
        return 2;
    }
    Api api(std::move(store), {options.accounts, options.public_url});
    set_up(*server, api, options);
    int socket = -1;
    // The library would also set SO_REUSEPORT, by which two programs could hold one port without noticing.
    server->set_socket_options([&socket](socket_t made) {
        const int yes = 1;
        setsockopt(made, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
        socket = made;
    });
    const int port = bind(*server, options);
    if (port < 0) {
        fmt::print(stderr, "port {} of {} is taken; name another, or none for any free one\n", options.port,
                   options.host);
        return 2;
    }
    ::listen(socket, backlog);
    if (options.ready) options.ready(address(options, port));
    const std::jthread end = ending(*server, api.service().following);
    return server->listen_after_bind() ? 0 : 1;
}

}  // namespace dapple::server
