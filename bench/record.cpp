// The record at the size of a large institution, and its writes against the bare database: what the collection page, Today, the
// start and a backup cost, and how many answered readings a second one process stores beside the plain commits a second
// that the same database does alone.
// Usage: bench_record sqlite|postgresql [readings, 1000000] [enclosures, 1000] [lamps, 20000]
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <thread>

#include "making.h"
#include "record/backup.h"
#include "record/collection.h"
#include "record/connection.h"
#include "record/due.h"
#include "record/own_postgresql.h"
#include "record/store.h"

namespace {

using namespace dapple;
using Clock = std::chrono::steady_clock;
using nlohmann::json;

double seconds_since(Clock::time_point begin) {
    return std::chrono::duration<double>(Clock::now() - begin).count();
}

struct Size {
    int readings = 1'000'000;
    int enclosures = 1'000;
    int lamps = 20'000;
};

[[noreturn]] void give_up(const record::Refusal& refusal) {
    fmt::print(stderr, "{}", to_text(refusal.problems));
    std::exit(1);
}

std::unique_ptr<record::Store> open(const std::string& database) {
    record::StoreOptions options;
    options.database = database;
    auto store = record::Store::open(options);
    if (!store) give_up(store.error());
    return std::move(*store);
}

void store_all(record::Store& store, std::vector<record::Write>& writes) {
    bench::store_all(store, writes);
    writes.clear();
}

std::string enclosure_id(int i) {
    return fmt::format("e{:04}", i);
}

json document(const std::string& id) {
    json spots = json::array();
    for (int i = 0; i < 5; ++i) {
        spots.push_back(
            {{"id", fmt::format("s{}", i)}, {"position_cm", {20 * (i + 1), 30, 0}}, {"role", "other"}});
    }
    return {{"format", "dapple/enclosure@1"}, {"id", id}, {"size_cm", {120, 60, 60}}, {"spots", spots}};
}

// Readings of five spots, survey by survey, back through the years.
json reading(int number, const Size& size) {
    const int survey = number / 5 / size.enclosures;
    const auto on = std::chrono::sys_days(std::chrono::year(2026) / 11 / 1) - std::chrono::days(7 * survey);
    return {{"enclosure", enclosure_id(number / 5 % size.enclosures)},
            {"spot", fmt::format("s{}", number % 5)},
            {"quantity", "uvi"},
            {"value", 1 + 0.1 * (number % 37)},
            {"taken_at", inference::to_text(on) + "T10:00:00Z"}};
}

void fill(record::Store& store, const Size& size) {
    constexpr std::size_t at_once = 2000;
    std::vector<record::Write> writes = {bench::making("site", {{"name", "Home"}}, "home")};
    store_all(store, writes);
    const auto add = [&](record::Write write) {
        writes.push_back(std::move(write));
        if (writes.size() == at_once) store_all(store, writes);
    };
    for (int i = 0; i < size.enclosures; ++i)
        add(bench::making("enclosure", {{"document", document(enclosure_id(i))}}));
    store_all(store, writes);
    for (int i = 0; i < size.enclosures; ++i)
        add(bench::making("animal", {{"species", "x"}, {"enclosure", enclosure_id(i)}}));
    // One stands in each enclosure; the others are in store.
    for (int i = 0; i < size.lamps; ++i) {
        json lamp = {{"name", fmt::format("Lamp {}", i)}, {"installed_on", "2026-01-01"}};
        if (i < size.enclosures) lamp["enclosure"] = enclosure_id(i);
        add(bench::making("lamp", lamp));
    }
    const auto begin = Clock::now();
    for (int i = 0; i < size.readings; ++i) add(bench::making("reading", reading(i, size)));
    store_all(store, writes);
    fmt::print("{} readings brought in, {:.0f} a second\n", size.readings,
               size.readings / seconds_since(begin));
}

template <class Work>
void time_it(const char* what, int times, const Work& work) {
    std::vector<double> took;
    for (int i = 0; i < times; ++i) {
        const auto begin = Clock::now();
        work();
        took.push_back(1000 * seconds_since(begin));
    }
    std::sort(took.begin(), took.end());
    fmt::print("{}: median {:.0f} ms of {} (least {:.0f}, most {:.0f})\n", what, took[took.size() / 2], times,
               took.front(), took.back());
}

// One row, one commit, one flush, one after the other: what the database does by itself.
double bare_commits(const std::string& database, double lasts) {
    record::Connection connection(database, record::Purpose::write);
    if (connection.engine() == record::Engine::sqlite) connection.rows("pragma journal_mode = wal", "t");
    connection.run("create table bare (id bigint primary key, value double precision)");
    const auto begin = Clock::now();
    int count = 0;
    for (; seconds_since(begin) < lasts; ++count) {
        connection.run("insert into bare (id, value) values (?, ?)",
                       {record::whole(count), record::Real(1.5)});
    }
    const double rate = count / seconds_since(begin);
    connection.run("drop table bare");
    return rate;
}

struct Posted {
    double a_second;
    double p50_ms;
    double p99_ms;
};

// So many phones, each posting one reading with its key after the other.
Posted post(record::Store& store, int phones, double lasts, const Size& size, int run) {
    std::vector<std::vector<double>> took(static_cast<std::size_t>(phones));
    std::vector<std::thread> threads;
    const auto begin = Clock::now();
    for (int phone = 0; phone < phones; ++phone) {
        threads.emplace_back([&, phone] {
            for (int i = 0; seconds_since(begin) < lasts; ++i) {
                auto write = bench::making("reading", reading(phone * 5 + i % 5, size));
                write.key = fmt::format("{}-{}-{}", run, phone, i);
                const auto sent = Clock::now();
                const auto answer = store.write({}, write);
                if (!answer) give_up(answer.error());
                took[static_cast<std::size_t>(phone)].push_back(1000 * seconds_since(sent));
            }
        });
    }
    for (std::thread& thread : threads) thread.join();
    const double lasted = seconds_since(begin);
    std::vector<double> all;
    for (const auto& one : took) all.insert(all.end(), one.begin(), one.end());
    std::sort(all.begin(), all.end());
    return {static_cast<double>(all.size()) / lasted, all[all.size() / 2], all[all.size() * 99 / 100]};
}

// Taken in turn, since others use the machine as well; the ratio is of each pair.
void compare_commits(record::Store& store, const std::string& bare_database, const Size& size) {
    constexpr int pairs = 5;
    constexpr double lasts = 4;
    std::vector<double> ratios;
    for (int i = 0; i < pairs; ++i) {
        const double bare = bare_commits(bare_database, lasts);
        const Posted one = post(store, 1, lasts, size, 2 * i);
        const Posted many = post(store, 100, lasts, size, 2 * i + 1);
        fmt::print(
            "bare {:.0f} commits/s; 1 phone {:.0f} readings/s ({:.0f} %); 100 phones {:.0f} readings/s "
            "({:.0f} %), p50 "
            "{:.0f} ms, p99 {:.0f} ms\n",
            bare, one.a_second, 100 * one.a_second / bare, many.a_second, 100 * many.a_second / bare,
            many.p50_ms, many.p99_ms);
        ratios.push_back(many.a_second / bare);
    }
    std::sort(ratios.begin(), ratios.end());
    fmt::print("answered readings per bare commit, 100 phones: median {:.2f} of {} pairs\n",
               ratios[pairs / 2], pairs);
}

void measure(const std::string& database, const std::string& bare_database, const std::string& backup,
             const Size& size) {
    {
        const auto store = open(database);
        fill(*store, size);
    }
    if (record::engine_of(database) == record::Engine::postgresql) {
        record::Connection(database, record::Purpose::write)
            .run("analyze");  // as its autovacuum does by itself, later
    }
    time_it("start, with the integrity check", 1, [&] { open(database); });
    const auto store = open(database);
    time_it("collection page", 7, [&] {
        const auto cards = record::collection(*store, {"home"});
        if (!cards) give_up(cards.error());
        if (cards->size() != static_cast<std::size_t>(size.enclosures) || cards->back().readings.size() != 5)
            std::exit(1);
    });
    record::LampLives lives;
    time_it("Today", 3, [&] {
        const auto due = record::due_list(*store, lives, {"home"},
                                          std::chrono::sys_days(std::chrono::year(2026) / 12 / 5));
        if (!due) give_up(due.error());
    });
    time_it("backup, read back and compared", 1, [&] {
        const auto made = record::back_up(*store, backup);
        if (!made) give_up(made.error());
    });
    compare_commits(*store, bare_database, size);
}

}  // namespace

int main(int count, char** words) {
    const std::string engine = count > 1 ? words[1] : "";
    Size size;
    if (count > 2) size.readings = std::atoi(words[2]);
    if (count > 3) size.enclosures = std::atoi(words[3]);
    if (count > 4) size.lamps = std::atoi(words[4]);
    std::string folder = (std::filesystem::temp_directory_path() / "dapple-bench-XXXXXX").string();
    if (mkdtemp(folder.data()) == nullptr) return 1;
    if (engine == "sqlite") {
        measure(folder + "/record.sqlite", folder + "/bare.sqlite", folder + "/backup", size);
    } else if (engine == "postgresql") {
        auto& server = dapple::tests::own_postgresql();
        measure(server.new_database(), server.new_database(), folder + "/backup", size);
    } else {
        fmt::print(stderr, "usage: bench_record sqlite|postgresql [readings] [enclosures] [lamps]\n");
        return 2;
    }
    std::filesystem::remove_all(folder);
    return 0;
}
