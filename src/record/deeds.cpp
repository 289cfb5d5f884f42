#include "record/deeds.h"

#include <fmt/format.h>

#include <algorithm>

#include "inference/life_date.h"
#include "record/database.h"
#include "record/rows.h"
#include "record/writing.h"

namespace dapple::record {

namespace {

using nlohmann::json;

void set(json& fields, const char* name, const std::string& value) {
    if (value.empty()) {
        fields.erase(name);
    } else {
        fields[name] = value;
    }
}

std::string get(const Thing& thing, const char* name) {
    return thing.fields.contains(name) ? thing.fields[name].get<std::string>() : std::string();
}

double number(const Thing& thing, const char* name, double otherwise) {
    return thing.fields.contains(name) ? thing.fields[name].get<double>() : otherwise;
}

Write change_to(const Thing& thing, json fields, const How& how) {
    Write write;
    write.deed = Deed::change;
    write.kind = thing.kind;
    write.id = thing.id;
    write.site = thing.site;
    write.seen = how.seen;
    write.fields = std::move(fields);
    write.key = how.key;
    write.why = how.why;
    return write;
}

// An event that goes with a change; its key follows from the change's, so that both are stored once.
Write event_of(const std::string& kind, const Thing& thing, json fields, const How& how) {
    Write write;
    write.kind = kind;
    write.site = thing.site;
    write.fields = std::move(fields);
    write.key = how.key.empty() ? "" : how.key + "/" + kind;
    write.why = how.why;
    return write;
}

Result<Done> both(Store& store, const Actor& actor, const Write& change, const Write& event) {
    auto done = store.write_all(actor, {change, event});
    if (!done) return tl::unexpected(done.error());
    return Done{(*done)[0], (*done)[1]};
}

// The thing as the writer saw it: a repeated write must build the very same fields, whatever happened since.
Result<Thing> as_seen(const Store& store, const std::string& kind, const std::string& id, const How& how) {
    return store.database().read<Thing>([&](Connection& connection) -> Result<Thing> {
        if (auto seen = find_version(connection, *kind_named(kind), id, how.seen)) return *seen;
        return refuse_as(Trouble::missing, {"", kind, fmt::format("no revision {} of \"{}\"", how.seen, id),
                                            "a thing in the record, and the revision that was seen"});
    });
}

Result<inference::Day> day_named(const std::string& day) {
    if (const auto found = day.size() == 10 ? inference::day_of(day) : std::nullopt) return *found;
    return refuse_as(Trouble::invalid, {"", "/day", "\"" + day + "\"", "a day as YYYY-MM-DD"});
}

// Hours at the end of a stay, from the lamp's own fields: those it came with, and its daily ones since.
Result<double> hours_by(const Thing& lamp, const std::string& day) {
    const auto until = day_named(day);
    if (!until) return tl::unexpected(until.error());
    double hours = number(lamp, "hours_before", 0);
    const auto since = inference::day_of(get(lamp, "installed_on"));
    if (get(lamp, "enclosure").empty() || !since) return hours;
    constexpr double hours_a_day = 12;  // as for documents that say nothing (scene/enclosure.h)
    return hours +
           std::max(0.0, inference::days_between(*since, *until)) * number(lamp, "hours_on", hours_a_day);
}

struct Step {
    Write change;
    Write event;
};

// A lamp goes to `to` (nowhere: into store); `what` names it in its events.
Result<Step> step_of(const Thing& lamp, const std::string& what, const LampPlace& to, const std::string& day,
                     const std::string& note, const How& how) {
    const auto hours = hours_by(lamp, day);
    if (!hours) return tl::unexpected(hours.error());
    json fields = lamp.fields;
    set(fields, "enclosure", to.enclosure);
    set(fields, "place", to.place);
    set(fields, "installed_on", to.enclosure.empty() ? std::string() : day);
    fields["hours_before"] = *hours;
    if (what == "retired") fields["retired_on"] = day;
    json event = {{"lamp", lamp.id}, {"what", what}, {"happened_on", day}, {"hours", *hours}, {"note", note}};
    set(event, "enclosure", to.enclosure);
    set(event, "place", to.place);
    return Step{change_to(lamp, std::move(fields), how), event_of("lamp_event", lamp, std::move(event), how)};
}

Result<Done> go(Store& store, const Actor& actor, const std::string& id, const char* what,
                const LampPlace& to, const std::string& day, const std::string& note, const How& how) {
    const auto lamp = as_seen(store, "lamp", id, how);
    if (!lamp) return tl::unexpected(lamp.error());
    const auto step = step_of(*lamp, what, to, day, note, how);
    if (!step) return tl::unexpected(step.error());
    return both(store, actor, step->change, step->event);
}

}  // namespace

Result<Done> move_animal(Store& store, const Actor& actor, const std::string& id, const std::string& to,
                         const std::string& day, const std::string& note, const How& how) {
    const auto animal = as_seen(store, "animal", id, how);
    if (!animal) return tl::unexpected(animal.error());
    json fields = animal->fields;
    set(fields, "enclosure", to);
    json move = {{"animal", id}, {"moved_on", day}, {"note", note}};
    set(move, "from_enclosure", get(*animal, "enclosure"));
    set(move, "to_enclosure", to);
    return both(store, actor, change_to(*animal, std::move(fields), how),
                event_of("move", *animal, std::move(move), how));
}

Result<Done> place_lamp(Store& store, const Actor& actor, const std::string& id, const LampPlace& to,
                        const std::string& day, const std::string& note, const How& how) {
    if (to.enclosure.empty()) {
        return refuse_as(Trouble::invalid, {"", "/enclosure", "nothing", "the enclosure it goes to"});
    }
    const auto lamp = as_seen(store, "lamp", id, how);
    if (!lamp) return tl::unexpected(lamp.error());
    return go(store, actor, id, get(*lamp, "enclosure").empty() ? "installed" : "moved", to, day, note, how);
}

Result<Done> remove_lamp(Store& store, const Actor& actor, const std::string& id, const std::string& day,
                         const std::string& note, const How& how) {
    return go(store, actor, id, "removed", {}, day, note, how);
}

Result<Done> retire_lamp(Store& store, const Actor& actor, const std::string& id, const std::string& day,
                         const std::string& note, const How& how) {
    return go(store, actor, id, "retired", {}, day, note, how);
}

Result<Replaced> replace_lamp(Store& store, const Actor& actor, const std::string& old_id,
                              const std::string& new_id, const std::string& day, const How& old_how,
                              std::int64_t new_seen) {
    const How new_how{new_seen, old_how.key.empty() ? "" : old_how.key + "/new", old_how.why};
    const auto old_lamp = as_seen(store, "lamp", old_id, old_how);
    if (!old_lamp) return tl::unexpected(old_lamp.error());
    const auto new_lamp = as_seen(store, "lamp", new_id, new_how);
    if (!new_lamp) return tl::unexpected(new_lamp.error());
    const LampPlace place{get(*old_lamp, "enclosure"), get(*old_lamp, "place")};
    if (place.enclosure.empty() || old_id == new_id || !get(*new_lamp, "retired_on").empty()) {
        return refuse_as(Trouble::invalid,
                         {"", "lamp", "lamps that cannot take each other's place",
                          "one that stands in an enclosure, and another that is not retired"});
    }
    const auto out = step_of(*old_lamp, "retired", {}, day, "", old_how);
    if (!out) return tl::unexpected(out.error());
    const auto in = step_of(*new_lamp, "installed", place, day, "", new_how);
    if (!in) return tl::unexpected(in.error());
    auto done = store.write_all(actor, {out->change, out->event, in->change, in->event});
    if (!done) return tl::unexpected(done.error());
    return Replaced{{(*done)[0], (*done)[1]}, {(*done)[2], (*done)[3]}};
}

Result<double> lamp_hours(const Store& store, const std::string& id, const std::string& day) {
    const auto lamp = store.find("lamp", id);
    if (!lamp) return tl::unexpected(lamp.error());
    return hours_by(*lamp, day);
}

Result<Thing> settle_task(Store& store, const Actor& actor, const std::string& id, bool apply,
                          const How& how) {
    // A repeated one is not done over: the enclosure may have changed since.
    const auto before = store.database().read<std::optional<Thing>>(
        [&](Connection& connection) -> Result<std::optional<Thing>> {
            return how.key.empty() ? std::nullopt : answered(connection, actor.person, how.key);
        });
    if (!before) return tl::unexpected(before.error());
    if (*before) return **before;
    const auto task = as_seen(store, "task", id, how);
    if (!task) return tl::unexpected(task.error());
    json fields = task->fields;
    fields["done_on"] = to_text(store.options().clock()).substr(0, 10);
    std::vector<Write> writes = {change_to(*task, std::move(fields), how)};
    if (apply) {
        if (!task->fields.contains("fix") || get(*task, "enclosure").empty()) {
            return refuse_as(Trouble::invalid,
                             {"", "task", "no changed document", "a task with a fix and its enclosure"});
        }
        const auto enclosure = store.find("enclosure", get(*task, "enclosure"));
        if (!enclosure) return tl::unexpected(enclosure.error());
        json changed = enclosure->fields;
        changed["document"] = task->fields["fix"];
        const How also{enclosure->revision, how.key.empty() ? "" : how.key + "/fix",
                       "fix: " + get(*task, "title")};
        writes.push_back(change_to(*enclosure, std::move(changed), also));
    }
    auto done = store.write_all(actor, writes);
    if (!done) return tl::unexpected(done.error());
    return done->front();
}

}  // namespace dapple::record
