#include "record/backup.h"

#include <fcntl.h>
#include <unistd.h>

#include <filesystem>
#include <functional>

#include "record/database.h"
#include "record/migrations.h"
#include "record/tables.h"

namespace dapple::record {

namespace {

namespace fs = std::filesystem;

using Visit = std::function<void(const Table&, const Row&)>;

// Every row of a database, seen and counted; `also` may do something with each.
BackupReport walk(Connection& from, const Visit& also = {}) {
    BackupReport report;
    RowDigest digest;
    for (const Table& table : tables()) {
        std::int64_t& count = report.rows[table.name];
        each_row(from, table, [&](const Row& row) {
            ++count;
            digest.add(table, row);
            if (also) also(table, row);
        });
    }
    report.digest = digest.hexadecimal();
    return report;
}

BackupReport copy(Connection& from, Connection& into) {
    return walk(from, [&](const Table& table, const Row& row) { insert_row(into, table, row); });
}

// What a new database brings with it: the person at the machine. The copy has its own.
void empty_out(Connection& connection) {
    connection.run("delete from people");
}

// A file under a name of its own until it is whole; gone if it never is.
class Unfinished {
  public:
    explicit Unfinished(std::string final_name)
        : final_(std::move(final_name)), name_(final_ + ".unfinished") {
        remove();
    }
    ~Unfinished() { remove(); }
    Unfinished(const Unfinished&) = delete;
    Unfinished& operator=(const Unfinished&) = delete;
    const std::string& name() const { return name_; }

    void finish() {
        fs::rename(name_, final_);
        // The name, too, must survive a power cut.
        const int folder = open(fs::absolute(final_).parent_path().c_str(), O_RDONLY | O_DIRECTORY);
        if (folder >= 0) {
            fsync(folder);
            close(folder);
        }
    }

  private:
    void remove() {
        std::error_code ignored;
        for (const char* tail : {"", "-wal", "-shm", "-journal"}) fs::remove(name_ + tail, ignored);
    }
    std::string final_;
    std::string name_;
};

tl::unexpected<Refusal> unequal(const std::string& file) {
    return refuse_as(Trouble::damaged, {file, "", "a copy that differs from what it was copied from",
                                        "see that the disk is whole, and try again"});
}

Result<void> is_whole(Connection& file, const std::string& name) {
    const auto found = file.rows("pragma integrity_check", "t");
    if (found.size() == 1 && text_of(found[0][0]) == "ok") return {};
    return refuse_as(Trouble::damaged,
                     {name, "", "a damaged backup: " + text_of(found[0][0]), "another backup"});
}

Result<BackupReport> made(Connection& from, const std::string& file, Moment now) {
    Unfinished unfinished(file);
    BackupReport copied;
    {
        Connection into(unfinished.name(), Purpose::write);
        if (auto migrated = migrate(into, now); !migrated) return tl::unexpected(migrated.error());
        into.begin_write();
        empty_out(into);
        copied = copy(from, into);
        into.commit();
    }
    Connection back(unfinished.name(), Purpose::read);
    if (auto whole = is_whole(back, file); !whole) return tl::unexpected(whole.error());
    if (walk(back).digest != copied.digest) return unequal(file);
    try {
        unfinished.finish();
    } catch (const fs::filesystem_error& error) {
        return refuse_as(Trouble::read_only,
                         {file, "", error.code().message(), "a folder that may be written"});
    }
    copied.file = file;
    return copied;
}

// A backup of an earlier version is brought up to date in a copy beside; the file itself is never touched.
class Upgraded {
  public:
    explicit Upgraded(const std::string& file)
        : folder_((fs::temp_directory_path() / "dapple-restore-XXXXXX").string()) {
        if (mkdtemp(folder_.data()) == nullptr) throw soci::soci_error("no temporary folder can be made");
        fs::copy_file(file, name());
    }
    ~Upgraded() {
        std::error_code ignored;
        fs::remove_all(folder_, ignored);
    }
    Upgraded(const Upgraded&) = delete;
    Upgraded& operator=(const Upgraded&) = delete;
    std::string name() const { return folder_ + "/backup"; }

  private:
    std::string folder_;
};

Result<BackupReport> poured(Connection& from, Connection& into, const std::string& where) {
    into.begin_write();
    const auto there = into.rows("select count(*) from changes", "i");
    const auto people = into.rows("select count(*) from people", "i");
    if (whole_of(there[0][0]) > 0 || whole_of(people[0][0]) > 1) {
        into.roll_back();
        return refuse_as(Trouble::taken, {without_password(where), "", "a record with something in it",
                                          "an empty database; nothing was changed"});
    }
    empty_out(into);
    const BackupReport copied = copy(from, into);
    if (walk(into).digest != copied.digest) {
        into.roll_back();
        return unequal(where);
    }
    into.commit();
    return copied;
}

Result<BackupReport> restored(const std::string& file, const StoreOptions& options) {
    const Upgraded upgraded(file);
    Connection from(upgraded.name(), Purpose::write);
    const auto version = version_of(from);
    if (!version) return tl::unexpected(version.error());
    if (*version == 0)
        return refuse_as(Trouble::invalid, {file, "", "an empty file", "a backup made by dapple backup"});
    if (auto whole = is_whole(from, file); !whole) return tl::unexpected(whole.error());
    if (auto migrated = migrate(from, options.clock()); !migrated) return tl::unexpected(migrated.error());

    if (auto opened = Store::open(options); !opened)
        return tl::unexpected(opened.error());  // makes the tables
    Connection into(options.database, Purpose::write);
    auto report = poured(from, into, options.database);
    if (report) report->file = file;
    return report;
}

}  // namespace

Result<BackupReport> back_up(const Store& store, const std::string& file) {
    if (fs::exists(file))
        return refuse_as(Trouble::taken, {file, "", "a file that is there already", "a new name"});
    return store.database().read<BackupReport>(
        [&](Connection& connection) -> Result<BackupReport> {
            try {
                return made(connection, file, store.options().clock());
            } catch (const soci::soci_error& error) {
                if (dynamic_cast<const soci::sqlite3_soci_error*>(&error) == nullptr)
                    throw;  // the source's, then
                return tl::unexpected(refusal_of(error, file));
            }
        },
        true);
}

Result<BackupReport> restore(const std::string& file, const StoreOptions& into) {
    if (!fs::is_regular_file(file)) {
        return refuse_as(Trouble::missing, {file, "", "no such file", "a backup made by dapple backup"});
    }
    try {
        return restored(file, into);
    } catch (const soci::soci_error& error) {
        const bool of_target = dynamic_cast<const soci::postgresql_soci_error*>(&error) != nullptr;
        return tl::unexpected(refusal_of(error, of_target ? into.database : file));
    } catch (const fs::filesystem_error& error) {
        return refuse_as(Trouble::full,
                         {file, "", error.code().message(), "room for a copy in the temporary folder"});
    }
}

Result<BackupReport> digest(const Store& store) {
    return store.database().read<BackupReport>(
        [](Connection& connection) -> Result<BackupReport> { return walk(connection); }, true);
}

}  // namespace dapple::record
