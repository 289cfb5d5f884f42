// Kill -9 under load, again and again: is every answered write there, none doubled, the database whole
// (tests/record/killed.h)? Ends with 1 if not.
// Usage: bench_killed sqlite|postgresql [cycles, 100] [seed, 1]
#include "record/killed.h"

#include <fmt/format.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>

#include "record/own_postgresql.h"

namespace {

using namespace dapple::tests;

int report(const KillPlan& plan) {
    const auto begin = std::chrono::steady_clock::now();
    const KillReport result = kill_writers(plan);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
    for (const std::string& fault : result.faults) fmt::print("{}\n", fault);
    fmt::print(
        "{} kills ({} before the first answer) in {:.0f} s; {} answers received, {} readings stored; {} sent "
        "again, of which {} were stored already; {} faults\n",
        result.cycles, result.killed_while_opening, took.count(), result.answered, result.readings,
        result.unanswered, result.already_stored, result.faults.size());
    return result.faults.empty() && result.cycles == plan.cycles ? 0 : 1;
}

}  // namespace

int main(int count, char** words) {
    const std::string engine = count > 1 ? words[1] : "";
    KillPlan plan;
    plan.cycles = count > 2 ? std::atoi(words[2]) : 100;
    plan.seed = count > 3 ? std::strtoull(words[3], nullptr, 10) : 1;
    if (engine == "postgresql") {
        OwnPostgresql& server = own_postgresql();
        plan.database = server.new_database();
        plan.kill_database = [&server] {
            server.stop();
            server.start();
        };
        return report(plan);
    }
    if (engine != "sqlite") {
        fmt::print(stderr, "usage: bench_killed sqlite|postgresql [cycles] [seed]\n");
        return 2;
    }
    std::string folder = (std::filesystem::temp_directory_path() / "dapple-killed-XXXXXX").string();
    if (mkdtemp(folder.data()) == nullptr) return 1;
    plan.database = folder + "/record.sqlite";
    const int status = report(plan);
    std::filesystem::remove_all(folder);
    return status;
}
