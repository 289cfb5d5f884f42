#include "server/phones.h"

#include <fmt/format.h>

#include <chrono>
#include <map>
#include <random>
#include <thread>

#include "server/a_server.h"
#include "server/http_library.h"

namespace dapple::tests {

using nlohmann::json;

namespace {

constexpr int patience_s = 60;

httplib::Client client_of(int port) {
    httplib::Client client("127.0.0.1", port);
    client.set_keep_alive(true);
    client.set_tcp_nodelay(true);
    client.set_connection_timeout(patience_s);
    client.set_read_timeout(patience_s);
    return client;
}

std::string box_of(std::size_t number) {
    return fmt::format("box-{}", number);
}

// 26 characters of Crockford's base 32, as a phone makes its own ids.
std::string id_of(std::mt19937_64& random) {
    constexpr std::string_view digits = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    std::string id = "01";
    while (id.size() < 26) id.push_back(digits[random() % 32]);
    return id;
}

class Phone {
  public:
    Phone(int port, std::uint64_t seed, int pause_ms, std::string enclosure)
        : client_(client_of(port)), random_(seed), pause_ms_(pause_ms), enclosure_(std::move(enclosure)) {}

    Gathered post_until(const std::function<bool()>& ends) {
        while (!ends()) {
            post_one(ends);
            if (pause_ms_ > 0) std::this_thread::sleep_for(pause());
        }
        return std::move(gathered_);
    }

  private:
    // Each at its own time: with the same pause for all, a hundred would press at once for ever.
    std::chrono::milliseconds pause() {
        return std::chrono::milliseconds(random_() % static_cast<std::uint64_t>(2 * pause_ms_));
    }

    // A round of so many values a day.
    std::string moment() {
        constexpr int a_round = 30;
        const int day = count_++ / a_round;
        return fmt::format("2026-{:02}-{:02}T10:00:00Z", 1 + day / 28 % 9, 1 + day % 28);
    }

    void post_one(const std::function<bool()>& ends) {
        Posted posted{id_of(random_), static_cast<double>(random_() % 1000) / 100, false};
        const json fields = {{"id", posted.id},     {"site", "home"},    {"enclosure", enclosure_},
                             {"spot", "floor"},     {"quantity", "uvi"}, {"value", posted.value},
                             {"taken_at", moment()}};
        const httplib::Headers headers = {{"Idempotency-Key", "key " + posted.id}};
        do {
            const auto began = std::chrono::steady_clock::now();
            const auto answer = client_.Post("/api/readings", headers, fields.dump(), "application/json");
            if (answer && answer->status == 201) {
                const std::chrono::duration<double, std::milli> took =
                    std::chrono::steady_clock::now() - began;
                gathered_.took_ms.push_back(took.count());
                posted.acknowledged = true;
                break;
            }
            if (answer && answer->status != 503) {
                gathered_.faults.push_back(fmt::format("{}: {} {}", posted.id, answer->status, answer->body));
                break;
            }
            std::this_thread::sleep_for(std::chrono::milliseconds(2));
        } while (!ends());
        gathered_.posted.push_back(std::move(posted));
    }

    httplib::Client client_;
    std::mt19937_64 random_;
    int pause_ms_;
    std::string enclosure_;
    int count_ = 0;
    Gathered gathered_;
};

}  // namespace

void make_collection(int port, int enclosures) {
    auto client = client_of(port);
    const auto post = [&](const std::string& path, const json& body) {
        const auto answer = client.Post(path, body.dump(), "application/json");
        if (!answer || answer->status != 201) {
            throw std::runtime_error(answer ? answer->body : std::string("no answer"));
        }
    };
    post("/api/sites", {{"id", "home"}, {"name", "Home"}});
    for (int i = 0; i < enclosures; ++i) {
        json document = box_with_a_lamp();
        document["id"] = box_of(static_cast<std::size_t>(i));
        post("/api/enclosures", {{"site", "home"}, {"document", document}});
    }
}

Gathered post_readings(const PhonePlan& plan, const std::function<bool()>& ends) {
    std::vector<Gathered> of(static_cast<std::size_t>(plan.phones));
    std::vector<std::thread> threads;
    for (std::size_t i = 0; i < of.size(); ++i) {
        threads.emplace_back([&, i] {
            const std::string enclosure = box_of(i % static_cast<std::size_t>(plan.enclosures));
            Phone phone(plan.ports[i % plan.ports.size()], 1000 * plan.seed + i, plan.pause_ms, enclosure);
            of[i] = phone.post_until(ends);
        });
    }
    for (std::thread& thread : threads) thread.join();
    Gathered all;
    for (Gathered& one : of) {
        all.posted.insert(all.posted.end(), one.posted.begin(), one.posted.end());
        all.took_ms.insert(all.took_ms.end(), one.took_ms.begin(), one.took_ms.end());
        all.faults.insert(all.faults.end(), one.faults.begin(), one.faults.end());
    }
    return all;
}

std::vector<std::string> missing_or_doubled(int port, const std::vector<Posted>& posted) {
    auto client = client_of(port);
    std::map<std::string, std::pair<double, int>> there;
    std::string after;
    do {
        const auto page = client.Get("/api/readings?limit=10000&after=" + after);
        if (!page || page->status != 200) return {page ? page->body : "the readings cannot be listed"};
        const json body = json::parse(page->body);
        for (const json& thing : body["things"]) {
            auto& [value, count] = there[thing["id"]];
            value = thing["value"];
            ++count;
        }
        after = body["next"];
    } while (!after.empty());
    std::vector<std::string> faults;
    for (const Posted& one : posted) {
        const auto found = there.find(one.id);
        if (found == there.end()) {
            if (one.acknowledged) faults.push_back(one.id + " was acknowledged and is not there");
            continue;
        }
        if (found->second.second != 1) faults.push_back(one.id + " is there more than once");
        if (found->second.first != one.value) faults.push_back(one.id + " is there with another value");
        there.erase(found);
    }
    for (const auto& [id, value] : there) faults.push_back(id + " is there and was never sent");
    return faults;
}

}  // namespace dapple::tests
