// Lists of things, page by page.
#include <fmt/format.h>

#include <algorithm>

#include "record/database.h"
#include "record/rows.h"
#include "record/store.h"

namespace dapple::record {

namespace {

constexpr int most_listed = 10'000;

tl::unexpected<Refusal> wrong(const std::string& place, const std::string& found,
                              const std::string& allowed) {
    return refuse_as(Trouble::invalid, {"", place, found, allowed});
}

// A query's conditions as SQL, gathered one by one.
class Conditions {
  public:
    void add(const std::string& sql, const Row& parameters) {
        where_ += (where_.empty() ? " where " : " and ") + sql;
        parameters_.insert(parameters_.end(), parameters.begin(), parameters.end());
    }
    const std::string& sql() const { return where_; }
    const Row& parameters() const { return parameters_; }

  private:
    std::string where_;
    Row parameters_;
};

void add_sites(Conditions& conditions, const std::vector<std::string>& sites) {
    std::string marks;
    Row parameters;
    for (const std::string& site : sites) {
        marks += marks.empty() ? "?" : ", ?";
        parameters.push_back(text(site));
    }
    conditions.add(marks.empty() ? "1 = 0" : "site in (" + marks + ")", parameters);
}

Result<void> add_equal(Conditions& conditions, const Kind& kind, const Query& query) {
    for (const auto& [name, value] : query.equal) {
        const Field* field = kind.field(name);
        if (field == nullptr || (field->type != FieldType::text && field->type != FieldType::reference &&
                                 field->type != FieldType::day)) {
            return wrong(name, "no text, reference or day of a " + std::string(kind.name),
                         "one of its fields");
        }
        if (value.empty()) {
            conditions.add(name + " is null", {});
        } else {
            conditions.add(name + " = ?", {text(value)});
        }
    }
    return {};
}

// Moments are compared as they are stored.
Result<std::string> bound(const Kind& kind, const std::string& place, const std::string& given) {
    if (kind.dated.empty())
        return wrong(place, "a bound in time", "none: a " + std::string(kind.name) + " has no date");
    const auto moment = moment_of(given);
    if (!moment) return wrong(place, "\"" + given + "\"", "a day or a moment");
    const std::string stored = to_text(*moment);
    return kind.field(kind.dated)->type == FieldType::moment ? stored : stored.substr(0, 10);
}

// The place in the list behind which a page begins: "DATE|ID", or "ID".
std::string mark_of(const Kind& kind, const Thing& thing) {
    return kind.dated.empty() ? thing.id
                              : thing.fields[std::string(kind.dated)].get<std::string>() + "|" + thing.id;
}

Result<void> add_after(Conditions& conditions, const Kind& kind, const std::string& after) {
    if (kind.dated.empty()) {
        conditions.add("id > ?", {text(after)});
        return {};
    }
    const auto bar = after.find('|');
    if (bar == std::string::npos)
        return wrong("after", "\"" + after + "\"", "what the page before answered as next");
    conditions.add(fmt::format("({}, id) < (?, ?)", kind.dated),
                   {text(after.substr(0, bar)), text(after.substr(bar + 1))});
    return {};
}

Result<Conditions> conditions_of(const Kind& kind, const Query& query) {
    Conditions conditions;
    if (query.sites && kind.has_site) add_sites(conditions, *query.sites);
    if (!query.retired) conditions.add("retired_at is null", {});
    if (auto done = add_equal(conditions, kind, query); !done) return tl::unexpected(done.error());
    for (const auto& [place, given, compared] :
         {std::tuple("from", query.from, ">="), std::tuple("before", query.before, "<")}) {
        if (given.empty()) continue;
        const auto stored = bound(kind, place, given);
        if (!stored) return tl::unexpected(stored.error());
        conditions.add(fmt::format("{} {} ?", kind.dated, compared), {text(*stored)});
    }
    if (!query.after.empty()) {
        if (auto done = add_after(conditions, kind, query.after); !done) return tl::unexpected(done.error());
    }
    return conditions;
}

}  // namespace

Result<Page> Store::list(const Query& query) const {
    const Kind* kind = kind_named(query.kind);
    if (kind == nullptr)
        return wrong("kind", "\"" + query.kind + "\"", "a kind of thing that the record keeps");
    const auto conditions = conditions_of(*kind, query);
    if (!conditions) return tl::unexpected(conditions.error());
    const int limit = std::clamp(query.limit, 1, most_listed);
    const std::string order = kind->dated.empty() ? "id" : fmt::format("{} desc, id desc", kind->dated);
    const std::string sql = fmt::format("select {} from {}{} order by {} limit {}", columns_of(*kind),
                                        kind->plural, conditions->sql(), order, limit + 1);
    return database().read<Page>([&](Connection& connection) -> Result<Page> {
        Page page;
        connection.each(sql, types_of(*kind), conditions->parameters(),
                        [&](const Row& row) { page.things.push_back(thing_of(*kind, row)); });
        if (page.things.size() > static_cast<std::size_t>(limit)) {
            page.things.pop_back();
            page.next = mark_of(*kind, page.things.back());
        }
        return page;
    });
}

}  // namespace dapple::record
