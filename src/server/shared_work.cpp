#include "server/shared_work.h"

#include <exception>
#include <optional>

namespace dapple::server {

struct SharedWork::Round {
    std::optional<Response> answer;
    std::exception_ptr fault;
    bool begun = false;
};

Response SharedWork::answer(const std::string& question, const std::function<Response()>& work) {
    std::unique_lock lock(guard_);
    Rounds& rounds = rounds_[question];
    if (!rounds.next) rounds.next = std::make_shared<Round>();
    const auto mine = rounds.next;
    const auto finished = [&] { return mine->answer || mine->fault; };
    // Until another has worked it out, or it is this one's turn to.
    done_.wait(lock, [&] { return finished() || (!mine->begun && !rounds_[question].running); });
    if (!finished()) {
        mine->begun = true;
        rounds_[question] = {true, nullptr};
        lock.unlock();
        std::optional<Response> answer;
        std::exception_ptr fault;
        try {
            answer = work();
        } catch (...) {
            fault = std::current_exception();
        }
        lock.lock();
        mine->answer = std::move(answer);
        mine->fault = fault;
        Rounds& now = rounds_[question];
        now.running = false;
        if (!now.next) rounds_.erase(question);
        done_.notify_all();
    }
    if (mine->fault) std::rethrow_exception(mine->fault);
    return *mine->answer;
}

}  // namespace dapple::server
