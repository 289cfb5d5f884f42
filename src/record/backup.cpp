#include "record/backup.h"

#include <sodium.h>

#include <array>
#include <bit>
#include <filesystem>
#include <functional>

#include "record/database.h"
#include "record/migrations.h"
#include "record/tables.h"

namespace dapple::record {

namespace {

namespace fs = std::filesystem;

// BLAKE2b over rows in which no value can pass for another: each begins with its type and length.
class Digest {
  public:
    Digest() { crypto_generichash_init(&state_, nullptr, 0, size); }

    void add(char type, const void* bytes, std::uint64_t count) {
        const std::uint64_t ended = count << 8U | static_cast<unsigned char>(type);
        crypto_generichash_update(&state_, reinterpret_cast<const unsigned char*>(&ended), sizeof ended);
        crypto_generichash_update(&state_, static_cast<const unsigned char*>(bytes), count);
    }
    void add(const std::string& words) { add('t', words.data(), words.size()); }
    void add(const Value& value) {
        if (is_null(value)) return add('0', "", 0);
        if (const auto* t = std::get_if<Text>(&value)) add(**t);
        if (const auto* w = std::get_if<Whole>(&value)) add('i', &**w, sizeof **w);
        if (const auto* r = std::get_if<Real>(&value)) add('r', &**r, sizeof **r);
    }
    std::string hexadecimal() {
        std::array<unsigned char, size> hash{};
        crypto_generichash_final(&state_, hash.data(), hash.size());
        std::string hex(2 * size + 1, '\0');
        sodium_bin2hex(hex.data(), hex.size(), hash.data(), hash.size());
        hex.pop_back();
        return hex;
    }

  private:
    static_assert(std::endian::native == std::endian::little, "numbers are taken as they lie in memory");
    static constexpr std::size_t size = crypto_generichash_BYTES;
    crypto_generichash_state state_{};
};

using Visit = std::function<void(const Table&, const Row&)>;

BackupReport read_all(Connection& from, const std::vector<Table>& tables, const Visit& visit = {}) {
    BackupReport report;
    Digest digest;
    for (const Table& table : tables) {
        digest.add(table.name);
        std::int64_t& count = report.rows[table.name] = 0;
        from.each(table.select(), table.types, {}, [&](const Row& row) {
            ++count;
            for (const Value& value : row) digest.add(value);
            if (visit) visit(table, row);
        });
    }
    report.digest = digest.hexadecimal();
    return report;
}

// What went wrong where the rows were going, told apart from trouble where they came from.
struct Elsewhere {
    Refusal refusal;
};

BackupReport copy_all(Connection& from, Connection& to, const std::string& where_to,
                      const std::vector<Table>& tables) {
    const auto guarded = [&where_to](const auto& work) {
        try {
            work();
        } catch (const soci::soci_error& error) {
            throw Elsewhere{refusal_of(error, where_to)};
        }
    };
    // Its own first person (migrations.cpp) gives way to the one that is brought.
    guarded([&] { to.run("delete from people"); });
    return read_all(from, tables, [&](const Table& table, const Row& row) {
        guarded([&] { to.run(table.insert(), row); });
    });
}

tl::unexpected<Refusal> not_the_same(const std::string& file) {
    return refuse_as(Trouble::damaged, {file, "", "other rows than were written",
                                        "see that the disk is whole, and try again; nothing was kept"});
}

Result<void> sound(Connection& connection, const std::string& file) {
    const auto found = connection.rows("pragma integrity_check", "t");
    if (found.size() == 1 && text_of(found[0][0]) == "ok") return {};
    return refuse_as(Trouble::damaged,
                     {file, "", "a damaged file: " + text_of(found[0][0]), "another backup"});
}

Result<int> version_kept(Connection& connection, const std::string& where) {
    auto version = version_of(connection);
    if (version && *version > 0) return version;
    if (version) return refuse_as(Trouble::missing, {where, "", "no record", "a database that Dapple made"});
    Refusal refusal = version.error();
    for (Problem& problem : refusal.problems) problem.file = where;
    return tl::unexpected(std::move(refusal));
}

// SQLite would make a file that is not there.
Result<void> there(const std::string& database) {
    if (engine_of(database) == Engine::postgresql || fs::is_regular_file(database)) return {};
    return refuse_as(Trouble::missing, {database, "", "no such file", "a file that Dapple made"});
}

// Answers what was read and what was then found in `part`.
Result<BackupReport> write_and_compare(const std::string& database, const std::string& part) {
    Connection from(database, Purpose::read);
    from.begin_snapshot();
    const auto version = version_kept(from, without_password(database));
    if (!version) return tl::unexpected(version.error());
    const std::vector<Table> tables = tables_of(*version);
    BackupReport read;
    try {
        Connection to(part, Purpose::write);
        if (auto made = migrate(to, Moment{}, *version); !made) return tl::unexpected(made.error());
        to.begin_write();
        read = copy_all(from, to, part, tables);
        to.commit();
    } catch (const soci::sqlite3_soci_error& error) {
        return tl::unexpected(refusal_of(error, part));
    }
    Connection again(part, Purpose::inspect);
    if (auto whole = sound(again, part); !whole) return tl::unexpected(whole.error());
    if (read_all(again, tables).digest != read.digest) return not_the_same(part);
    return read;
}

// Empty, or made ready and never used; and not further on than the file, for steps only go forward.
Result<void> can_take(Connection& to, const std::string& where, int version) {
    const auto found = version_of(to);
    const bool other = !found;
    const bool used = found && *found > 0 && whole_of(to.rows("select count(*) from changes", "i")[0][0]) > 0;
    if (!other && !used && *found <= version) return {};
    return refuse_as(Trouble::taken,
                     {where, "",
                      other  ? "tables that are not Dapple's, or of a later one"
                      : used ? "a record that is in use"
                             : "a record of a later version than the backup",
                      "an empty database: a file that is not there yet, or a new PostgreSQL database"});
}

Result<BackupReport> bring(Connection& from, const std::string& file, Connection& to,
                           const StoreOptions& into) {
    const auto version = version_kept(from, file);
    if (!version) return tl::unexpected(version.error());
    const std::string where = without_password(into.database);
    if (auto empty = can_take(to, where, *version); !empty) return tl::unexpected(empty.error());
    const std::vector<Table> tables = tables_of(*version);
    if (auto made = migrate(to, into.clock(), *version); !made) return tl::unexpected(made.error());
    to.begin_write();
    BackupReport read = copy_all(from, to, into.database, tables);
    if (read_all(to, tables).digest != read.digest) {
        to.roll_back();
        return not_the_same(where);
    }
    to.commit();
    if (auto made = migrate(to, into.clock()); !made) return tl::unexpected(made.error());
    return read;
}

}  // namespace

Result<BackupReport> back_up(const std::string& database, const std::string& file) {
    if (auto found = there(database); !found) return tl::unexpected(found.error());
    std::error_code trouble;
    if (fs::exists(file, trouble))
        return refuse_as(Trouble::taken, {file, "", "a file that is there already", "a new file"});
    const std::string part = file + ".unfinished";
    fs::remove(part, trouble);
    Result<BackupReport> report;
    try {
        report = write_and_compare(database, part);
    } catch (const Elsewhere& elsewhere) {
        report = tl::unexpected(elsewhere.refusal);
    } catch (const soci::soci_error& error) {
        report = tl::unexpected(refusal_of(error, database));
    }
    if (report) {
        fs::rename(part, file, trouble);
        if (!trouble) {
            report->file = file;
            return report;
        }
        report = refuse_as(Trouble::unavailable, {file, "", trouble.message(), "a file that can be written"});
    }
    fs::remove(part, trouble);
    return report;
}

Result<BackupReport> back_up(const Store& store, const std::string& file) {
    return back_up(store.options().database, file);
}

Result<BackupReport> restore(const std::string& file, const StoreOptions& into) {
    if (engine_of(file) != Engine::sqlite || !fs::is_regular_file(file))
        return refuse_as(Trouble::missing, {file, "", "no such file", "a backup made by dapple backup"});
    try {
        Connection from(file, Purpose::inspect);
        if (auto whole = sound(from, file); !whole) return tl::unexpected(whole.error());
        try {
            Connection to(into.database, Purpose::write);
            auto report = bring(from, file, to, into);
            if (report) report->file = file;
            return report;
        } catch (const Elsewhere& elsewhere) {
            return tl::unexpected(elsewhere.refusal);
        } catch (const soci::soci_error& error) {
            return tl::unexpected(refusal_of(error, into.database));
        }
    } catch (const soci::soci_error& error) {
        return tl::unexpected(refusal_of(error, file));
    }
}

Result<BackupReport> digest(const Store& store) {
    return store.database().read<BackupReport>(
        [](Connection& connection) -> Result<BackupReport> {
            const auto version = version_of(connection);
            if (!version) return tl::unexpected(version.error());
            return read_all(connection, tables_of(*version));
        },
        true);
}

}  // namespace dapple::record
