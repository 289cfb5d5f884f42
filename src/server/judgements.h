// What the program thinks of every enclosure of the record, worked out beside the requests, an enclosure a core, and kept
// until the enclosure, its readings or a meter's calibration change. The verdict rests on the last round of readings
// where there is one.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <map>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "record/store.h"

namespace dapple::server {

struct Kept {  // NOLINT(bugprone-exception-escape): JSON moves without throwing but for a lack of memory
    nlohmann::json judgement;           // null: it cannot be judged
    std::vector<std::string> problems;  // why not
};

class Judgements {
  public:
    explicit Judgements(const record::Store& store, unsigned threads = std::thread::hardware_concurrency());
    ~Judgements();
    Judgements(const Judgements&) = delete;
    Judgements& operator=(const Judgements&) = delete;

    // As it stands; nothing: it is being worked out (asking is what starts it). What was thought of this revision before
    // its latest readings stands until the new verdict is there.
    std::optional<Kept> of(const record::Thing& enclosure);

    // What others, or this process, have changed.
    void changed(const std::vector<record::Change>& changes);

  private:
    struct Entry {                  // NOLINT(bugprone-exception-escape): as above
        std::int64_t revision = 0;  // that `kept` is of; 0: none yet
        std::int64_t asked = 0;     // the newest that somebody asked about
        Kept kept = {};
        bool stale = false;
        bool queued = false;  // or being worked out
        bool again = false;   // asked for anew while it was worked out
    };
    void work();
    void work_out(const std::string& id, std::unique_lock<std::mutex>& lock);
    void queue(const std::string& id, Entry& entry);
    void note(const record::Change& change);

    const record::Store& store_;
    std::mutex guard_;
    std::condition_variable waiting_;
    std::map<std::string, Entry> entries_;
    std::deque<std::string> queue_;
    bool ending_ = false;
    std::vector<std::thread> threads_;
};

// At once, on this thread.
Kept judged(const record::Store& store, const record::Thing& enclosure);

}  // namespace dapple::server
