// One look at the record for all who follow it: a thread waits for the next change, whoever made it (another process
// too), and wakes everybody up.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

#include "record/store.h"

namespace dapple::server {

class Following {
  public:
    // `seen` is told of every change, on the following thread.
    Following(const record::Store& store, std::function<void(const std::vector<record::Change>&)> seen);
    ~Following();
    Following(const Following&) = delete;
    Following& operator=(const Following&) = delete;

    std::int64_t newest() const;

    // Wakes up once there is a change above `after`, at the end, or when the time is over.
    void wait(std::int64_t after, std::chrono::milliseconds most) const;
    bool ending() const;
    void end();  // lets every waiter go

  private:
    void follow();

    const record::Store& store_;
    const std::function<void(const std::vector<record::Change>&)> seen_;
    mutable std::mutex guard_;
    mutable std::condition_variable changed_;
    std::int64_t newest_ = 0;
    bool ending_ = false;
    std::thread thread_;
};

}  // namespace dapple::server
