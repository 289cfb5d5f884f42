#include "record/killed.h"

#include <fmt/format.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <map>
#include <optional>
#include <random>
#include <set>
#include <sstream>
#include <stdexcept>
#include <thread>

#include "record/store.h"

namespace dapple::tests {

namespace {

using nlohmann::json;
using record::Deed;
using record::Thing;
using record::Write;
using std::chrono::milliseconds;

const record::Actor at_the_machine{};

// ---- what is written: every write follows from cycle, thread and count, so that the one who checks knows them all

std::string enclosure_of(int cycle) {
    return fmt::format("cycle-{}", cycle);
}

std::string key_of(int cycle, int thread, int count) {
    return fmt::format("{}/{}/{}", cycle, thread, count);
}

Write new_enclosure(int cycle) {
    Write write;
    write.kind = "enclosure";
    write.site = "home";
    write.key = enclosure_of(cycle);
    write.fields = {{"document",
                     {{"format", "dapple/enclosure@1"},
                      {"id", enclosure_of(cycle)},
                      {"size_cm", {60, 40, 40}},
                      {"spots", {{{"id", "bask"}, {"position_cm", {30, 20, 0}}}}}}}};
    return write;
}

Write new_reading(int cycle, int thread, int count) {
    Write write;
    write.kind = "reading";
    write.site = "home";
    write.key = key_of(cycle, thread, count);
    write.fields = {{"enclosure", enclosure_of(cycle)},
                    {"spot", "bask"},
                    {"quantity", "uvi"},
                    {"value", thread + 0.001 * count},
                    {"taken_at", fmt::format("2026-03-01T{:02}:{:02}:{:02}.000Z", count / 3600,
                                             count / 60 % 60, count % 60)},
                    {"note", write.key}};
    return write;
}

Write correction(const Thing& reading) {
    Write write;
    write.deed = Deed::change;
    write.kind = reading.kind;
    write.id = reading.id;
    write.seen = reading.revision;
    write.fields = reading.fields;
    write.fields["value"] = reading.fields["value"].get<double>() + 100;
    write.key = "corrected " + reading.fields["note"].get<std::string>();
    return write;
}

bool is_corrected(int count) {
    return count % 5 == 4;
}
bool is_sent_twice(int count) {
    return count % 7 == 3;
}

// ---- the one who will be killed

class Writer {
  public:
    Writer(record::Store& store, int answers, int cycle) : store_(store), answers_(answers), cycle_(cycle) {}

    void post_without_end(int thread) {
        for (int count = 0;; ++count) {
            const Write write = new_reading(cycle_, thread, count);
            const Thing reading = answered(write);
            if (is_sent_twice(count) && answered(write).id != reading.id) say("fault doubled " + write.key);
            say(fmt::format("{} {} 1", write.key, reading.id));
            if (!is_corrected(count)) continue;
            const Thing corrected = answered(correction(reading));
            say(fmt::format("{} {} 2", write.key, corrected.id));
        }
    }

    Thing answered(const Write& write) {
        auto answer = store_.write(at_the_machine, write);
        if (answer) return *answer;
        if (answer.error().trouble != record::Trouble::unavailable)
            say("fault " + write.key + " refused: " + to_text(answer.error().problems));
        for (;;) pause();  // the database went first; we follow
    }

    // One line is one write to the pipe, shorter than PIPE_BUF: it arrives whole or not at all.
    void say(const std::string& words) const {
        std::string line = words;
        for (char& c : line) c = c == '\n' ? ' ' : c;
        line += '\n';
        if (write(answers_, line.data(), line.size()) < 0) _exit(1);
    }

  private:
    record::Store& store_;
    int answers_;
    int cycle_;
};

[[noreturn]] void write_until_killed(const KillPlan& plan, int cycle, int answers) {
    auto store = record::Store::open({.database = plan.database});
    if (!store) {
        const std::string fault = "fault opening: " + to_text(store.error().problems) + "\n";
        if (write(answers, fault.data(), fault.size()) < 0) _exit(1);
        _exit(1);
    }
    Writer writer(**store, answers, cycle);
    writer.answered(new_enclosure(cycle));
    std::vector<std::thread> phones;
    for (int thread = 0; thread < plan.threads; ++thread)
        phones.emplace_back([&writer, thread] { writer.post_without_end(thread); });
    for (;;) pause();
}

// ---- the one who kills and checks

struct Answer {
    std::string id;
    int revision = 0;
};

struct Heard {
    std::map<std::string, Answer> answers;  // by the reading's key, the latest
    std::int64_t count = 0;
    std::vector<std::string> faults;
};

void take(Heard& heard, const std::string& line) {
    if (line.starts_with("fault")) {
        heard.faults.push_back(line);
        return;
    }
    std::istringstream words(line);
    std::string key;
    Answer answer;
    words >> key >> answer.id >> answer.revision;
    heard.answers[key] = answer;
    ++heard.count;
}

// Everything the writer said before it died; `fate` is when, after its first answer or after its birth.
Heard hear_until_killed(pid_t writer, int answers, bool while_opening, milliseconds fate,
                        const std::function<void()>& kill_too) {
    using Clock = std::chrono::steady_clock;
    std::optional<Clock::time_point> end;
    if (while_opening) end = Clock::now() + fate;
    const auto longest_opening = Clock::now() + std::chrono::minutes(2);
    std::string said;
    std::array<char, 65536> bytes{};
    for (bool alive = true;;) {
        const auto until = end.value_or(longest_opening);
        const auto left = std::chrono::ceil<milliseconds>(until - Clock::now()).count();
        if (alive && left <= 0) {
            kill(writer, SIGKILL);
            if (kill_too) kill_too();
            alive = false;
        }
        pollfd waiting{answers, POLLIN, 0};
        if (poll(&waiting, 1, alive ? static_cast<int>(left) : -1) == 0) continue;
        const ssize_t got = read(answers, bytes.data(), bytes.size());
        if (got <= 0) break;  // the writer is gone, and nothing it said is left
        if (!end) end = Clock::now() + fate;
        said.append(bytes.data(), static_cast<std::size_t>(got));
    }
    int status = 0;
    waitpid(writer, &status, 0);
    Heard heard;
    if (!WIFSIGNALED(status)) heard.faults.emplace_back("the writer ended by itself");
    std::istringstream lines(said);
    for (std::string line; std::getline(lines, line);) take(heard, line);
    return heard;
}

class Check {
  public:
    Check(record::Store& store, int cycle, const Heard& heard, KillReport& report)
        : store_(store), cycle_(cycle), heard_(heard), report_(report) {}

    void everything(int threads) {
        answered_is_there();
        for (int thread = 0; thread < threads; ++thread) send_again_what_got_no_answer(thread);
        nothing_is_there_twice();
        trail_has_no_gap();
    }

  private:
    template <class... Words>
    void fault(fmt::format_string<Words...> words, Words&&... values) {
        report_.faults.push_back(
            fmt::format("cycle {}: {}", cycle_, fmt::format(words, std::forward<Words>(values)...)));
    }

    double value_of(const std::string& key, bool corrected) const {
        int cycle = 0;
        int thread = 0;
        int count = 0;
        char stroke = 0;
        std::istringstream(key) >> cycle >> stroke >> thread >> stroke >> count;
        return new_reading(cycle, thread, count).fields["value"].get<double>() + (corrected ? 100 : 0);
    }

    void answered_is_there() {
        for (const auto& [key, answer] : heard_.answers) {
            const auto found = store_.find("reading", answer.id);
            if (!found) {
                fault("{} was answered and is lost", key);
                continue;
            }
            // The correction may have been stored without its answer being heard.
            const bool corrected = found->revision == 2;
            if (found->revision < answer.revision || found->fields["note"] != key ||
                found->fields["value"].get<double>() != value_of(key, corrected)) {
                fault("{} is not as it was answered: {}", key, to_json(*found).dump());
            }
            const auto history = store_.history("reading", answer.id);
            if (!history || history->size() != static_cast<std::size_t>(found->revision))
                fault("{} has a hole in its history", key);
        }
    }

    void send_again_what_got_no_answer(int thread) {
        if (!store_.find("enclosure", enclosure_of(cycle_))) {
            if (!heard_.answers.empty()) fault("the enclosure is lost");
            return;
        }
        int count = 0;
        while (heard_.answers.contains(key_of(cycle_, thread, count))) ++count;
        const std::size_t before = with_key(key_of(cycle_, thread, count)).size();
        const auto again = store_.write(at_the_machine, new_reading(cycle_, thread, count));
        if (!again) {
            fault("{} cannot be sent again: {}", key_of(cycle_, thread, count),
                  to_text(again.error().problems));
            return;
        }
        ++report_.unanswered;
        report_.already_stored += static_cast<std::int64_t>(before);
        if (with_key(key_of(cycle_, thread, count)).size() != 1)
            fault("{} is not there once after it was sent again", key_of(cycle_, thread, count));
    }

    std::vector<Thing> with_key(const std::string& key) {
        const auto page =
            store_.list({.kind = "reading", .equal = {{"note", key}, {"enclosure", enclosure_of(cycle_)}}});
        if (page) return page->things;
        fault("readings cannot be listed: {}", to_text(page.error().problems));
        return {};
    }

    void nothing_is_there_twice() {
        std::set<std::string> seen;
        record::Query query{
            .kind = "reading", .equal = {{"enclosure", enclosure_of(cycle_)}}, .limit = 10'000};
        do {
            const auto page = store_.list(query);
            if (!page) return fault("readings cannot be listed: {}", to_text(page.error().problems));
            for (const Thing& reading : page->things) {
                if (!seen.insert(reading.fields["note"].get<std::string>()).second)
                    fault("{} is there twice", reading.fields["note"].get<std::string>());
            }
            query.after = page->next;
        } while (!query.after.empty());
        report_.readings += static_cast<std::int64_t>(seen.size());
    }

    void trail_has_no_gap() {
        const auto newest = store_.changes({.newest_first = true, .limit = 10'000});
        if (!newest) return fault("the trail cannot be read: {}", to_text(newest.error().problems));
        for (std::size_t i = 1; i < newest->size(); ++i) {
            if ((*newest)[i].seq != (*newest)[i - 1].seq - 1)
                fault("the trail has a gap at {}", (*newest)[i].seq);
        }
    }

    record::Store& store_;
    int cycle_;
    const Heard& heard_;
    KillReport& report_;
};

// Opening looks through the whole file (integrity, foreign keys).
std::unique_ptr<record::Store> opened(const KillPlan& plan) {
    auto store = record::Store::open({.database = plan.database});
    if (!store) throw std::runtime_error(to_text(store.error().problems));
    return std::move(*store);
}

void make_site(const KillPlan& plan) {
    Write site;
    site.kind = "site";
    site.id = "home";
    site.fields = {{"name", "Home"}};
    const auto made = opened(plan)->write(at_the_machine, site);
    if (!made) throw std::runtime_error(to_text(made.error().problems));
}

}  // namespace

KillReport kill_writers(const KillPlan& plan) {
    KillReport report;
    make_site(plan);
    std::mt19937_64 random(plan.seed);
    for (int cycle = 0; cycle < plan.cycles; ++cycle, ++report.cycles) {
        const bool while_opening = random() % 5 == 0;
        const milliseconds fate(random() % 60);
        std::array<int, 2> ends{};
        if (pipe(ends.data()) != 0) throw std::runtime_error("no pipe");
        const pid_t writer = fork();
        if (writer < 0) throw std::runtime_error("no process");
        if (writer == 0) {
            close(ends[0]);
            write_until_killed(plan, cycle, ends[1]);
        }
        close(ends[1]);
        const bool both = plan.kill_database && cycle % 3 == 2;
        const Heard heard =
            hear_until_killed(writer, ends[0], while_opening, fate, both ? plan.kill_database : nullptr);
        close(ends[0]);
        report.answered += heard.count;
        report.killed_while_opening += heard.count == 0 ? 1 : 0;
        report.faults.insert(report.faults.end(), heard.faults.begin(), heard.faults.end());
        try {
            const auto store = opened(plan);
            Check(*store, cycle, heard, report).everything(plan.threads);
        } catch (const std::exception& error) {
            report.faults.push_back(fmt::format("cycle {}: does not open: {}", cycle, error.what()));
            return report;
        }
    }
    return report;
}

}  // namespace dapple::tests
