#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "advice/fix.h"
#include "scene/document.h"

namespace dapple::advice {

namespace {

// Documents are in cm, and written to a hundredth of a millimetre.
double centimetres(double metres) {
    return std::round(metres * 1e5) / 1e3;
}

nlohmann::json in_cm(const scene::Vec3& by) {
    return {centimetres(by.x()), centimetres(by.y()), centimetres(by.z())};
}

nlohmann::json to_json(const Change& change) {
    using Kind = Change::Kind;
    nlohmann::json json = {{"kind", name(change.kind)}, {"id", change.id}};
    switch (change.kind) {
        case Kind::move_furniture:
        case Kind::move_lamp:
            json["by_cm"] = in_cm(change.by);
            break;
        case Kind::tilt_lamp:
            json["towards"] = {std::round(change.by.normalized().x()), std::round(change.by.normalized().y()),
                               0};
            json["by_deg"] = std::round(change.by.norm() * 1800 / std::numbers::pi) / 10;
            break;
        case Kind::swap_lamps:
            json["other"] = change.other;
            break;
        case Kind::dim_lamp:
        case Kind::thin_foliage:
            json["to"] = change.factor;
            break;
        case Kind::replace_screen:
            json["mesh"] = {{"pitch_mm", 1000 * change.mesh.pitch}, {"wire_mm", 1000 * change.mesh.wire}};
            break;
        case Kind::replace_lamp:
            json["model"] = change.other;
            break;
        case Kind::add_lamp:
            json["model"] = change.other;
            json["centre_cm"] = in_cm(change.by);
            break;
        case Kind::add_shade:
            json["centre_cm"] = in_cm(change.by);
            break;
        case Kind::remove_screen:
        case Kind::renew_lamp:
            break;
    }
    return json;
}

nlohmann::json to_json(const Fix& fix) {
    nlohmann::json changes = nlohmann::json::array();
    for (const Change& change : fix.changes) changes.push_back(to_json(change));
    return {{"words", fix.words},
            {"effort", fix.effort},
            {"probability", fix.probability},
            {"on_front", fix.on_front},
            {"remaining", fix.remaining},
            {"worsened", fix.worsened},
            {"warmed", fix.warmed},
            {"changes", changes},
            {"enclosure", scene::to_json(fix.enclosure)},
            {"before", husbandry::to_json(fix.before)},
            {"after", husbandry::to_json(fix.after)}};
}

}  // namespace

nlohmann::json to_json(const std::vector<Fix>& fixes) {
    nlohmann::json list = nlohmann::json::array();
    for (const Fix& fix : fixes) list.push_back(to_json(fix));
    return {{"fixes", list}};
}

nlohmann::json to_json(const Search& search) {
    nlohmann::json document = to_json(search.fixes);
    document["looked_at"] = {
        {"candidates", search.glances}, {"places", search.places}, {"judged", search.judged}};
    return document;
}

}  // namespace dapple::advice
