// The program over sockets: what it refuses to be, what it tells a browser, and that nothing acknowledged is lost when it
// is killed. (bench_server kills it a thousand times.)
#include <gtest/gtest.h>

#include <chrono>
#include <thread>

#include "server/a_server.h"
#include "server/http_library.h"
#include "server/phones.h"
#include "server/running_server.h"
#include "server/serve.h"

namespace dapple::tests {
namespace {

using nlohmann::json;

TEST(TheProgram, is_not_open_to_others_without_accounts_and_encryption) {
    const auto faults = [](server::ServeOptions options) { return server::faults_of(options).size(); };
    EXPECT_EQ(faults({}), 0U);
    EXPECT_EQ(faults({.host = "0.0.0.0"}), 2U);
    EXPECT_EQ(faults({.host = "192.168.1.5", .accounts = true}), 1U);
    EXPECT_EQ(faults({.host = "0.0.0.0", .behind_proxy = true}), 1U);
    EXPECT_EQ(faults({.host = "0.0.0.0", .accounts = true, .behind_proxy = true}), 0U);
    EXPECT_EQ(faults({.host = "127.0.0.1", .certificate = "/no/such.pem"}), 2U);
}

TEST(TheProgram, answers_its_own_machine_alone_and_tells_a_browser_to_be_strict) {
    const Folder folder;
    RunningServer server({"--database", folder.file("record.sqlite")});
    httplib::Client client("127.0.0.1", server.port());
    const auto page = client.Get("/today");
    ASSERT_TRUE(page);
    EXPECT_EQ(page->status, 200);
    EXPECT_NE(page->get_header_value("Content-Security-Policy").find("default-src 'none'"),
              std::string::npos);
    EXPECT_EQ(page->get_header_value("X-Content-Type-Options"), "nosniff");
    const auto rebound = client.Get("/api/me", {{"Host", "evil.example"}});
    ASSERT_TRUE(rebound);
    EXPECT_EQ(rebound->status, 421);
    const auto elsewhere = client.Get("/api/me", {{"Origin", "http://evil.example"}});
    ASSERT_TRUE(elsewhere);
    EXPECT_EQ(elsewhere->status, 421);
    EXPECT_EQ(client.Get("/../../etc/passwd.txt")->status, 404);
    const auto large = client.Post("/api/check", std::string(9'000'000, ' '), "application/json");
    ASSERT_TRUE(large);
    EXPECT_EQ(large->status, 413);
    EXPECT_EQ(server.end(), 0);
}

TEST(TheProgram, tells_followers_and_ends_in_order_while_they_listen) {
    const Folder folder;
    RunningServer server({"--database", folder.file("record.sqlite")});
    std::atomic<bool> heard = false;
    std::thread follower([&] {
        httplib::Client client("127.0.0.1", server.port());
        client.set_read_timeout(60);
        std::string text;
        client.Get("/api/events?after=0", [&](const char* data, std::size_t size) {
            text.append(data, size);
            if (text.find("event: change") != std::string::npos) heard = true;
            return true;
        });
    });
    make_collection(server.port());
    const auto give_up = std::chrono::steady_clock::now() + std::chrono::minutes(1);
    while (!heard && std::chrono::steady_clock::now() < give_up)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    EXPECT_TRUE(heard);
    EXPECT_EQ(server.end(), 0);
    follower.join();
}

TEST(TheProgram, loses_and_doubles_nothing_when_it_is_killed) {
    const Folder folder;
    RunningServer server({"--database", folder.file("record.sqlite")});
    make_collection(server.port());
    std::vector<Posted> posted;
    for (std::uint64_t cycle = 0; cycle < 4; ++cycle) {
        std::atomic<bool> over = false;
        std::thread killer([&] {
            std::this_thread::sleep_for(std::chrono::milliseconds(150 + 37 * cycle));
            server.kill();
            server.start();
            std::this_thread::sleep_for(std::chrono::milliseconds(100));
            over = true;
        });
        Gathered gathered = post_readings({.ports = {server.port()}, .phones = 4, .seed = cycle + 1},
                                          [&] { return over.load(); });
        killer.join();
        for (const std::string& fault : gathered.faults) ADD_FAILURE() << fault;
        posted.insert(posted.end(), gathered.posted.begin(), gathered.posted.end());
    }
    EXPECT_GT(posted.size(), 20U);
    for (const std::string& fault : missing_or_doubled(server.port(), posted)) ADD_FAILURE() << fault;
}

TEST(TheProgram, serves_one_postgresql_database_or_says_that_it_is_not_there) {
    EXPECT_THROW(RunningServer({"--database", "postgresql://nobody@127.0.0.1:1/none"}), std::runtime_error);
}

}  // namespace
}  // namespace dapple::tests
