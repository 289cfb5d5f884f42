// What a database's errors mean to people.

#include "record/database.h"

namespace dapple::record {

namespace {

constexpr const char* nothing_lost = "what was answered before is safe, what was refused was not stored";

Refusal refusal(Trouble trouble, const std::string& where, std::string found, std::string allowed) {
    Refusal result;
    result.trouble = trouble;
    result.problems = {{without_password(where), "", std::move(found), std::move(allowed)}};
    return result;
}

Refusal full(const std::string& where) {
    return refusal(Trouble::full, where, "no room left on the disk",
                   std::string("free some room and try again; ") + nothing_lost);
}

Refusal read_only(const std::string& where) {
    return refusal(Trouble::read_only, where, "a database that can be read but not written",
                   std::string("give the program the right to write it (file and folder) and try again; ") +
                       nothing_lost);
}

Refusal unavailable(const std::string& where, const std::string& message) {
    return refusal(Trouble::unavailable, where, "the database cannot be reached: " + message,
                   std::string("see that it runs and try again; Dapple goes on by itself when it is back; ") +
                       nothing_lost);
}

Refusal damaged(const std::string& where, const std::string& message) {
    return refusal(Trouble::damaged, where, "a damaged database: " + message,
                   "put the file aside unchanged and restore a backup (dapple restore)");
}

Refusal taken(const std::string& where) {
    return refusal(Trouble::taken, where, "an id, login or role that is there already", "another one");
}

Refusal dangling(const std::string& where) {
    return refusal(Trouble::missing, where, "a reference to something that is not there",
                   "ids of things in the record");
}

Refusal sqlite_refusal(int code, const std::string& where, const std::string& message) {
    switch (code & 0xff) {
        case SQLITE_FULL:
            return full(where);
        case SQLITE_READONLY:
            return read_only(where);
        case SQLITE_CORRUPT:
        case SQLITE_NOTADB:
            return damaged(where, message);
        case SQLITE_CONSTRAINT:
            return message.find("FOREIGN KEY") != std::string::npos ? dangling(where) : taken(where);
        case SQLITE_IOERR:
            return refusal(Trouble::full, where, "the disk refused to read or write: " + message,
                           std::string("see that it has room and is whole, and try again; ") + nothing_lost);
        default:
            return unavailable(where, message);  // busy, locked, cannot be opened, out of memory
    }
}

Refusal postgresql_refusal(const std::string& state, const std::string& where, const std::string& message) {
    if (state == "53100") return full(where);
    if (state == "25006" || state == "42501") return read_only(where);
    if (state == "23503") return dangling(where);
    if (state.starts_with("23")) return taken(where);
    if (state.starts_with("XX")) return damaged(where, message);
    return unavailable(where, message);
}

// The first line, without the place in the program's own text that libraries add.
std::string short_message(const soci::soci_error& error) {
    const std::string message = error.get_error_message();
    const std::string line = message.substr(0, message.find('\n'));
    return line.size() > 300 ? line.substr(0, 300) + "..." : line;
}

}  // namespace

std::string without_password(const std::string& database) {
    const auto scheme = database.find("://");
    const auto at = database.rfind('@');
    if (scheme == std::string::npos || at == std::string::npos) return database;
    const auto colon = database.find(':', scheme + 3);
    if (colon == std::string::npos || colon > at) return database;
    return database.substr(0, colon) + database.substr(at);
}

bool connection_was_lost(const soci::soci_error& error) {
    const auto* postgresql = dynamic_cast<const soci::postgresql_soci_error*>(&error);
    if (postgresql == nullptr) {
        // Opening a connection and preparing on a dead one throw the plain error.
        return dynamic_cast<const soci::sqlite3_soci_error*>(&error) == nullptr;
    }
    const std::string state = postgresql->sqlstate();
    return state.starts_with("08") || state.starts_with("57P") || state == "     ";
}

Refusal refusal_of(const soci::soci_error& error, const std::string& where) {
    const std::string message = short_message(error);
    if (const auto* sqlite = dynamic_cast<const soci::sqlite3_soci_error*>(&error)) {
        return sqlite_refusal(sqlite->result(), where, message);
    }
    if (const auto* postgresql = dynamic_cast<const soci::postgresql_soci_error*>(&error)) {
        return postgresql_refusal(postgresql->sqlstate(), where, message);
    }
    return unavailable(where, message);
}

}  // namespace dapple::record
