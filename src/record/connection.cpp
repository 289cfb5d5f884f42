#include "record/connection.h"

namespace dapple::record {

namespace {

struct Slot {
    std::string text;
    long long whole = 0;
    double real = 0;
    soci::indicator state = soci::i_ok;
};

constexpr long long writer_lock = 0x646170706c65;  // "dapple": the advisory lock all its writers share

// ? -> :p1, :p2, ...
std::string numbered(const std::string& sql) {
    std::string result;
    int count = 0;
    for (const char c : sql) {
        if (c == '?') {
            result += ":p" + std::to_string(++count);
        } else {
            result += c;
        }
    }
    return result;
}

// A PostgreSQL URL in the words SOCI passes on: it takes "key=value" apart itself, and would take a URL for a key.
std::string words_of(const std::string& url) {
    char* fault = nullptr;
    const std::unique_ptr<PQconninfoOption, void (*)(PQconninfoOption*)> options(
        PQconninfoParse(url.c_str(), &fault), PQconninfoFree);
    if (!options) {
        const std::string message = fault != nullptr ? fault : "out of memory";
        PQfreemem(fault);
        throw soci::soci_error("the address cannot be read: " + message);
    }
    std::string words;
    for (const PQconninfoOption* option = options.get(); option->keyword != nullptr; ++option) {
        if (option->val == nullptr) continue;
        words += std::string(words.empty() ? "" : " ") + option->keyword + "=\"'";
        for (const char* c = option->val; *c != '\0'; ++c) {
            if (*c == '"') throw soci::soci_error("the address cannot be read: a double quote in it");
            if (*c == '\'' || *c == '\\') words += '\\';
            words += *c;
        }
        words += "'\"";
    }
    return words;
}

void fill(Slot& slot, const Value& value) {
    slot.state = is_null(value) ? soci::i_null : soci::i_ok;
    if (is_null(value)) return;
    if (const auto* t = std::get_if<Text>(&value)) slot.text = **t;
    if (const auto* w = std::get_if<Whole>(&value)) slot.whole = **w;
    if (const auto* r = std::get_if<Real>(&value)) slot.real = **r;
}

Value value_of(const Slot& slot, char type) {
    const bool null = slot.state == soci::i_null;
    if (type == 'i') return null ? Whole() : Whole(slot.whole);
    if (type == 'r') return null ? Real() : Real(slot.real);
    return null ? Text() : Text(slot.text);
}

class Running {
  public:
    explicit Running(int& count) : count_(count) { ++count_; }
    ~Running() { --count_; }
    Running(const Running&) = delete;
    Running& operator=(const Running&) = delete;

  private:
    int& count_;
};

char type_of(const Value& value) {
    return "tir"[value.index()];
}

}  // namespace

std::string text_of(const Value& value) {
    return std::get<Text>(value).value_or("");
}
std::int64_t whole_of(const Value& value) {
    return std::get<Whole>(value).value_or(0);
}
double real_of(const Value& value) {
    return std::get<Real>(value).value_or(0);
}
bool is_null(const Value& value) {
    return std::visit([](const auto& v) { return !v.has_value(); }, value);
}

Engine engine_of(const std::string& database) {
    return database.starts_with("postgresql://") || database.starts_with("postgres://") ? Engine::postgresql
                                                                                        : Engine::sqlite;
}

struct Connection::Statement {
    explicit Statement(soci::session& session) : prepared(session) {}
    std::vector<Slot> in;
    std::vector<Slot> out;
    soci::statement prepared;  // last: it refers to the slots, so it goes first
};

Connection::Connection(const std::string& database, Purpose purpose) : engine_(engine_of(database)) {
    if (engine_ == Engine::postgresql) {
        session_ = std::make_unique<soci::session>(soci::postgresql, words_of(database));
        if (purpose == Purpose::inspect) return;
        *session_ << "set client_encoding to 'UTF8'";
        *session_ << "set client_min_messages to warning";
        // Answered means safe, whatever the server's configuration says.
        if (purpose == Purpose::write) *session_ << "set synchronous_commit to on";
        // A plan kept from when the tables were empty would look through all of a record that has grown.
        if (purpose == Purpose::read) *session_ << "set plan_cache_mode to force_custom_plan";
        return;
    }
    session_ = std::make_unique<soci::session>(soci::sqlite3, "dbname=\"" + database + "\"");
    *session_ << "pragma busy_timeout = 10000";
    if (purpose == Purpose::inspect) return;
    *session_ << "pragma foreign_keys = on";
    *session_ << "pragma synchronous = full";
    if (purpose == Purpose::read) *session_ << "pragma query_only = on";
}

Connection::~Connection() = default;

Connection::Statement& Connection::statement(const std::string& sql, std::string_view types,
                                             const Row& parameters) {
    std::string key = sql;
    key += '\n';
    for (const Value& value : parameters) key += type_of(value);
    // Lists can be asked for in more ways than are worth remembering.
    constexpr std::size_t most_kept = 300;
    if (statements_.size() >= most_kept && running_ == 0 && !statements_.contains(key)) statements_.clear();
    auto& kept = statements_[key];
    if (kept) return *kept;
    auto made = std::make_unique<Statement>(*session_);
    made->in.resize(parameters.size());
    made->out.resize(types.size());
    for (std::size_t i = 0; i < parameters.size(); ++i) {
        Slot& slot = made->in[i];
        const char type = type_of(parameters[i]);
        if (type == 't') made->prepared.exchange(soci::use(slot.text, slot.state));
        if (type == 'i') made->prepared.exchange(soci::use(slot.whole, slot.state));
        if (type == 'r') made->prepared.exchange(soci::use(slot.real, slot.state));
    }
    for (std::size_t i = 0; i < types.size(); ++i) {
        Slot& slot = made->out[i];
        if (types[i] == 't') made->prepared.exchange(soci::into(slot.text, slot.state));
        if (types[i] == 'i') made->prepared.exchange(soci::into(slot.whole, slot.state));
        if (types[i] == 'r') made->prepared.exchange(soci::into(slot.real, slot.state));
    }
    made->prepared.alloc();
    made->prepared.prepare(numbered(sql));
    made->prepared.define_and_bind();
    kept = std::move(made);
    return *kept;
}

void Connection::each(const std::string& sql, std::string_view types, const Row& parameters,
                      const std::function<void(const Row&)>& visit) {
    try {
        Statement& s = statement(sql, types, parameters);
        for (std::size_t i = 0; i < parameters.size(); ++i) fill(s.in[i], parameters[i]);
        s.prepared.execute();
        const Running running(running_);
        Row row(types.size());
        // To the end always: a statement left half read would hold SQLite's snapshot.
        while (s.prepared.fetch()) {
            for (std::size_t i = 0; i < types.size(); ++i) row[i] = value_of(s.out[i], types[i]);
            visit(row);
        }
    } catch (...) {
        statements_.clear();
        throw;
    }
}

std::vector<Row> Connection::rows(const std::string& sql, std::string_view types, const Row& parameters) {
    std::vector<Row> result;
    each(sql, types, parameters, [&result](const Row& row) { result.push_back(row); });
    return result;
}

std::int64_t Connection::run(const std::string& sql, const Row& parameters) {
    try {
        Statement& s = statement(sql, "", parameters);
        for (std::size_t i = 0; i < parameters.size(); ++i) fill(s.in[i], parameters[i]);
        s.prepared.execute(true);
        return s.prepared.get_affected_rows();
    } catch (...) {
        statements_.clear();
        throw;
    }
}

void Connection::run_all(const std::vector<Command>& commands) {
    if (engine_ == Engine::sqlite) {  // in this very process: nothing to save
        for (const Command& command : commands) run(command.sql, command.parameters);
        return;
    }
    std::string sql;
    Row parameters;
    for (std::size_t i = 0; i < commands.size(); ++i) {
        const auto& [one, own] = commands[i];
        const bool last = i + 1 == commands.size();
        if (last) {
            sql += one;
        } else {
            sql += (i == 0 ? "with part" : ", part") + std::to_string(i) + " as (" + one + ") ";
        }
        parameters.insert(parameters.end(), own.begin(), own.end());
    }
    if (!commands.empty()) run(sql, parameters);
}

void Connection::script(const std::string& sql) {
    for (std::size_t begin = 0; begin < sql.size();) {
        const std::size_t end = std::min(sql.find(";\n", begin), sql.size());
        const std::string one = sql.substr(begin, end - begin);
        if (one.find_first_not_of(" \n") != std::string::npos) *session_ << one;
        begin = end + 2;
    }
}

void Connection::begin_write() {
    if (engine_ == Engine::sqlite) {
        run("begin immediate");
        return;
    }
    *session_ << "begin; select pg_advisory_xact_lock(" + std::to_string(writer_lock) + ")";
}

void Connection::begin_snapshot() {
    run(engine_ == Engine::sqlite ? "begin" : "begin isolation level repeatable read read only");
}

void Connection::commit() {
    run("commit");
}

void Connection::roll_back() {
    try {
        run("rollback");
    } catch (
        const soci::soci_error&) {  // there was none, or the connection is gone and the transaction with it
    }
}

}  // namespace dapple::record
