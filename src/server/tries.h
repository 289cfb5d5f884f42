// How often somebody may try a password: for each login and for each address, a few failures at once and then one now
// and again, so that a list of common passwords takes years.
#pragma once

#include <chrono>
#include <map>
#include <mutex>
#include <string>

namespace dapple::server {

class Tries {
  public:
    using Time = std::chrono::steady_clock::time_point;

    // How long to wait before the next try; 0: now.
    std::chrono::seconds wait(const std::string& who, Time now);
    void failed(const std::string& who, Time now);
    void succeeded(const std::string& who);

  private:
    struct Record {
        double failures = 0;  // they fade
        Time at = {};
    };
    static double faded(const Record& record, Time now);

    std::mutex guard_;
    std::map<std::string, Record> of_;
};

}  // namespace dapple::server
