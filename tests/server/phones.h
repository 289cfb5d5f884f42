// Phones that post readings over HTTP, each value with an id and a key of its own, and send again what they got no
// answer for; and what is in the record afterwards.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <mutex>
#include <string>
#include <vector>

namespace dapple::tests {

struct Posted {
    std::string id;
    double value;
    bool acknowledged;
};

struct PhonePlan {
    std::vector<int> ports;  // one phone after the other takes the next
    int phones = 4;
    int pause_ms = 0;    // between two values of a phone, on average
    int enclosures = 1;  // the phones' are spread over them
    std::uint64_t seed = 1;
};

struct Gathered {
    std::vector<Posted> posted;
    std::vector<double> took_ms;  // of each acknowledged post
    std::vector<std::string> faults;
};

// What the phones need to stand in the record: a site "home" and enclosures "box-0", "box-1" and so on. Sent once.
void make_collection(int port, int enclosures = 1);

// Posts until `ends` says so. A lost connection is no fault; the value is sent again with its key.
Gathered post_readings(const PhonePlan& plan, const std::function<bool()>& ends);

// Everything that was acknowledged is there once and as it was sent; what was not is there once or not at all. The rest is
// named.
std::vector<std::string> missing_or_doubled(int port, const std::vector<Posted>& posted);

}  // namespace dapple::tests
