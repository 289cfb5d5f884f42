#include <cmath>
#include <nlohmann/json.hpp>

#include "advice/fix.h"
#include "scene/document.h"

namespace dapple::advice {

namespace {

// Documents are in cm, and written to a hundredth of a millimetre.
double centimetres(double metres) {
    return std::round(metres * 1e5) / 1e3;
}

nlohmann::json by_cm(const scene::Vec3& by) {
    return {centimetres(by.x()), centimetres(by.y()), centimetres(by.z())};
}

nlohmann::json to_json(const Change& change) {
    switch (change.kind) {
        case Change::Kind::move_furniture:
            return {{"kind", "move_furniture"}, {"id", change.id}, {"by_cm", by_cm(change.by)}};
        case Change::Kind::move_lamp:
            return {{"kind", "move_lamp"}, {"id", change.id}, {"by_cm", by_cm(change.by)}};
        case Change::Kind::swap_lamps:
            return {{"kind", "swap_lamps"}, {"id", change.id}, {"other", change.other}};
        case Change::Kind::remove_screen:
            return {{"kind", "remove_screen"}, {"id", change.id}};
    }
    return nullptr;
}

nlohmann::json to_json(const Fix& fix) {
    nlohmann::json changes = nlohmann::json::array();
    for (const Change& change : fix.changes) changes.push_back(to_json(change));
    return {{"words", fix.words},
            {"effort", fix.effort},
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

}  // namespace dapple::advice
