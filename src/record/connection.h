// One connection to a database, through SOCI: statements by their text, prepared once and kept; values by their type.
// For this folder only. Throws soci::soci_error; database.h turns that into refusals.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <variant>
#include <vector>

#include "record/soci.h"

namespace dapple::record {

using Text = std::optional<std::string>;
using Whole = std::optional<std::int64_t>;
using Real = std::optional<double>;
using Value = std::variant<Text, Whole, Real>;
using Row = std::vector<Value>;

inline Value text(std::string value) {
    return Text(std::move(value));
}
inline Value text_or_null(const std::string& value) {
    return value.empty() ? Text() : Text(value);
}
inline Value whole(std::int64_t value) {
    return Whole(value);
}

std::string text_of(const Value& value);    // empty for null
std::int64_t whole_of(const Value& value);  // 0 for null
double real_of(const Value& value);         // 0 for null
bool is_null(const Value& value);

// A change of the database, of which nothing is read.
struct Command {
    std::string sql;  // with a ? for each parameter
    Row parameters;
};

enum class Engine { sqlite, postgresql };
Engine engine_of(const std::string& database);

enum class Purpose {
    read,
    write,
    inspect
};  // inspect: reads, and neither changes nor checks anything at opening

class Connection {
  public:
    // `database` as in StoreOptions.
    Connection(const std::string& database, Purpose purpose);
    ~Connection();
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;

    Engine engine() const { return engine_; }

    // `sql` has a ? for each parameter. `types` names the columns' types: t(ext), i(nteger), r(eal).
    std::vector<Row> rows(const std::string& sql, std::string_view types, const Row& parameters = {});
    void each(const std::string& sql, std::string_view types, const Row& parameters,
              const std::function<void(const Row&)>& visit);
    std::int64_t run(const std::string& sql, const Row& parameters = {});  // answers the rows touched
    // Together: on PostgreSQL one way to the database and back. None may build on what another of them writes.
    void run_all(const std::vector<Command>& commands);
    void script(const std::string& sql);  // several statements divided by ";\n", none kept

    // On PostgreSQL one writer at a time in the whole database (several processes), as SQLite has by itself; so `seq`
    // has no gaps and no writer sees half of what another does.
    void begin_write();
    void begin_snapshot();
    void commit();
    void roll_back();  // never throws; without a transaction nothing happens

  private:
    struct Statement;
    Statement& statement(const std::string& sql, std::string_view types, const Row& parameters);

    Engine engine_;
    std::unique_ptr<soci::session> session_;
    std::unordered_map<std::string, std::unique_ptr<Statement>> statements_;
    int running_ = 0;  // statements that are being read
};

}  // namespace dapple::record
