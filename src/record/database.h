// The connections of a store: one writer with group commit, a few readers, and what their troubles mean to people.
// For this folder only.
#pragma once

#include <chrono>
#include <condition_variable>
#include <deque>
#include <functional>
#include <future>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "record/connection.h"
#include "record/refusal.h"

namespace dapple::record {

// What a database's error means, and what to do about it. `where` is the database as the person named it; a password
// in it is not repeated.
Refusal refusal_of(const soci::soci_error& error, const std::string& where);
bool connection_was_lost(const soci::soci_error& error);
std::string without_password(const std::string& database);

class Database {
  public:
    Database(std::string database, int readers);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;

    const std::string& where() const { return where_; }
    Engine engine() const { return engine_; }

    // `work` may run more than once (after a lost connection) and on the caller's thread.
    template <class T>
    Result<T> read(const std::function<Result<T>(Connection&)>& work, bool snapshot = false) {
        std::optional<Result<T>> answer;
        const auto refused = read_any([&](Connection& c) { answer = work(c); }, snapshot);
        if (refused) return tl::unexpected(*refused);
        return std::move(*answer);
    }

    // `work` runs on the writer's thread, in a transaction it shares with other writes, perhaps more than once. A refusal
    // must leave nothing written (look first, or use all_or_none). Returns when everything is safe on the disk.
    template <class T>
    Result<T> write(const std::function<Result<T>(Connection&)>& work) {
        auto answer = std::make_shared<std::optional<Result<T>>>();
        const auto refused = submit([answer, work](Connection& c) { answer->emplace(work(c)); }).get();
        if (refused) return tl::unexpected(*refused);
        return std::move(**answer);
    }

    // Several writes at once, each for itself.
    template <class T>
    std::vector<Result<T>> write_each(const std::vector<std::function<Result<T>(Connection&)>>& works) {
        std::vector<std::shared_ptr<std::optional<Result<T>>>> answers;
        std::vector<std::future<std::optional<Refusal>>> safe;
        for (const auto& work : works) {
            auto answer = std::make_shared<std::optional<Result<T>>>();
            answers.push_back(answer);
            safe.push_back(submit([answer, work](Connection& c) { answer->emplace(work(c)); }));
        }
        std::vector<Result<T>> result;
        for (std::size_t i = 0; i < works.size(); ++i) {
            const auto refused = safe[i].get();
            if (refused) {
                result.push_back(tl::unexpected(*refused));
            } else {
                result.push_back(std::move(**answers[i]));
            }
        }
        return result;
    }

    // Wakes up after the next write of this process, or when the time is over.
    void wait_for_write(std::chrono::milliseconds most);

  private:
    using Work = std::function<void(Connection&)>;
    struct Job {
        Work work;
        std::promise<std::optional<Refusal>> safe;
    };

    std::optional<Refusal> read_any(const Work& work, bool snapshot);
    std::unique_ptr<Connection> borrow(bool snapshot);
    void give_back(std::unique_ptr<Connection> connection, bool snapshot);

    std::future<std::optional<Refusal>> submit(Work work);
    void write_on();
    void settle(std::vector<Job>& batch);
    std::optional<Refusal> attempt(std::vector<Job>& batch, std::size_t from, std::size_t to);
    std::optional<Refusal> attempt_once(std::vector<Job>& batch, std::size_t from, std::size_t to,
                                        bool& again);

    const std::string where_;
    const Engine engine_;

    std::mutex readers_mutex_;
    std::condition_variable reader_free_;
    std::vector<std::unique_ptr<Connection>> idle_;
    // Snapshots are the long reads (a whole collection): they leave half of the connections to the short ones, which every
    // request begins with (who asks?), so that a reading does not wait until lists are through.
    const int most_snapshots_;
    int unborrowed_;
    int snapshots_ = 0;

    std::mutex jobs_mutex_;
    std::condition_variable job_waiting_;
    std::condition_variable written_;
    std::deque<Job> jobs_;
    std::uint64_t batches_ = 0;
    bool ending_ = false;
    std::unique_ptr<Connection> writer_;
    std::thread thread_;
};

// Runs `work` so that a refusal takes back what it wrote.
template <class T>
Result<T> all_or_none(Connection& connection, const std::function<Result<T>(Connection&)>& work) {
    connection.run("savepoint all_or_none");
    Result<T> answer = work(connection);
    if (!answer) connection.run("rollback to savepoint all_or_none");
    connection.run("release savepoint all_or_none");
    return answer;
}

}  // namespace dapple::record
