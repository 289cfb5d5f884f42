#include <nlohmann/json.hpp>

#include "advice/lamps.h"
#include "advice/plan.h"
#include "scene/document.h"

namespace dapple::advice {

namespace {

nlohmann::json to_json(const Plan& plan) {
    nlohmann::json lamps = nlohmann::json::array();
    for (const std::string& id : plan.models) {
        const LampModel& model = *find_lamp_model(id);
        lamps.push_back({{"model", id},
                         {"name", model.name},
                         {"synthetic", model.synthetic},
                         {"source", model.source},
                         {"confidence", model.confidence}});
    }
    return {{"words", plan.words},
            {"effort", plan.effort},
            {"power_w", plan.power_w},
            {"lamps", lamps},
            {"wrong", plan.wrong},
            {"enclosure", scene::to_json(plan.enclosure)},
            {"judgement", husbandry::to_json(plan.judgement)}};
}

nlohmann::json list(const std::vector<Plan>& plans) {
    nlohmann::json all = nlohmann::json::array();
    for (const Plan& plan : plans) all.push_back(to_json(plan));
    return all;
}

}  // namespace

nlohmann::json to_json(const Planning& planning) {
    const scene::Vec3 cm = 100 * planning.size;
    return {{"species", planning.species.id},
            {"size_cm", {cm.x(), cm.y(), cm.z()}},
            {"plans", list(planning.plans)},
            {"nearest", list(planning.nearest)},
            {"looked_at", {{"candidates", planning.glances}, {"judged", planning.judged}}}};
}

}  // namespace dapple::advice
