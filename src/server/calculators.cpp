#include "server/calculators.h"

#include <sys/resource.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <exception>
#include <future>

#include "server/answers.h"

namespace dapple::server {

namespace {

constexpr int niceness(Haste haste) {
    return haste == Haste::prompt ? 10 : 15;
}
constexpr std::size_t most_views = 10'000;

Response superseded() {
    return refusal(409, "A later request of the same view took its place");
}

}  // namespace

void give_way(Haste haste) {
    // On Linux a thread has a niceness of its own.
    setpriority(PRIO_PROCESS, static_cast<id_t>(syscall(SYS_gettid)), niceness(haste));
}

Calculators::Calculators(int patient_threads, int prompt_threads) {
    for (int i = 0; i < patient_threads; ++i) threads_.emplace_back([this] { work(Haste::patient); });
    for (int i = 0; i < prompt_threads; ++i) threads_.emplace_back([this] { work(Haste::prompt); });
}

Calculators::~Calculators() {
    {
        const std::lock_guard lock(guard_);
        ending_ = true;
        waiting_.notify_all();
    }
    for (std::thread& thread : threads_) thread.join();
}

void Calculators::work(Haste haste) {
    give_way(haste);
    auto& jobs = jobs_of(haste);
    while (true) {
        std::function<void()> job;
        {
            std::unique_lock lock(guard_);
            waiting_.wait(lock, [&] { return ending_ || !jobs.empty(); });
            if (jobs.empty()) return;
            job = std::move(jobs.front());
            jobs.pop_front();
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
    return found != views_.end() && found->second > 1 && !(jobs_[0].empty() && jobs_[1].empty());
}

Response Calculators::answer(const std::string& view, Haste haste,
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
        jobs_of(haste).emplace_back([&task] { task(); });
        waiting_.notify_all();  // one could wake a thread of the other haste
    }
    return done.get();  // rethrows what the calculation threw
}

}  // namespace dapple::server
