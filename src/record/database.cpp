#include "record/database.h"

namespace dapple::record {

namespace {

// Writes that share one flush. More would make the first of them wait for the last.
constexpr std::size_t largest_batch = 256;

}  // namespace

Database::Database(std::string database, int readers)
    : where_(std::move(database)),
      engine_(engine_of(where_)),
      most_snapshots_(std::max(1, readers / 2)),
      unborrowed_(std::max(1, readers)) {
    writer_ = std::make_unique<Connection>(where_, Purpose::write);
    thread_ = std::thread([this] { write_on(); });
}

Database::~Database() {
    {
        const std::lock_guard lock(jobs_mutex_);
        ending_ = true;
    }
    job_waiting_.notify_all();
    thread_.join();
}

// ---- reading

std::unique_ptr<Connection> Database::borrow(bool snapshot) {
    std::unique_ptr<Connection> connection;
    {
        std::unique_lock lock(readers_mutex_);
        reader_free_.wait(lock,
                          [&] { return unborrowed_ > 0 && (!snapshot || snapshots_ < most_snapshots_); });
        --unborrowed_;
        if (snapshot) ++snapshots_;
        if (!idle_.empty()) {
            connection = std::move(idle_.back());
            idle_.pop_back();
        }
    }
    if (connection) return connection;
    try {
        return std::make_unique<Connection>(where_, Purpose::read);
    } catch (...) {
        give_back(nullptr, snapshot);
        throw;
    }
}

void Database::give_back(std::unique_ptr<Connection> connection, bool snapshot) {
    {
        const std::lock_guard lock(readers_mutex_);
        ++unborrowed_;
        if (snapshot) --snapshots_;
        if (connection) idle_.push_back(std::move(connection));
    }
    reader_free_.notify_all();  // they wait for different things
}

std::optional<Refusal> Database::read_any(const Work& work, bool snapshot) {
    for (const bool last : {false, true}) {
        std::unique_ptr<Connection> connection;
        try {
            connection = borrow(snapshot);
            if (snapshot) connection->begin_snapshot();
            work(*connection);
            if (snapshot) connection->commit();
            give_back(std::move(connection), snapshot);
            return std::nullopt;
        } catch (const soci::soci_error& error) {
            const bool lost = connection_was_lost(error);
            if (connection) {
                if (snapshot && !lost) connection->roll_back();
                if (lost) connection.reset();
                give_back(std::move(connection), snapshot);
            }
            if (!lost) return refusal_of(error, where_);
            // The connections kept are as dead as this one.
            const std::lock_guard lock(readers_mutex_);
            idle_.clear();
            if (last) return refusal_of(error, where_);
        } catch (...) {
            if (connection && snapshot) connection->roll_back();
            if (connection) give_back(std::move(connection), snapshot);
            throw;
        }
    }
    return std::nullopt;
}

// ---- writing

std::future<std::optional<Refusal>> Database::submit(Work work) {
    Job job{std::move(work), {}};
    auto safe = job.safe.get_future();
    {
        const std::lock_guard lock(jobs_mutex_);
        jobs_.push_back(std::move(job));
    }
    job_waiting_.notify_one();
    return safe;
}

// While one batch is being flushed to the disk, the next one gathers: the slower the disk, the larger the batches.
void Database::write_on() {
    for (;;) {
        std::vector<Job> batch;
        {
            std::unique_lock lock(jobs_mutex_);
            job_waiting_.wait(lock, [this] { return ending_ || !jobs_.empty(); });
            if (jobs_.empty()) return;
            while (!jobs_.empty() && batch.size() < largest_batch) {
                batch.push_back(std::move(jobs_.front()));
                jobs_.pop_front();
            }
        }
        settle(batch);
        {
            const std::lock_guard lock(jobs_mutex_);
            ++batches_;
        }
        written_.notify_all();
    }
}

// All together; where that fails, each alone, so that one write's fault is no other's.
void Database::settle(std::vector<Job>& batch) {
    auto refused = attempt(batch, 0, batch.size());
    const bool apart = refused && batch.size() > 1 && refused->trouble != Trouble::unavailable;
    for (std::size_t i = 0; i < batch.size(); ++i) {
        if (apart) refused = attempt(batch, i, i + 1);
        batch[i].safe.set_value(refused);
    }
}

std::optional<Refusal> Database::attempt(std::vector<Job>& batch, std::size_t from, std::size_t to) {
    bool again = false;
    auto refused = attempt_once(batch, from, to, again);
    if (again) refused = attempt_once(batch, from, to, again);
    return refused;
}

// `again`: the connection turned out to be dead before anything could have been stored.
std::optional<Refusal> Database::attempt_once(std::vector<Job>& batch, std::size_t from, std::size_t to,
                                              bool& again) {
    bool committing = false;
    try {
        if (!writer_) writer_ = std::make_unique<Connection>(where_, Purpose::write);
        writer_->begin_write();
        for (std::size_t i = from; i < to; ++i) batch[i].work(*writer_);
        committing = true;
        writer_->commit();
        again = false;
        return std::nullopt;
    } catch (const soci::soci_error& error) {
        const bool lost = connection_was_lost(error);
        again = lost && !committing;
        Refusal refusal = refusal_of(error, where_);
        refusal.unsure = lost && committing;
        if (lost) {
            writer_.reset();
        } else {
            writer_->roll_back();
        }
        return refusal;
    } catch (const std::exception& fault) {
        // A fault of ours in one write must not end the writer.
        again = false;
        if (writer_) writer_->roll_back();
        Refusal refusal;
        refusal.trouble = Trouble::invalid;
        refusal.problems = {
            {"", "record", std::string("a fault of Dapple's own: ") + fault.what(), "please report it"}};
        return refusal;
    }
}

void Database::wait_for_write(std::chrono::milliseconds most) {
    std::unique_lock lock(jobs_mutex_);
    const std::uint64_t seen = batches_;
    written_.wait_for(lock, most, [&] { return batches_ != seen || ending_; });
}

}  // namespace dapple::record
