#include "record/tables.h"

#include <fmt/format.h>
#include <sodium.h>

#include <array>
#include <cstring>
#include <numeric>

#include "record/rows.h"

namespace dapple::record {

namespace {

constexpr int rows_at_once = 5000;

std::vector<std::string> split(const std::string& words) {
    std::vector<std::string> result;
    for (std::size_t begin = 0; begin < words.size();) {
        const std::size_t end = std::min(words.find(", ", begin), words.size());
        result.push_back(words.substr(begin, end - begin));
        begin = end + 2;
    }
    return result;
}

Table other(std::string name, const std::string& columns, std::string types, std::size_t keys = 1) {
    std::vector<std::size_t> key(keys);
    std::iota(key.begin(), key.end(), std::size_t{0});
    return {std::move(name), split(columns), std::move(types), std::move(key)};
}

std::string marks(std::size_t count) {
    std::string result;
    for (std::size_t i = 0; i < count; ++i) result += i == 0 ? "?" : ", ?";
    return result;
}

}  // namespace

std::vector<Table> tables() {
    std::vector<Table> result;
    for (const Kind& kind : kinds()) {
        result.push_back(other(std::string(kind.plural), columns_of(kind), types_of(kind)));
    }
    result.push_back(
        other("versions", "kind, id, revision, changed_at, changed_by, retired_at, fields", "ttitttt", 3));
    result.push_back(
        other("changes", "seq, done_at, done_by, kind, id, site, revision, deed, why", "itttttitt"));
    result.push_back(
        other("answers", "person, idempotency_key, request, kind, id, revision, answered_at", "tttttit", 2));
    result.push_back(other("passwords", "person, hash, set_at", "ttt"));
    result.push_back(other("sessions", "digest, person, begun_at, expires_at, ended_at", "ttttt"));
    result.push_back(other(
        "invitations", "id, digest, site, role, made_at, made_by, expires_at, used_at, used_by, withdrawn_at",
        "tttttttttt"));
    return result;
}

void each_row(Connection& connection, const Table& table, const std::function<void(const Row&)>& visit) {
    std::vector<std::string> key_names;
    for (const std::size_t k : table.key) key_names.push_back(table.columns[k]);
    const std::string key = fmt::format("{}", fmt::join(key_names, ", "));
    const std::string all = fmt::format("select {} from {}", fmt::join(table.columns, ", "), table.name);
    const std::string tail = fmt::format(" order by {} limit {}", key, rows_at_once);
    const std::string after = fmt::format(" where ({}) > ({})", key, marks(table.key.size()));
    Row last;
    for (bool more = true; more;) {
        int count = 0;
        connection.each(fmt::format("{}{}{}", all, last.empty() ? "" : after, tail), table.types, last,
                        [&](const Row& row) {
                            visit(row);
                            if (++count == rows_at_once) {
                                last.clear();
                                for (const std::size_t k : table.key) last.push_back(row[k]);
                            }
                        });
        more = count == rows_at_once;
    }
}

void insert_row(Connection& connection, const Table& table, const Row& row) {
    connection.run(fmt::format("insert into {} ({}) values ({})", table.name, fmt::join(table.columns, ", "),
                               marks(table.columns.size())),
                   row);
}

RowDigest::RowDigest() : state_{} {
    static_assert(sizeof(crypto_generichash_state) <= sizeof state_);
    crypto_generichash_init(reinterpret_cast<crypto_generichash_state*>(state_), nullptr, 0,
                            crypto_generichash_BYTES);
}

void RowDigest::add_bytes(const void* bytes, std::size_t size) {
    crypto_generichash_update(reinterpret_cast<crypto_generichash_state*>(state_),
                              static_cast<const unsigned char*>(bytes), size);
}

// Each value as its type, its length and its bytes, so that no two rows look alike.
void RowDigest::add(const Table& table, const Row& row) {
    add_bytes(table.name.data(), table.name.size() + 1);
    for (const Value& value : row) {
        std::string bytes = {is_null(value) ? '-' : "tir"[value.index()]};
        if (const auto* t = std::get_if<Text>(&value); t != nullptr && *t)
            bytes += std::to_string((*t)->size()) + ":" + **t;
        if (const auto* w = std::get_if<Whole>(&value); w != nullptr && *w) bytes += std::to_string(**w);
        if (const auto* r = std::get_if<Real>(&value); r != nullptr && *r) bytes += fmt::format("{:a}", **r);
        bytes += ';';
        add_bytes(bytes.data(), bytes.size());
    }
}

std::string RowDigest::hexadecimal() {
    std::array<unsigned char, crypto_generichash_BYTES> hash{};
    crypto_generichash_final(reinterpret_cast<crypto_generichash_state*>(state_), hash.data(), hash.size());
    std::string hex(2 * hash.size() + 1, '\0');
    sodium_bin2hex(hex.data(), hex.size(), hash.data(), hash.size());
    hex.pop_back();
    return hex;
}

}  // namespace dapple::record
