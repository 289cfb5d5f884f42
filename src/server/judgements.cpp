#include "server/judgements.h"

#include <algorithm>
#include <exception>

#include "husbandry/verdict.h"
#include "inference/fit_judge.h"
#include "record/last_round.h"
#include "server/calculators.h"
#include "server/documents.h"

namespace dapple::server {

namespace {

// A survey comes value by value; its verdict waits until the last of them has been quiet for so long.
constexpr std::chrono::seconds quiet{2};
// So many changes at once are an import: everything is looked at again.
constexpr std::size_t many_changes = 200;

void add(const Problems& problems, Kept& kept) {
    for (const Problem& problem : problems) kept.problems.push_back(problem.message());
}

}  // namespace

Kept judged(const record::Store& store, const record::Thing& thing) {
    Kept kept;
    const auto enclosure = parse_kept(store, thing);
    if (!enclosure) {
        add(enclosure.error(), kept);
        return kept;
    }
    const auto judgement = judged_by_record(store, *enclosure, thing.id);
    if (judgement) {
        kept.judgement = husbandry::to_json(*judgement);
    } else {
        add(judgement.error(), kept);
    }
    return kept;
}

Judgements::Judgements(const record::Store& store, unsigned threads) : store_(store) {
    for (unsigned i = 0; i < std::max(1U, threads); ++i) threads_.emplace_back([this] { work(); });
}

Judgements::~Judgements() {
    {
        const std::lock_guard lock(guard_);
        ending_ = true;
        waiting_.notify_all();
    }
    for (std::thread& thread : threads_) thread.join();
}

void Judgements::queue(const std::string& id, Entry& entry) {
    if (entry.queued) {
        entry.again = true;
        return;
    }
    entry.queued = true;
    queue_.push_back(id);
    waiting_.notify_all();
}

std::optional<Kept> Judgements::of(const record::Thing& enclosure) {
    const std::lock_guard lock(guard_);
    Entry& entry = entries_[enclosure.id];
    const bool of_this = entry.revision == enclosure.revision;
    entry.asked = std::max(entry.asked, enclosure.revision);
    if (!of_this || entry.stale) queue(enclosure.id, entry);
    if (!of_this) return std::nullopt;
    return entry.kept;
}

void Judgements::note(const record::Change& change) {
    if (change.kind == "enclosure") {
        const auto entry = entries_.find(change.id);
        if (entry != entries_.end()) entry->second.stale = true;
    }
    if (change.kind == "calibration" || change.kind == "file" || change.kind == "import") {
        for (auto& [id, entry] : entries_) entry.stale = true;
    }
}

void Judgements::changed(const std::vector<record::Change>& changes) {
    std::vector<std::string> read;  // enclosures with new or corrected readings
    if (changes.size() < many_changes) {
        for (const record::Change& change : changes) {
            if (change.kind != "reading" && change.kind != "lamp_event") continue;
            const auto thing = store_.find(change.kind, change.id);
            if (thing) read.push_back(thing->fields.value("enclosure", ""));
        }
    }
    const std::lock_guard lock(guard_);
    for (const record::Change& change : changes) note(change);
    if (changes.size() >= many_changes) {
        for (auto& [id, entry] : entries_) entry.stale = true;
    }
    for (const std::string& id : read) {
        const auto entry = entries_.find(id);
        if (entry != entries_.end()) entry->second.stale = true;
    }
    // Nobody may be looking: verdicts are worked out when they are asked for (of).
}

void Judgements::work() {
    give_way();
    std::unique_lock lock(guard_);
    while (true) {
        waiting_.wait(lock, [this] { return ending_ || !queue_.empty(); });
        if (ending_) return;
        const std::string id = queue_.front();
        queue_.pop_front();
        const Entry& entry = entries_[id];
        if (entry.revision != 0 && entry.stale) waiting_.wait_for(lock, quiet, [this] { return ending_; });
        if (ending_) return;
        work_out(id, lock);
    }
}

// Never twice at once for one enclosure: the older of two verdicts must not come last.
void Judgements::work_out(const std::string& id, std::unique_lock<std::mutex>& lock) {
    Entry& entry = entries_[id];
    entry.stale = false;
    entry.again = false;
    lock.unlock();
    Kept kept;
    std::int64_t revision = -1;
    try {
        const auto thing = store_.find("enclosure", id);
        if (thing) {
            kept = judged(store_, *thing);
            revision = thing->revision;
        }
    } catch (const std::exception& fault) {  // one enclosure must not take the others' verdicts away
        kept.problems = {std::string("A fault of the program's own: ") + fault.what()};
    }
    lock.lock();
    entry.queued = false;
    if (revision < 0) return;  // it is gone, or the record is: whoever asks again starts it again
    entry.revision = revision;
    entry.kept = std::move(kept);
    if ((entry.again && entry.stale) || revision < entry.asked) queue(id, entry);
}

}  // namespace dapple::server
