#include "server/calculators.h"

#include <sys/resource.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <exception>
#include <future>

#include "server/answers.h"

namespace dapple::server {

namespace {

constexpr int niceness = 10;
constexpr std::size_t most_views = 10'000;

Response superseded() {
    return refusal(409, "A later request of the same view took its place");
}

}  // namespace

void give_way() {
    // On Linux a thread has a niceness of its own.
    setpriority(PRIO_PROCESS, static_cast<id_t>(syscall(SYS_gettid)), niceness);
}

Calculators::Calculators(int threads) {
    for (int i = 0; i < threads; ++i) threads_.emplace_back([this] { work(); });
}

Calculators::~Calculators() {
    {
        const std::lock_guard lock(guard_);
        ending_ = true;
        waiting_.notify_all();
    }
    for (std::thread& thread : threads_) thread.join();
}

void Calculators::work() {
    give_way();
    while (true) {
        std::function<void()> job;
        {
            std::unique_lock lock(guard_);
            waiting_.wait(lock, [this] { return ending_ || !jobs_.empty(); });
            if (jobs_.empty()) return;
            job = std::move(jobs_.front());
            jobs_.pop_front();
        }
        job();
    }
}

std::uint64_t Calculators::newest_of(const std::string& view) {
    const std::lock_guard lock(guard_);
    if (views_.size() > most_views) views_.clear();
    return views_[view] = ++turn_;
}

bool Calculators::is_superseded(const std::string& view, std::uint64_t turn) {
    const std::lock_guard lock(guard_);
    const auto found = views_.find(view);
    return found != views_.end() && found->second != turn;
}

bool Calculators::is_newest_waiting(const std::string& view) {
    const std::lock_guard lock(guard_);
    const auto found = views_.find(view);
    return found != views_.end() && found->second > 1 && !jobs_.empty();
}

Response Calculators::answer(const std::string& view,
                             const std::function<Response(const Superseded&)>& calculate) {
    const std::uint64_t turn = view.empty() ? 0 : newest_of(view);
    const Superseded is_over = [this, view, turn] { return !view.empty() && is_superseded(view, turn); };
    std::packaged_task<Response()> task([&] {
        if (is_over()) return superseded();
        Response answer = calculate(is_over);
        return is_over() ? superseded() : answer;
    });
    auto done = task.get_future();
    {
        const std::lock_guard lock(guard_);
        jobs_.emplace_back([&task] { task(); });
        waiting_.notify_one();
    }
    return done.get();  // rethrows what the calculation threw
}

}  // namespace dapple::server
