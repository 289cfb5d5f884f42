// Writers over a store that are killed at random moments (SIGKILL), and what is in the database afterwards.
//
// What must hold: every write that was answered is there as it was sent, none is there twice, also after the phone sends
// again what it got no answer for; the trail has no gap, histories no hole, the file no damage.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace dapple::tests {

struct KillPlan {
    std::string database;  // as in record::StoreOptions
    int cycles = 10;
    std::uint64_t seed = 1;                    // of the moments
    int threads = 4;                           // phones that post at once
    std::function<void()> kill_database = {};  // PostgreSQL: its server goes down with us every third time
};

struct KillReport {
    int cycles = 0;
    int killed_while_opening = 0;     // before the first answer
    std::int64_t answered = 0;        // readings and corrections whose answer was received
    std::int64_t unanswered = 0;      // sent again afterwards, because no answer had come
    std::int64_t already_stored = 0;  // of those: were there all the same
    std::int64_t readings = 0;        // in the database at the end
    std::vector<std::string> faults;  // empty: all held
};

// Forks: to be called where no other thread runs.
KillReport kill_writers(const KillPlan& plan);

}  // namespace dapple::tests
