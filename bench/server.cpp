// The server under load, and killed again and again (tests/server/phones.h says what must hold). Ends with 1 if it does
// not hold.
//
// Usage: bench_server load sqlite|postgresql [seconds, 60] [servers, 1] [pause of a phone in ms, 300] [previews, 4]
//        bench_server killed sqlite|postgresql [cycles, 100] [seed, 1]
//
// killed: every 100 kills a new record is begun; each is compared with what was acknowledged of it.
//
// load: 100 phones post readings of 50 enclosures, each at its own time, 20 desks read the collection and the due list,
// some views ask for previews of a field as if a lamp were dragged. Printed: readings a second, how long a post took,
// and the rate beside the bare database's own commits a second, taken in the same run on the same disk.
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <random>
#include <thread>

#include "record/connection.h"
#include "record/own_postgresql.h"
#include "record/rows.h"
#include "record/store.h"
#include "server/a_server.h"
#include "server/http_library.h"
#include "server/phones.h"
#include "server/running_server.h"

namespace {

using namespace dapple::tests;
using Clock = std::chrono::steady_clock;
using nlohmann::json;

struct Place {
    std::string database;
    std::vector<std::string> arguments() const { return {"--database", database}; }
};

double seconds_since(Clock::time_point begin) {
    return std::chrono::duration<double>(Clock::now() - begin).count();
}

// What the database and its disk can do, taken on the record after the phones are done: commits a second, each made safe
// by itself, one after the other on one connection, with nothing asked, checked or answered.
double commits(const std::string& database,
               const std::function<void(dapple::record::Connection&, int)>& write) {
    dapple::record::Connection connection(database, dapple::record::Purpose::write);
    const auto begin = Clock::now();
    int count = 0;
    for (; seconds_since(begin) < 3; ++count) {
        connection.run("begin");
        write(connection, count);
        connection.commit();
    }
    return count / seconds_since(begin);
}

double commits_of_numbers(const std::string& database) {
    dapple::record::Connection(database, dapple::record::Purpose::write)
        .run("create table if not exists bare (n integer)");
    return commits(database, [](auto& connection, int) { connection.run("insert into bare values (1)"); });
}

// A reading's row, its line of the trail and its key.
double commits_of_readings(const std::string& database) {
    using namespace dapple::record;
    const Kind& kind = *kind_named("reading");
    return commits(database, [&](Connection& connection, int count) {
        const std::string id = fmt::format("bare-{}", count);
        const Moment now = system_clock()();
        const Thing thing{"reading",
                          id,
                          "home",
                          1,
                          now,
                          local_person,
                          now,
                          local_person,
                          std::nullopt,
                          {{"enclosure", "box-0"},
                           {"spot", "floor"},
                           {"quantity", "uvi"},
                           {"value", 2.5},
                           {"taken_at", "2026-01-01T10:00:00Z"}}};
        const Command row = insertion_of(kind, thing);
        connection.run(row.sql, row.parameters);
        note_change(connection, {0, now, local_person, "reading", id, "home", 1, "create", ""});
        connection.run(
            "insert into answers (person, idempotency_key, request, kind, id, revision, answered_at) "
            "values (?, ?, ?, ?, ?, ?, ?)",
            {text(local_person), text("key " + id), text(std::string(64, '0')), text("reading"), text(id),
             whole(1), text(to_text(now))});
    });
}

double quantile(std::vector<double>& values, double share) {
    if (values.empty()) return 0;
    const auto at = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), values.begin() + at, values.end());
    return values[static_cast<std::size_t>(at)];
}

constexpr int enclosures = 50;

struct Reads {
    std::atomic<int> done = 0;
    std::atomic<int> failed = 0;
};

void read_on(int port, const std::atomic<bool>& over, Reads& reads) {
    httplib::Client client("127.0.0.1", port);
    client.set_keep_alive(true);
    client.set_read_timeout(60);
    while (!over) {
        for (const char* path : {"/api/collection", "/api/due", "/api/readings?enclosure=box-0&limit=100"}) {
            const auto answer = client.Get(path);
            ++(answer && answer->status == 200 ? reads.done : reads.failed);
            std::this_thread::sleep_for(std::chrono::milliseconds(500));
            if (over) return;
        }
    }
}

void preview_on(int port, int number, const std::atomic<bool>& over, Reads& previews) {
    httplib::Client client("127.0.0.1", port);
    client.set_keep_alive(true);
    client.set_read_timeout(60);
    json document = box_with_a_lamp();
    for (int step = 0; !over; ++step) {
        document["lamps"][0]["centre_cm"] = {20.0 + 0.1 * (step % 200), 20, 38};
        const json asked = {
            {"enclosure", document},
            {"grid", {{"min_cm", {1, 1, 4}}, {"max_cm", {59, 39, 4}}, {"counts", {40, 27, 1}}}}};
        const auto answer = client.Post("/api/field", {{"Dapple-View", fmt::format("view {}", number)}},
                                        asked.dump(), "application/json");
        ++(answer && answer->status == 200 ? previews.done : previews.failed);
    }
}

int load(const Place& place, int seconds, int servers, int pause_ms, int previews) {
    std::vector<std::unique_ptr<RunningServer>> running;
    std::vector<int> ports;
    for (int i = 0; i < servers; ++i) {
        running.push_back(std::make_unique<RunningServer>(place.arguments()));
        ports.push_back(running.back()->port());
    }
    make_collection(ports[0], enclosures);
    std::atomic<bool> over = false;
    Reads reads;
    Reads fields;
    std::vector<std::thread> others;
    const auto port = [&](int i) { return ports[static_cast<std::size_t>(i) % ports.size()]; };
    for (int i = 0; i < 20; ++i) others.emplace_back([&, i] { read_on(port(i), over, reads); });
    for (int i = 0; i < previews; ++i) others.emplace_back([&, i] { preview_on(port(i), i, over, fields); });
    const auto begin = Clock::now();
    Gathered gathered =
        post_readings({.ports = ports, .phones = 100, .pause_ms = pause_ms, .enclosures = enclosures},
                      [&] { return seconds_since(begin) > seconds; });
    const double took = seconds_since(begin);
    over = true;
    for (std::thread& thread : others) thread.join();
    auto faults = gathered.faults;
    for (const std::string& fault : missing_or_doubled(ports[0], gathered.posted)) faults.push_back(fault);
    for (const std::string& fault : faults) fmt::print("{}\n", fault);
    const double readings = commits_of_readings(place.database);
    const double numbers = commits_of_numbers(place.database);
    auto& ms = gathered.took_ms;
    const double rate = static_cast<double>(ms.size()) / took;
    fmt::print(
        "{} readings in {:.0f} s: {:.0f} a second; a post took {:.1f} ms (median), {:.1f} (p99), {:.1f} "
        "(worst)\n"
        "the bare database: {:.0f} commits of a reading a second, ratio {:.2f}; {:.0f} of one number, ratio "
        "{:.2f}\n"
        "{} reads ({} failed), {} previews ({} failed); {} MB resident; {} faults\n",
        ms.size(), took, rate, quantile(ms, 0.5), quantile(ms, 0.99), quantile(ms, 1), readings,
        rate / readings, numbers, rate / numbers, reads.done.load(), reads.failed.load(), fields.done.load(),
        fields.failed.load(), running[0]->resident_kb() / 1024, faults.size());
    return faults.empty() && reads.failed == 0 && fields.failed == 0 ? 0 : 1;
}

// What came of some kills.
struct Kills {
    int count = 0;
    std::size_t sent = 0;
    std::size_t acknowledged = 0;
    std::vector<double> back_ms;  // after which the server answered again
    std::vector<std::string> faults;
};

// Kills of one server on one record, which is compared at the end with what was acknowledged.
void kill_again_and_again(const Place& place, int cycles, std::mt19937_64& random, Kills& kills) {
    RunningServer server(place.arguments());
    make_collection(server.port());
    std::vector<Posted> posted;
    for (int cycle = 0; cycle < cycles; ++cycle) {
        std::atomic<bool> over = false;
        const int after_ms = 20 + static_cast<int>(random() % 400);
        std::thread killer([&] {
            std::this_thread::sleep_for(std::chrono::milliseconds(after_ms));
            server.kill();
            const auto down = Clock::now();
            server.start();
            kills.back_ms.push_back(1000 * seconds_since(down));
            std::this_thread::sleep_for(std::chrono::milliseconds(50));
            over = true;
        });
        Gathered gathered = post_readings({.ports = {server.port()}, .phones = 8, .seed = random()},
                                          [&] { return over.load(); });
        killer.join();
        ++kills.count;
        kills.faults.insert(kills.faults.end(), gathered.faults.begin(), gathered.faults.end());
        posted.insert(posted.end(), gathered.posted.begin(), gathered.posted.end());
    }
    kills.sent += posted.size();
    kills.acknowledged += static_cast<std::size_t>(
        std::count_if(posted.begin(), posted.end(), [](const Posted& p) { return p.acknowledged; }));
    for (std::string& fault : missing_or_doubled(server.port(), posted)) {
        kills.faults.push_back(std::move(fault));
    }
}

int killed(const std::function<Place()>& new_place, int cycles, std::uint64_t seed) {
    constexpr int of_one_record = 100;  // each start looks through the whole of it
    std::mt19937_64 random(seed);
    Kills kills;
    const auto begin = Clock::now();
    while (kills.count < cycles) {
        kill_again_and_again(new_place(), std::min(of_one_record, cycles - kills.count), random, kills);
        fmt::print(
            "{} kills in {:.0f} s; {} readings sent, {} acknowledged; back after {:.0f} ms (median), {:.0f} "
            "(worst); {} faults\n",
            kills.count, seconds_since(begin), kills.sent, kills.acknowledged, quantile(kills.back_ms, 0.5),
            quantile(kills.back_ms, 1), kills.faults.size());
    }
    for (const std::string& fault : kills.faults) fmt::print("{}\n", fault);
    return kills.faults.empty() ? 0 : 1;
}

int usage() {
    fmt::print(stderr, "usage: bench_server load|killed sqlite|postgresql [numbers: see bench/server.cpp]\n");
    return 2;
}

}  // namespace

int main(int count, char** words) {
    if (count < 3) return usage();
    const std::string what = words[1];
    const std::string engine = words[2];
    if ((what != "load" && what != "killed") || (engine != "sqlite" && engine != "postgresql"))
        return usage();
    const auto number = [&](int at, int otherwise) { return count > at ? std::atoi(words[at]) : otherwise; };
    const Folder folder;
    int records = 0;
    const auto new_place = [&] {
        return Place{engine == "sqlite" ? folder.file(fmt::format("record-{}.sqlite", records++))
                                        : own_postgresql().new_database()};
    };
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);
    return what == "load" ? load(new_place(), number(3, 60), number(4, 1), number(5, 300), number(6, 4))
                          : killed(new_place, number(3, 100), static_cast<std::uint64_t>(number(4, 1)));
}
