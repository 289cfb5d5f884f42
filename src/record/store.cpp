#include "record/store.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "record/database.h"
#include "record/migrations.h"
#include "record/rows.h"
#include "record/writing.h"

namespace dapple::record {

namespace {

constexpr int most_listed = 10'000;

// "?, ?, ?", each site a parameter; without sites nothing matches.
std::string marks_for(const std::vector<std::string>& sites, Row& parameters) {
    std::string marks;
    for (const std::string& site : sites) {
        marks += marks.empty() ? "?" : ", ?";
        parameters.push_back(text(site));
    }
    return marks.empty() ? "''" : marks;
}

tl::unexpected<Refusal> unknown_kind(const std::string& kind) {
    return refuse_as(Trouble::invalid,
                     {"", "kind", "\"" + kind + "\"", "a kind of thing that the record keeps"});
}

Result<void> look_through(Connection& connection, const std::string& where) {
    if (connection.engine() == Engine::postgresql) return {};  // checks its pages by itself
    const auto found = connection.rows("pragma integrity_check", "t");
    const auto dangling = connection.rows("select count(*) from pragma_foreign_key_check", "i");
    if (found.size() == 1 && text_of(found[0][0]) == "ok" && whole_of(dangling[0][0]) == 0) return {};
    const std::string what = text_of(found[0][0]) == "ok"
                                 ? fmt::format("{} rows that refer to nothing", whole_of(dangling[0][0]))
                                 : text_of(found[0][0]);
    return refuse_as(Trouble::damaged,
                     {without_password(where), "", "a damaged database: " + what,
                      "put the file aside unchanged and restore a backup (dapple restore)"});
}

// Readers and a writer beside each other, and a log that is flushed at every commit.
Result<void> set_up_file(Connection& connection, const std::string& where) {
    if (connection.engine() == Engine::postgresql) {
        const auto encoding = connection.rows("select current_setting('server_encoding')", "t");
        if (text_of(encoding[0][0]) == "UTF8") return {};
        return refuse_as(Trouble::invalid,
                         {without_password(where), "encoding", text_of(encoding[0][0]), "UTF8"});
    }
    const auto mode = connection.rows("pragma journal_mode = wal", "t");
    if (text_of(mode[0][0]) == "wal") return {};
    return refuse_as(Trouble::unavailable,
                     {where, "", "a file system on which SQLite cannot keep a write-ahead log",
                      "a folder on a disk of this machine"});
}

Result<void> made_ready(Connection& connection, const StoreOptions& options) {
    if (auto version = version_of(connection); !version) return tl::unexpected(version.error());
    if (auto set_up = set_up_file(connection, options.database); !set_up) return set_up;
    if (options.check_integrity) {
        if (auto whole = look_through(connection, options.database); !whole) return whole;
    }
    return migrate(connection, options.clock());
}

Result<void> place_is_usable(const std::string& database) {
    if (engine_of(database) == Engine::postgresql) return {};
    if (database.empty() || database.find('"') != std::string::npos) {
        return refuse_as(Trouble::invalid, {database, "", "no name for a database",
                                            "a file's path without quotes, or postgresql://..."});
    }
    const auto folder = std::filesystem::absolute(database).parent_path();
    std::error_code ignored;
    if (std::filesystem::is_directory(folder, ignored)) return {};
    return refuse_as(Trouble::unavailable,
                     {folder.string(), "", "no such folder", "a folder that is there and may be written"});
}

}  // namespace

struct Store::State {
    explicit State(const StoreOptions& given) : options(given), database(given.database, given.readers) {}
    StoreOptions options;
    Database database;
};

Store::Store(std::unique_ptr<State> state) : state_(std::move(state)) {}
Store::~Store() = default;

Result<std::unique_ptr<Store>> Store::open(const StoreOptions& options) {
    if (auto usable = place_is_usable(options.database); !usable) return tl::unexpected(usable.error());
    try {
        Connection connection(options.database, Purpose::write);
        auto ready = made_ready(connection, options);
        if (!ready) {
            connection.roll_back();
            Refusal refusal = ready.error();
            for (Problem& problem : refusal.problems) {
                if (problem.file.empty()) problem.file = without_password(options.database);
            }
            return tl::unexpected(std::move(refusal));
        }
    } catch (const soci::soci_error& error) {
        return tl::unexpected(refusal_of(error, options.database));
    }
    try {
        return std::unique_ptr<Store>(new Store(std::make_unique<State>(options)));
    } catch (const soci::soci_error& error) {
        return tl::unexpected(refusal_of(error, options.database));
    }
}

const StoreOptions& Store::options() const {
    return state_->options;
}
Database& Store::database() const {
    return state_->database;
}

// ---- reading

Result<Thing> Store::find(const std::string& kind_name, const std::string& id) const {
    const Kind* kind = kind_named(kind_name);
    if (kind == nullptr) return unknown_kind(kind_name);
    return database().read<Thing>([&](Connection& connection) -> Result<Thing> {
        if (auto thing = find_thing(connection, *kind, id)) return *thing;
        return refuse_as(Trouble::missing,
                         {"", std::string(kind->name), "no \"" + id + "\"", "the id of one in the record"});
    });
}

Result<std::vector<Version>> Store::history(const std::string& kind_name, const std::string& id) const {
    const Kind* kind = kind_named(kind_name);
    if (kind == nullptr) return unknown_kind(kind_name);
    using Versions = std::vector<Version>;
    return database().read<Versions>(
        [&](Connection& connection) -> Result<Versions> {
            const auto changes = changes_of(connection, "where kind = ? and id = ? order by revision desc",
                                            {text(std::string(kind->name)), text(id)});
            if (changes.empty()) {
                return refuse_as(Trouble::missing, {"", std::string(kind->name), "no \"" + id + "\"",
                                                    "the id of one in the record"});
            }
            Versions versions;
            for (const Change& change : changes) {
                const auto thing = find_version(connection, *kind, id, change.revision);
                if (thing) versions.push_back({*thing, deed_named(change.deed), change.why});
            }
            return versions;
        },
        true);
}

Result<std::vector<Change>> Store::changes(const ChangeQuery& query) const {
    std::string where = "where seq > ?";
    Row parameters = {whole(query.after)};
    if (query.sites) where += " and site in (" + marks_for(*query.sites, parameters) + ")";
    const auto also = [&](const char* column, const std::string& value) {
        if (value.empty()) return;
        where += fmt::format(" and {} = ?", column);
        parameters.push_back(text(value));
    };
    also("kind", query.kind);
    also("id", query.id);
    where += fmt::format(" order by seq {} limit {}", query.newest_first ? "desc" : "asc",
                         std::clamp(query.limit, 1, most_listed));
    using Changes = std::vector<Change>;
    return database().read<Changes>(
        [&](Connection& connection) -> Result<Changes> { return changes_of(connection, where, parameters); });
}

Result<std::int64_t> Store::wait_for_change(std::int64_t after, std::chrono::milliseconds most) const {
    // Other processes give no sign, so one looks now and then.
    constexpr auto look_every = std::chrono::milliseconds(500);
    const auto end = std::chrono::steady_clock::now() + most;
    for (;;) {
        auto newest = database().read<std::int64_t>([](Connection& connection) -> Result<std::int64_t> {
            return whole_of(connection.rows("select coalesce(max(seq), 0) from changes", "i")[0][0]);
        });
        if (!newest || *newest > after) return newest;
        const auto left =
            std::chrono::duration_cast<std::chrono::milliseconds>(end - std::chrono::steady_clock::now());
        if (left.count() <= 0) return newest;
        database().wait_for_write(std::min(left, look_every));
    }
}

// ---- writing

namespace {

using Work = std::function<Result<Thing>(Connection&)>;

Result<Prepared> ready(const Store& store, const Write& write, const std::vector<Prepared>& before = {}) {
    auto made = prepared(write);
    if (!made) return made;
    if (auto good = document_checked(store, *made, before); !good) return tl::unexpected(good.error());
    return made;
}

}  // namespace

Result<Thing> Store::write(const Actor& actor, const Write& write) {
    const auto made = ready(*this, write);
    if (!made) return tl::unexpected(made.error());
    return database().write<Thing>(
        [&](Connection& connection) { return carry_out(connection, options(), actor.person, *made); });
}

std::vector<Result<Thing>> Store::write_each(const Actor& actor, const std::vector<Write>& writes) {
    std::vector<Work> works;
    for (const Write& write : writes) {
        const auto made = ready(*this, write);
        if (made) {
            works.emplace_back([this, &actor, prepared = *made](Connection& connection) {
                return carry_out(connection, options(), actor.person, prepared);
            });
        } else {
            works.emplace_back(
                [refusal = made.error()](Connection&) -> Result<Thing> { return tl::unexpected(refusal); });
        }
    }
    return database().write_each<Thing>(works);
}

Result<std::vector<Thing>> Store::write_all(const Actor& actor, const std::vector<Write>& writes) {
    std::vector<Prepared> all;
    for (const Write& write : writes) {
        auto made = ready(*this, write, all);
        if (!made) return tl::unexpected(made.error());
        all.push_back(std::move(*made));
    }
    using Things = std::vector<Thing>;
    return database().write<Things>([&](Connection& connection) {
        return all_or_none<Things>(connection, [&](Connection& c) -> Result<Things> {
            Things things;
            for (const Prepared& one : all) {
                auto thing = carry_out(c, options(), actor.person, one);
                if (!thing) return tl::unexpected(thing.error());
                things.push_back(std::move(*thing));
            }
            return things;
        });
    });
}

}  // namespace dapple::record
