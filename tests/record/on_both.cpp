#include "record/on_both.h"

#include <random>

#include "record/own_postgresql.h"

namespace dapple::tests {

using nlohmann::json;
using record::Thing;

INSTANTIATE_TEST_SUITE_P(Record, OnBoth, testing::Values(On::sqlite, On::postgresql), [](const auto& on) {
    return std::string(on.param == On::sqlite ? "sqlite" : "postgresql");
});

record::Clock steady_clock() {
    auto ticks = std::make_shared<std::atomic<std::int64_t>>(0);
    return [ticks] {
        return *record::moment_of("2026-03-01T08:00:00Z") + std::chrono::milliseconds((*ticks)++);
    };
}

record::Chance steady_chance(std::uint64_t seed) {
    struct State {
        std::mutex mutex;
        std::mt19937_64 engine;
    };
    auto state = std::make_shared<State>();
    state->engine.seed(seed);
    return [state](std::span<unsigned char> bytes) {
        const std::lock_guard lock(state->mutex);
        for (unsigned char& byte : bytes) byte = static_cast<unsigned char>(state->engine());
    };
}

Folder::Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "dapple record XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = name;
}

Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

std::string OnBoth::new_database() {
    return new_database_on(GetParam());
}

std::string OnBoth::new_database_on(On on) {
    if (on == On::postgresql) return own_postgresql().new_database();
    return folder.file("record-" + std::to_string(++databases_) + ".sqlite");
}

record::StoreOptions OnBoth::options(const std::string& where) const {
    record::StoreOptions options;
    options.database = where;
    options.clock = steady_clock();
    options.chance = steady_chance();
    return options;
}

std::unique_ptr<record::Store> OnBoth::open(const std::string& where) {
    auto opened = record::Store::open(options(where));
    if (!opened) throw std::runtime_error(words_of(opened.error()));
    return std::move(*opened);
}

void OnBoth::SetUp() {
    database = new_database();
    store = open(database);
    must(store->write(me, making("site", {{"name", "Home"}}, "home", "")));
}

json document(const std::string& id, const std::string& name) {
    return {{"format", "dapple/enclosure@1"},
            {"id", id},
            {"name", name},
            {"size_cm", {120, 60, 60}},
            {"spots", {{{"id", "bask"}, {"position_cm", {60, 30, 0}}, {"role", "bask"}}}}};
}

record::Write making(const std::string& kind, json fields, const std::string& id, const std::string& site) {
    record::Write write;
    write.kind = kind;
    write.id = id;
    write.site = site;
    write.fields = std::move(fields);
    return write;
}

record::Write changing(const Thing& thing, json fields) {
    record::Write write;
    write.deed = record::Deed::change;
    write.kind = thing.kind;
    write.id = thing.id;
    write.seen = thing.revision;
    write.fields = std::move(fields);
    return write;
}

std::string words_of(const record::Refusal& refusal) {
    return std::string(record::name(refusal.trouble)) + ": " + to_text(refusal.problems);
}

Thing must(const record::Result<Thing>& result) {
    if (!result) throw std::runtime_error(words_of(result.error()));
    return *result;
}

}  // namespace dapple::tests
