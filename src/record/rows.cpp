#include "record/rows.h"

namespace dapple::record {

using nlohmann::json;

namespace {

constexpr std::size_t common_columns = 8;

std::string common(const std::string& alias) {
    std::string result;
    for (const char* name :
         {"id", "site", "revision", "made_at", "made_by", "changed_at", "changed_by", "retired_at"}) {
        result += (result.empty() ? "" : ", ") + alias + name;
    }
    return result;
}

char type_of(const Field& field) {
    if (field.type == FieldType::number) return 'r';
    return field.type == FieldType::integer ? 'i' : 't';
}

Moment moment(const Value& value) {
    return moment_of(text_of(value)).value_or(Moment{});
}

Row row_of(const Kind& kind, const Thing& thing) {
    Row row = {text(thing.id),         text_or_null(thing.site),
               whole(thing.revision),  text(to_text(thing.made_at)),
               text(thing.made_by),    text(to_text(thing.changed_at)),
               text(thing.changed_by), thing.retired_at ? text(to_text(*thing.retired_at)) : Value(Text())};
    for (const Field& field : kind.fields) row.push_back(value_of(field, thing.fields));
    return row;
}

std::string marks(std::size_t count) {
    std::string result;
    for (std::size_t i = 0; i < count; ++i) result += i == 0 ? "?" : ", ?";
    return result;
}

std::string table(const Kind& kind) {
    return std::string(kind.plural);
}

}  // namespace

std::string columns_of(const Kind& kind, const std::string& alias) {
    std::string result = common(alias);
    for (const Field& field : kind.fields) result += ", " + alias + std::string(field.name);
    return result;
}

std::string types_of(const Kind& kind) {
    std::string result = "ttittttt";
    for (const Field& field : kind.fields) result += type_of(field);
    return result;
}

Value value_of(const Field& field, const json& fields) {
    const auto found = fields.find(std::string(field.name));
    const bool set = found != fields.end();
    switch (type_of(field)) {
        case 'r':
            return set ? Real(found->get<double>()) : Real();
        case 'i':
            return set ? Whole(found->get<std::int64_t>()) : Whole();
        default:
            if (!set) return Text();
            return Text(field.type == FieldType::document ? found->dump() : found->get<std::string>());
    }
}

Thing thing_of(const Kind& kind, const Row& row, std::size_t from) {
    Thing thing{std::string(kind.name),  text_of(row[from]),     text_of(row[from + 1]),
                whole_of(row[from + 2]), moment(row[from + 3]),  text_of(row[from + 4]),
                moment(row[from + 5]),   text_of(row[from + 6]), std::nullopt,
                json::object()};
    if (!is_null(row[from + 7])) thing.retired_at = moment(row[from + 7]);
    for (std::size_t i = 0; i < kind.fields.size(); ++i) {
        const Field& field = kind.fields[i];
        const Value& value = row[from + common_columns + i];
        if (is_null(value)) continue;
        json& target = thing.fields[std::string(field.name)];
        if (field.type == FieldType::number) {
            target = real_of(value);
        } else if (field.type == FieldType::integer) {
            target = whole_of(value);
        } else if (field.type == FieldType::document) {
            target = json::parse(text_of(value));
        } else {
            target = text_of(value);
        }
    }
    return thing;
}

std::optional<Thing> find_thing(Connection& connection, const Kind& kind, const std::string& id) {
    const auto rows = connection.rows("select " + columns_of(kind) + " from " + table(kind) + " where id = ?",
                                      types_of(kind), {text(id)});
    if (rows.empty()) return std::nullopt;
    return thing_of(kind, rows.front());
}

std::optional<Thing> find_version(Connection& connection, const Kind& kind, const std::string& id,
                                  std::int64_t revision) {
    auto thing = find_thing(connection, kind, id);
    if (!thing || thing->revision == revision) return thing;
    const auto rows = connection.rows(
        "select changed_at, changed_by, retired_at, fields from versions where kind = ? and id = ? and "
        "revision = ?",
        "tttt", {text(std::string(kind.name)), text(id), whole(revision)});
    if (rows.empty()) return std::nullopt;
    const Row& row = rows.front();
    thing->revision = revision;
    thing->changed_at = moment(row[0]);
    thing->changed_by = text_of(row[1]);
    thing->retired_at = is_null(row[2]) ? std::nullopt : std::optional(moment(row[2]));
    thing->fields = json::parse(text_of(row[3]));
    return thing;
}

Command insertion_of(const Kind& kind, const Thing& thing) {
    return {"insert into " + table(kind) + " (" + columns_of(kind) + ") values (" +
                marks(common_columns + kind.fields.size()) + ")",
            row_of(kind, thing)};
}

std::vector<Command> replacement_of(const Kind& kind, const Thing& before, const Thing& after) {
    Command keep = {
        "insert into versions (kind, id, revision, changed_at, changed_by, retired_at, fields) "
        "values (?, ?, ?, ?, ?, ?, ?)",
        {text(before.kind), text(before.id), whole(before.revision), text(to_text(before.changed_at)),
         text(before.changed_by), before.retired_at ? text(to_text(*before.retired_at)) : Value(Text()),
         text(before.fields.dump())}};
    std::string set = "revision = ?, changed_at = ?, changed_by = ?, retired_at = ?";
    const Row row = row_of(kind, after);
    Row parameters = {row[2], row[5], row[6], row[7]};
    for (std::size_t i = 0; i < kind.fields.size(); ++i) {
        set += ", " + std::string(kind.fields[i].name) + " = ?";
        parameters.push_back(row[common_columns + i]);
    }
    parameters.push_back(text(after.id));
    return {std::move(keep),
            {"update " + table(kind) + " set " + set + " where id = ?", std::move(parameters)}};
}

Command line_of(const Change& change) {
    return {
        "insert into changes (seq, done_at, done_by, kind, id, site, revision, deed, why) "
        "values ((select coalesce(max(seq), 0) + 1 from changes), ?, ?, ?, ?, ?, ?, ?, ?)",
        {text(to_text(change.at)), text(change.by), text(change.kind), text(change.id),
         text_or_null(change.site), whole(change.revision), text(change.deed), text_or_null(change.why)}};
}

void note_change(Connection& connection, const Change& change) {
    const Command line = line_of(change);
    connection.run(line.sql, line.parameters);
}

std::vector<Change> changes_of(Connection& connection, const std::string& where, const Row& parameters) {
    std::vector<Change> result;
    connection.each("select seq, done_at, done_by, kind, id, site, revision, deed, why from changes " + where,
                    "itttttitt", parameters, [&result](const Row& row) {
                        result.push_back({whole_of(row[0]), moment(row[1]), text_of(row[2]), text_of(row[3]),
                                          text_of(row[4]), text_of(row[5]), whole_of(row[6]), text_of(row[7]),
                                          text_of(row[8])});
                    });
    return result;
}

}  // namespace dapple::record
