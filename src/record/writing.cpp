#include "record/writing.h"

#include <fmt/format.h>
#include <sodium.h>

#include <array>
#include <utility>

#include "record/database.h"
#include "record/rows.h"

namespace dapple::record {

using nlohmann::json;

namespace {

tl::unexpected<Refusal> missing(std::string_view kind, const std::string& id) {
    return refuse_as(Trouble::missing, {"", std::string(kind),
                                        id.empty() ? "no id" : "no " + std::string(kind) + " \"" + id + "\"",
                                        "the id of one in the record"});
}

bool well_formed_id(const std::string& id) {
    return id.size() <= 100 && id.find_first_of(std::string("/?#\0", 4)) == std::string::npos;
}

// Whether things are there: one query for all of them, as each is a way to the database and back.
class LookUp {
  public:
    std::size_t add(std::string_view column, std::string_view table, const std::string& id) {
        return add(fmt::format("select {} from {} where id = ?", column, table), {text(id)});
    }
    std::size_t add(const std::string& question, const Row& parameters) {
        sql_ += fmt::format("{}({})", asked_ == 0 ? "select " : ", ", question);
        parameters_.insert(parameters_.end(), parameters.begin(), parameters.end());
        return asked_++;
    }
    void ask(Connection& connection) {
        if (asked_ > 0) found_ = connection.rows(sql_, std::string(asked_, 't'), parameters_)[0];
    }
    const Value& operator[](std::size_t at) const { return found_[at]; }

  private:
    std::string sql_;
    Row parameters_;
    std::size_t asked_ = 0;
    Row found_;
};

struct Reference {
    const Field* field;
    std::string id;
    std::size_t looked_up;
};

std::vector<Reference> references_of(const Kind& kind, const Thing& thing, LookUp& look_up) {
    std::vector<Reference> references;
    for (const Field& field : kind.fields) {
        if (field.type != FieldType::reference || !thing.fields.contains(std::string(field.name))) continue;
        const Kind& target = *kind_named(field.of);
        const std::string id = thing.fields[std::string(field.name)].get<std::string>();
        references.push_back({&field, id, look_up.add(target.has_site ? "site" : "id", target.plural, id)});
    }
    return references;
}

// Every thing named by a reference is there, and at the same site.
Result<void> references_hold(const std::vector<Reference>& references, const LookUp& found,
                             const std::string& site) {
    for (const auto& [field, id, at] : references) {
        if (is_null(found[at])) {
            return refuse_as(Trouble::missing,
                             {"", "/" + std::string(field->name), fmt::format("no {} \"{}\"", field->of, id),
                              "one in the record"});
        }
        if (kind_named(field->of)->has_site && text_of(found[at]) != site) {
            return refuse_as(Trouble::invalid, {"", "/" + std::string(field->name),
                                                fmt::format("{} \"{}\" of another site", field->of, id),
                                                "one of the same site"});
        }
    }
    return {};
}

Change change_of(const Thing& thing, Deed deed, const std::string& why) {
    return {0,          thing.changed_at, thing.changed_by,        thing.kind, thing.id,
            thing.site, thing.revision,   std::string(name(deed)), why};
}

// The answer to a write, and what is to be written for it; nothing where it was written before.
struct Outcome {
    Thing thing;
    std::vector<Command> commands;
};

// The answer that the same write by the same person had before; nothing: its key is new.
std::optional<Result<Thing>> answered_before(Connection& connection, const std::string& person,
                                             const Prepared& prepared) {
    const auto rows = connection.rows(
        "select request, kind, id, revision from answers where person = ? and idempotency_key = ?", "ttti",
        {text(person), text(prepared.write.key)});
    if (rows.empty()) return std::nullopt;
    const Row& row = rows.front();
    if (text_of(row[0]) != prepared.request) {
        return refuse_as(Trouble::reused_key,
                         {"", "idempotency key", "a key that came with another write before",
                          "a new key for each new write"});
    }
    return *find_version(connection, *kind_named(text_of(row[1])), text_of(row[2]), whole_of(row[3]));
}

Result<Outcome> create(Connection& connection, const StoreOptions& options, const std::string& person,
                       const Prepared& prepared) {
    const Kind& kind = *prepared.kind;
    const Write& write = prepared.write;
    const Moment now = options.clock();
    Thing thing{std::string(kind.name), write.id,    write.site, 1, now, person, now, person,
                std::nullopt,           write.fields};
    const bool given = !thing.id.empty();
    if (!given) thing.id = new_id(now, options.chance);
    if (kind.name == "site") thing.site = thing.id;
    LookUp found;
    const bool of_site = kind.has_site && kind.name != "site";
    const auto references = references_of(kind, thing, found);
    const std::size_t own_site = of_site ? found.add("id", "sites", thing.site) : 0;
    const std::size_t same_id = given ? found.add("id", kind.plural, thing.id) : 0;
    const std::size_t same_key =
        write.key.empty() ? 0
                          : found.add("select request from answers where person = ? and idempotency_key = ?",
                                      {text(person), text(write.key)});
    found.ask(connection);
    if (!write.key.empty() && !is_null(found[same_key])) {
        auto before = *answered_before(connection, person, prepared);
        if (!before) return tl::unexpected(before.error());
        return Outcome{std::move(*before), {}};
    }
    if (given && !is_null(found[same_id])) {
        return refuse_as(Trouble::taken,
                         {"", std::string(kind.name), fmt::format("\"{}\", which is there already", thing.id),
                          "another id, or a change of the one that is there"});
    }
    if (of_site && is_null(found[own_site])) return missing("site", thing.site);
    if (auto held = references_hold(references, found, thing.site); !held)
        return tl::unexpected(held.error());
    Command insertion = insertion_of(kind, thing);
    Command line = line_of(change_of(thing, Deed::create, write.why));
    return Outcome{std::move(thing), {std::move(insertion), std::move(line)}};
}

tl::unexpected<Refusal> conflict(const Thing& theirs, const Thing& yours, std::int64_t seen) {
    Refusal refusal;
    refusal.trouble = Trouble::conflict;
    refusal.theirs = std::make_shared<const Thing>(theirs);
    refusal.yours = std::make_shared<const Thing>(yours);
    refusal.problems = {
        {"", fmt::format("{} {}", theirs.kind, theirs.id),
         fmt::format("revision {}, made by {} at {}", theirs.revision, theirs.changed_by,
                     to_text(theirs.changed_at)),
         fmt::format("revision {}, which this write is based on: look at both and write again", seen)}};
    return tl::unexpected(std::move(refusal));
}

Result<Outcome> alter(Connection& connection, const StoreOptions& options, const std::string& person,
                      const Prepared& prepared) {
    const Kind& kind = *prepared.kind;
    const Write& write = prepared.write;
    if (!write.key.empty()) {
        if (auto before = answered_before(connection, person, prepared)) {
            if (!*before) return tl::unexpected(before->error());
            return Outcome{std::move(**before), {}};
        }
    }
    const auto before = find_thing(connection, kind, write.id);
    if (!before) return missing(kind.name, write.id);
    Thing after = *before;
    after.revision += 1;
    after.changed_at = options.clock();
    after.changed_by = person;
    if (write.deed == Deed::change) after.fields = write.fields;
    if (write.deed == Deed::retire && !after.retired_at) after.retired_at = after.changed_at;
    if (write.deed == Deed::reinstate) after.retired_at.reset();
    if (before->revision != *write.seen) return conflict(*before, after, *write.seen);
    if (write.deed == Deed::restore) {
        const auto earlier = find_version(connection, kind, write.id, write.revision);
        if (!earlier) {
            return refuse_as(Trouble::missing, {"", "revision", fmt::format("no revision {}", write.revision),
                                                fmt::format("1 to {}", before->revision)});
        }
        after.fields = earlier->fields;
    }
    LookUp found;
    const auto references = references_of(kind, after, found);
    found.ask(connection);
    if (auto held = references_hold(references, found, after.site); !held)
        return tl::unexpected(held.error());
    auto commands = replacement_of(kind, *before, after);
    commands.push_back(line_of(change_of(after, write.deed, write.why)));
    return Outcome{std::move(after), std::move(commands)};
}

tl::unexpected<Refusal> ill_formed(std::string place, std::string found, std::string allowed) {
    return refuse_as(Trouble::invalid, {"", std::move(place), std::move(found), std::move(allowed)});
}

}  // namespace

std::string digest_of(const std::string& bytes) {
    std::array<unsigned char, crypto_generichash_BYTES> hash{};
    crypto_generichash(hash.data(), hash.size(), reinterpret_cast<const unsigned char*>(bytes.data()),
                       bytes.size(), nullptr, 0);
    std::string hex(2 * hash.size() + 1, '\0');
    sodium_bin2hex(hex.data(), hex.size(), hash.data(), hash.size());
    hex.pop_back();
    return hex;
}

Result<Prepared> prepared(const Write& write) {
    const Kind* kind = kind_named(write.kind);
    if (kind == nullptr) {
        std::vector<std::string> names;
        for (const Kind& k : kinds()) names.emplace_back(k.name);
        return ill_formed("kind", "\"" + write.kind + "\"", fmt::format("{}", fmt::join(names, ", ")));
    }
    if (!well_formed_id(write.id))
        return ill_formed("id", "an id that cannot stand in an address",
                          "at most 100 letters, digits, - and _");
    if (write.key.size() > 200 || write.key.find('\0') != std::string::npos) {
        return ill_formed("key", "an idempotency key of another form", "at most 200 characters");
    }
    if (write.why.size() > 2000 || write.why.find('\0') != std::string::npos)
        return ill_formed("why", "too long a reason", "at most 2000 bytes");
    if (write.deed != Deed::create && !write.seen)
        return ill_formed("revision", "nothing", "the revision that was seen");
    Prepared result{kind, write, {}};
    if (write.deed == Deed::create || write.deed == Deed::change) {
        auto fields = checked(*kind, write.fields);
        if (!fields) return refuse_as(Trouble::invalid, fields.error());
        result.write.fields = std::move(*fields);
    }
    if (kind->name == "enclosure" && (write.deed == Deed::create || write.deed == Deed::change)) {
        const std::string id = result.write.fields["document"].value("id", json("")).is_string()
                                   ? result.write.fields["document"].value("id", "")
                                   : std::string();
        if (id.empty() || !well_formed_id(id) || (!write.id.empty() && write.id != id)) {
            return ill_formed("/document/id", "\"" + id + "\"",
                              write.id.empty() ? "an id of at most 100 characters, none of /?#"
                                               : "\"" + write.id + "\", the enclosure's own");
        }
        result.write.id = id;
    }
    const json asked = {name(write.deed),       kind->name,          write.id,      write.site,
                        write.seen.value_or(0), result.write.fields, write.revision};
    result.request = write.key.empty()
                         ? std::string()
                         : digest_of(asked.dump(-1, ' ', false, json::error_handler_t::replace));
    return result;
}

scene::FileReader file_reader(const Store& store, const std::string& site) {
    return [&store, site](const std::string& name) -> std::optional<std::string> {
        const auto kept =
            store.list({.kind = "file", .sites = {{site}}, .equal = {{"name", name}}, .limit = 1});
        if (kept && !kept->things.empty()) return kept->things[0].fields["text"].get<std::string>();
        return store.options().read_file ? store.options().read_file(name) : std::nullopt;
    };
}

Result<void> document_checked(const Store& store, const Prepared& prepared,
                              const std::vector<Prepared>& before) {
    const Write& write = prepared.write;
    if (write.deed != Deed::create && write.deed != Deed::change) return {};
    const char* field = prepared.kind->name == "enclosure" ? "document" : "fix";
    if (prepared.kind->name != "enclosure" && prepared.kind->name != "task") return {};
    if (!write.fields.contains(field)) return {};

    std::string site = write.site;
    if (site.empty()) {
        const auto there = store.find(write.kind, write.id);
        if (there) site = there->site;
    }
    scene::ReadOptions options;
    options.file = field;
    options.read_file =
        [&, kept = file_reader(store, site)](const std::string& name) -> std::optional<std::string> {
        for (const Prepared& one : before) {
            if (one.kind->name == "file" && one.write.site == site &&
                one.write.fields.value("name", "") == name) {
                return one.write.fields["text"].get<std::string>();
            }
        }
        return kept(name);
    };
    const auto enclosure = scene::parse_enclosure(write.fields[field].dump(), options);
    if (!enclosure) return refuse_as(Trouble::invalid, enclosure.error());
    return {};
}

std::optional<Thing> answered(Connection& connection, const std::string& person, const std::string& key) {
    const auto rows =
        connection.rows("select kind, id, revision from answers where person = ? and idempotency_key = ?",
                        "tti", {text(person), text(key)});
    if (rows.empty()) return std::nullopt;
    return find_version(connection, *kind_named(text_of(rows[0][0])), text_of(rows[0][1]),
                        whole_of(rows[0][2]));
}

Result<Thing> carry_out(Connection& connection, const StoreOptions& options, const std::string& person,
                        const Prepared& prepared) {
    auto outcome = prepared.write.deed == Deed::create ? create(connection, options, person, prepared)
                                                       : alter(connection, options, person, prepared);
    if (!outcome) return tl::unexpected(outcome.error());
    auto& [thing, commands] = *outcome;
    if (!commands.empty() && !prepared.write.key.empty()) {
        commands.push_back(
            {"insert into answers (person, idempotency_key, request, kind, id, revision, answered_at) "
             "values (?, ?, ?, ?, ?, ?, ?)",
             {text(person), text(prepared.write.key), text(prepared.request), text(thing.kind),
              text(thing.id), whole(thing.revision), text(to_text(thing.changed_at))}});
    }
    connection.run_all(commands);
    return std::move(thing);
}

}  // namespace dapple::record
