#include "record/thing.h"

namespace dapple::record {

using nlohmann::json;

json to_json(const Thing& thing) {
    json result = thing.fields;
    result["kind"] = thing.kind;
    result["id"] = thing.id;
    result["site"] = thing.site.empty() ? json(nullptr) : json(thing.site);
    result["revision"] = thing.revision;
    result["made"] = {{"at", to_text(thing.made_at)}, {"by", thing.made_by}};
    result["changed"] = {{"at", to_text(thing.changed_at)}, {"by", thing.changed_by}};
    result["retired_at"] = thing.retired_at ? json(to_text(*thing.retired_at)) : json(nullptr);
    return result;
}

std::string_view name(Deed deed) {
    switch (deed) {
        case Deed::create:
            return "create";
        case Deed::change:
            return "change";
        case Deed::retire:
            return "retire";
        case Deed::reinstate:
            return "reinstate";
        case Deed::restore:
            return "restore";
    }
    return "change";
}

Deed deed_named(std::string_view word) {
    for (const Deed deed : {Deed::create, Deed::change, Deed::retire, Deed::reinstate, Deed::restore}) {
        if (word == name(deed)) return deed;
    }
    return Deed::change;
}

json to_json(const Version& version) {
    return {{"thing", to_json(version.thing)}, {"deed", name(version.deed)}, {"why", version.why}};
}

json to_json(const Change& change) {
    return {{"seq", change.seq},
            {"at", to_text(change.at)},
            {"by", change.by},
            {"kind", change.kind},
            {"id", change.id},
            {"site", change.site.empty() ? json(nullptr) : json(change.site)},
            {"revision", change.revision},
            {"deed", change.deed},
            {"why", change.why}};
}

}  // namespace dapple::record
