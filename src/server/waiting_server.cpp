#include "server/waiting_server.h"

#include <netdb.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstring>

#include "server/http_library.h"

namespace dapple::server {

namespace {

constexpr int within_a_request_ms = 5'000;  // between two pieces of it, either way
constexpr int notice_end_ms = 500;          // how soon an idle connection sees that the server ends

bool becomes(socket_t socket, short event, int timeout_ms) {
    pollfd asked{socket, event, 0};
    return poll(&asked, 1, timeout_ms) > 0;
}

void name_of(const sockaddr_storage& address, socklen_t length, std::string& ip, int& port) {
    std::array<char, NI_MAXHOST> host{};
    std::array<char, NI_MAXSERV> service{};
    if (getnameinfo(reinterpret_cast<const sockaddr*>(&address), length, host.data(), host.size(),
                    service.data(), service.size(), NI_NUMERICHOST | NI_NUMERICSERV) != 0)
        return;
    ip = host.data();
    std::from_chars(service.data(), service.data() + std::strlen(service.data()), port);
}

// What is sent and received in plain text. The library reads headers letter by letter, so they are read ahead.
class Connection : public httplib::Stream {
  public:
    explicit Connection(socket_t socket) : socket_(socket) {}

    // Whether something was read, or can be, that the library has not seen.
    virtual bool has_unread() const { return from_ != until_; }

    bool is_readable() const override {
        return has_unread() || becomes(socket_, POLLIN, within_a_request_ms);
    }
    // Not only that there is room: a feed ends when nobody is there any more.
    bool is_writable() const override {
        if (!becomes(socket_, POLLOUT, within_a_request_ms)) return false;
        if (!becomes(socket_, POLLIN, 0)) return true;
        char next = 0;
        return recv(socket_, &next, 1, MSG_PEEK | MSG_DONTWAIT) > 0;
    }

    ssize_t read(char* to, size_t size) override {
        if (from_ == until_) {
            if (size >= ahead_.size()) return receive(to, size);
            const ssize_t got = receive(ahead_.data(), ahead_.size());
            if (got <= 0) return got;
            from_ = 0;
            until_ = static_cast<std::size_t>(got);
        }
        const std::size_t count = std::min(size, until_ - from_);
        std::copy_n(ahead_.data() + from_, count, to);
        from_ += count;
        return static_cast<ssize_t>(count);
    }
    ssize_t write(const char* from, size_t size) override { return send(from, size); }

    void get_remote_ip_and_port(std::string& ip, int& port) const override {
        sockaddr_storage address{};
        socklen_t length = sizeof address;
        if (getpeername(socket_, reinterpret_cast<sockaddr*>(&address), &length) == 0)
            name_of(address, length, ip, port);
    }
    void get_local_ip_and_port(std::string& ip, int& port) const override {
        sockaddr_storage address{};
        socklen_t length = sizeof address;
        if (getsockname(socket_, reinterpret_cast<sockaddr*>(&address), &length) == 0)
            name_of(address, length, ip, port);
    }
    socket_t socket() const override { return socket_; }

  protected:
    virtual ssize_t receive(char* to, size_t size) { return recv(socket_, to, size, 0); }
    virtual ssize_t send(const char* from, size_t size) { return ::send(socket_, from, size, MSG_NOSIGNAL); }

  private:
    socket_t socket_;
    std::array<char, 4096> ahead_{};
    std::size_t from_ = 0;
    std::size_t until_ = 0;
};

class TlsConnection : public Connection {
  public:
    TlsConnection(socket_t socket, SSL* tls) : Connection(socket), tls_(tls) {}

    bool has_unread() const override { return Connection::has_unread() || SSL_pending(tls_) > 0; }

  protected:
    ssize_t receive(char* to, size_t size) override { return SSL_read(tls_, to, counted(size)); }
    ssize_t send(const char* from, size_t size) override { return SSL_write(tls_, from, counted(size)); }

  private:
    static int counted(size_t size) { return static_cast<int>(std::min(size, size_t{1} << 20)); }

    SSL* tls_;
};

void limit_waits(socket_t socket) {
    const timeval most{within_a_request_ms / 1000, 0};
    setsockopt(socket, SOL_SOCKET, SO_RCVTIMEO, &most, sizeof most);
    setsockopt(socket, SOL_SOCKET, SO_SNDTIMEO, &most, sizeof most);
}

void close(socket_t socket) {
    shutdown(socket, SHUT_RDWR);
    ::close(socket);
}

template <class Library>
class Waiting : public Library {
  public:
    using Library::Library;

  protected:
    // Answers one request after the other, until either side has had enough.
    bool converse(Connection& connection) {
        bool good = true;
        for (auto left = this->keep_alive_max_count_; left > 0 && is_spoken_to(connection); --left) {
            bool closed = false;
            good = this->process_request(connection, left == 1, closed, nullptr);
            if (!good || closed) break;
        }
        return good;
    }

  private:
    bool is_spoken_to(const Connection& connection) const {
        using Clock = std::chrono::steady_clock;
        const auto end = Clock::now() + std::chrono::seconds(this->keep_alive_timeout_sec_);
        while (this->svr_sock_ != INVALID_SOCKET) {
            if (connection.has_unread() || becomes(connection.socket(), POLLIN, notice_end_ms)) return true;
            if (Clock::now() > end) return false;
        }
        return false;
    }
};

class PlainServer : public Waiting<httplib::Server> {
    bool process_and_close_socket(socket_t socket) override {
        limit_waits(socket);
        Connection connection(socket);
        const bool good = converse(connection);
        close(socket);
        return good;
    }
};

class TlsServer : public Waiting<httplib::SSLServer> {
  public:
    using Waiting::Waiting;

  private:
    bool process_and_close_socket(socket_t socket) override {
        limit_waits(socket);
        const std::unique_ptr<SSL, void (*)(SSL*)> tls(SSL_new(ssl_context()), SSL_free);
        bool good = tls && SSL_set_fd(tls.get(), socket) == 1 && SSL_accept(tls.get()) == 1;
        if (good) {
            TlsConnection connection(socket, tls.get());
            good = converse(connection);
            if (good) SSL_shutdown(tls.get());  // not after a fault: there is nobody to tell
        }
        close(socket);
        return good;
    }
};

}  // namespace

std::unique_ptr<httplib::Server> waiting_server() {
    return std::make_unique<PlainServer>();
}

std::unique_ptr<httplib::Server> waiting_tls_server(const std::string& certificate, const std::string& key) {
    return std::make_unique<TlsServer>(certificate.c_str(), key.c_str());
}

}  // namespace dapple::server
