#include "server/tries.h"

#include <algorithm>
#include <cmath>

namespace dapple::server {

namespace {

constexpr double at_once = 8;
constexpr double fades_s = 90;  // one failure is forgotten in so many seconds
constexpr std::size_t most_kept = 20'000;

}  // namespace

double Tries::faded(const Record& record, Time now) {
    const std::chrono::duration<double> since = now - record.at;
    return std::max(0.0, record.failures - since.count() / fades_s);
}

std::chrono::seconds Tries::wait(const std::string& who, Time now) {
    const std::lock_guard lock(guard_);
    const auto found = of_.find(who);
    if (found == of_.end()) return std::chrono::seconds(0);
    const double over = faded(found->second, now) - at_once + 1;
    return std::chrono::seconds(static_cast<long>(std::ceil(std::max(0.0, over) * fades_s)));
}

void Tries::failed(const std::string& who, Time now) {
    const std::lock_guard lock(guard_);
    if (of_.size() > most_kept) {
        std::erase_if(of_, [now](const auto& entry) { return faded(entry.second, now) == 0; });
    }
    Record& record = of_[who];
    record.failures = faded(record, now) + 1;
    record.at = now;
}

void Tries::succeeded(const std::string& who) {
    const std::lock_guard lock(guard_);
    of_.erase(who);
}

}  // namespace dapple::server
