// What lies below a request: connections that stay open, sleep between two questions, and are encrypted.
#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <thread>

#include "server/a_server.h"
#include "server/http_library.h"
#include "server/running_server.h"

namespace dapple::tests {
namespace {

int count_of(const std::string& text, const std::string& word) {
    int count = 0;
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++count;
    return count;
}

// Everything the server says over one connection that is told `text`, until it has said `ending` so many times.
std::string told(int port, const std::string& text, const std::string& ending, int times) {
    const int connection = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    const timeval most{30, 0};
    setsockopt(connection, SOL_SOCKET, SO_RCVTIMEO, &most, sizeof most);
    std::string heard;
    if (connect(connection, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0 &&
        send(connection, text.data(), text.size(), MSG_NOSIGNAL) == static_cast<ssize_t>(text.size())) {
        std::string piece(4096, '\0');
        while (count_of(heard, ending) < times) {
            const ssize_t got = recv(connection, piece.data(), piece.size(), 0);
            if (got <= 0) break;
            heard.append(piece, 0, static_cast<std::size_t>(got));
        }
    }
    close(connection);
    return heard;
}

TEST(AConnection, sleeps_until_it_is_spoken_to) {
    const Folder folder;
    const RunningServer server({"--database", folder.file("record.sqlite")});
    std::vector<std::unique_ptr<httplib::Client>> clients;
    for (int i = 0; i < 30; ++i) {
        auto client = std::make_unique<httplib::Client>("127.0.0.1", server.port());
        client->set_keep_alive(true);
        const auto answer = client->Get("/api/me");
        ASSERT_TRUE(answer);
        ASSERT_EQ(answer->status, 200);
        clients.push_back(std::move(client));
    }
    const long before = server.times_woken();
    std::this_thread::sleep_for(std::chrono::seconds(1));
    // Twice a second each to see whether the server ends, and what the program itself does (a look at the record, at signals).
    // With a look every ten milliseconds it would be 5,400.
    EXPECT_LT(server.times_woken() - before, 300);
}

TEST(AConnection, stays_open_from_one_question_to_the_next) {
    const Folder folder;
    const RunningServer server({"--database", folder.file("record.sqlite")});
    const std::string host = "Host: 127.0.0.1:" + std::to_string(server.port()) + "\r\n";
    const std::string question = "GET /api/me HTTP/1.1\r\n" + host + "\r\n";
    const std::string heard = told(server.port(), question + question + question, "HTTP/1.1 200", 3);
    EXPECT_EQ(count_of(heard, "HTTP/1.1 200"), 3) << heard;
}

TEST(AConnection, ends_when_it_is_asked_to) {
    const Folder folder;
    const RunningServer server({"--database", folder.file("record.sqlite")});
    const std::string host = "Host: 127.0.0.1:" + std::to_string(server.port()) + "\r\n";
    const std::string last = "GET /api/me HTTP/1.1\r\n" + host + "Connection: close\r\n\r\n";
    // Asked for more answers than come, it ends by the server's closing, not by our patience.
    const auto begin = std::chrono::steady_clock::now();
    const std::string heard = told(server.port(), last + last, "HTTP/1.1 200", 2);
    EXPECT_EQ(count_of(heard, "HTTP/1.1 200"), 1) << heard;
    EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(25));
}

TEST(AConnection, that_leaves_in_the_middle_of_a_question_harms_nobody) {
    const Folder folder;
    RunningServer server({"--database", folder.file("record.sqlite")});
    for (int i = 0; i < 20; ++i) {
        told(server.port(), "POST /api/readings HTTP/1.1\r\nContent-Length: 100\r\n\r\n{\"id\"", "", 0);
    }
    httplib::Client client("127.0.0.1", server.port());
    const auto answer = client.Get("/api/me");
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->status, 200);
    EXPECT_EQ(server.end(), 0);
}

TEST(AConnection, is_encrypted_where_there_is_a_certificate) {
    const Folder folder;
    const std::string certificate = folder.file("certificate.pem");
    const std::string key = folder.file("key.pem");
    const std::string made =
        "openssl req -x509 -newkey rsa:2048 -nodes -days 2 -subj /CN=localhost -addext "
        "subjectAltName=IP:127.0.0.1 -keyout " +
        key + " -out " + certificate + " 2> /dev/null";
    ASSERT_EQ(std::system(made.c_str()), 0);
    RunningServer server(
        {"--database", folder.file("record.sqlite"), "--certificate", certificate, "--key", key});

    httplib::SSLClient client("127.0.0.1", server.port());
    client.set_ca_cert_path(certificate.c_str());
    client.enable_server_certificate_verification(true);
    client.set_keep_alive(true);
    for (int i = 0; i < 3; ++i) {
        const auto answer = client.Get("/api/me");
        ASSERT_TRUE(answer) << httplib::to_string(answer.error());
        EXPECT_EQ(answer->status, 200);
        EXPECT_FALSE(answer->get_header_value("Strict-Transport-Security").empty());
    }
    // Larger than a packet, a record of TLS and what is read ahead, both ways.
    const auto description = client.Get("/api/openapi.json");
    ASSERT_TRUE(description);
    EXPECT_EQ(nlohmann::json::parse(description->body)["openapi"], "3.1.0");
    const std::string question =
        nlohmann::json({{"enclosure", box_with_a_lamp()}}).dump() + std::string(3'000'000, ' ');
    const auto checked = client.Post("/api/check", question, "application/json");
    ASSERT_TRUE(checked) << httplib::to_string(checked.error());
    EXPECT_EQ(checked->status, 200) << checked->body;

    httplib::Client open("127.0.0.1", server.port());  // without encryption
    EXPECT_FALSE(open.Get("/api/me"));
    const auto still = client.Get("/api/me");
    ASSERT_TRUE(still);
    EXPECT_EQ(still->status, 200);
    EXPECT_EQ(server.end(), 0);
}

}  // namespace
}  // namespace dapple::tests
