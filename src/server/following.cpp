#include "server/following.h"

#include <exception>

namespace dapple::server {

namespace {

constexpr std::chrono::milliseconds look_again{500};  // how soon the end is noticed
// Between two looks, so that a hundred phones that write do not make a hundred looks a second of it.
constexpr std::chrono::milliseconds gather{50};
constexpr int at_once = 1000;

std::int64_t newest_of(const record::Store& store) {
    record::ChangeQuery last;
    last.newest_first = true;
    last.limit = 1;
    const auto changes = store.changes(last);
    return changes && !changes->empty() ? changes->front().seq : 0;
}

}  // namespace

Following::Following(const record::Store& store, std::function<void(const std::vector<record::Change>&)> seen)
    : store_(store), seen_(std::move(seen)), newest_(newest_of(store)), thread_([this] { follow(); }) {}

Following::~Following() {
    end();
    thread_.join();
}

void Following::end() {
    const std::lock_guard lock(guard_);
    ending_ = true;
    changed_.notify_all();
}

bool Following::ending() const {
    const std::lock_guard lock(guard_);
    return ending_;
}

std::int64_t Following::newest() const {
    const std::lock_guard lock(guard_);
    return newest_;
}

void Following::wait(std::int64_t after, std::chrono::milliseconds most) const {
    std::unique_lock lock(guard_);
    changed_.wait_for(lock, most, [&] { return ending_ || newest_ > after; });
}

void Following::follow() {
    std::int64_t at = newest();
    while (!ending()) {
        const auto now = store_.wait_for_change(at, look_again);
        if (!now) {  // the database is away; it is asked again
            std::unique_lock lock(guard_);
            changed_.wait_for(lock, look_again, [&] { return ending_; });
            continue;
        }
        if (*now <= at) continue;
        record::ChangeQuery query;
        query.after = at;
        query.limit = at_once;
        const auto changes = store_.changes(query);
        if (!changes || changes->empty()) continue;
        at = changes->back().seq;
        seen_(*changes);
        std::unique_lock lock(guard_);
        newest_ = at;
        changed_.notify_all();
        changed_.wait_for(lock, gather, [&] { return ending_; });
    }
}

}  // namespace dapple::server
