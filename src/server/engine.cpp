// Calculations: the commands at, check, field, fit, next, fix, warmth and plan over HTTP. Each waits its turn at the
// calculators and ends when its view has asked something newer.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "advice/fix.h"
#include "advice/plan.h"
#include "husbandry/verdict.h"
#include "inference/fit_judge.h"
#include "inference/next.h"
#include "inference/warmth_fit.h"
#include "server/answers.h"
#include "server/documents.h"
#include "server/field_grid.h"
#include "server/numbers.h"
#include "server/question.h"
#include "server/sun.h"
#include "server/writing.h"

namespace dapple::server {

using nlohmann::json;

namespace {

json arrival_json(const light::Arrival& arrival) {
    json result = {{"point_cm", in_cm(arrival.point)},
                   {"facing", light::to_text(arrival.facing)},
                   {"normal", {arrival.normal.x(), arrival.normal.y(), arrival.normal.z()}}};
    for (const spectrum::Quantity q : spectrum::quantities) {
        result[std::string(spectrum::name(q))] = arrival.measure(q);
    }
    return result;
}

// The furniture that came as triangles, where it stands.
Response meshes(const Asked&, const Question& question, const Superseded&) {
    json list = json::array();
    for (const scene::Furniture& piece : question.enclosure.furniture) {
        const auto* mesh = std::get_if<scene::MeshShape>(&piece.shape);
        if (mesh == nullptr) continue;
        json vertices = json::array();
        for (const scene::Vec3& v : mesh->vertices) vertices.push_back(in_cm(v));
        list.push_back({{"id", piece.id}, {"vertices_cm", vertices}, {"triangles", mesh->triangles}});
    }
    return json_answer({{"meshes", list}});
}

Response check(const Asked& asked, const Question& question, const Superseded&) {
    if (question.object.value("readings", json()) == "recorded" && !question.site.empty()) {
        const auto judgement =
            judged_by_record(*asked.service.store, question.enclosure, question.enclosure.id);
        return judgement ? json_answer(husbandry::to_json(*judgement)) : unusable(judgement.error());
    }
    const auto given = given_readings(asked, question);
    if (!given) return unusable(given.error());
    const auto judgement =
        given->fit ? inference::judge_fitted(*given->fit) : husbandry::judge(question.enclosure);
    return judgement ? json_answer(husbandry::to_json(*judgement)) : unusable(judgement.error());
}

Response fix(const Asked& asked, const Question& question, const Superseded& stopped) {
    const json quick = question.object.value("quick", json(false));
    if (!quick.is_boolean()) return unusable({{"request", "/quick", shown(quick), "true or false"}});
    const auto given = given_readings(asked, question);
    if (!given) return unusable(given.error());
    advice::FixOptions options;
    options.stopped = stopped;
    options.pairs = !quick.get<bool>();
    const auto found = given->fit ? advice::search_fixes(*given->fit, options)
                                  : advice::search_fixes(question.enclosure, options);
    return found ? json_answer(advice::to_json(found->fixes)) : unusable(found.error());
}

Response fit(const Asked& asked, const Question& question, const Superseded&) {
    const auto given = given_readings(asked, question);
    if (!given) return unusable(given.error());
    const inference::Fit fitted = given->fit ? *given->fit : inference::fit(question.enclosure, {});
    const auto spots = inference::predict_spots(fitted);
    return spots ? json_answer(inference::to_json(fitted, *spots)) : unusable(spots.error());
}

Response next(const Asked& asked, const Question& question, const Superseded&) {
    const auto given = given_readings(asked, question);
    if (!given) return unusable(given.error());
    const auto found =
        inference::next_readings(given->fit ? *given->fit : inference::fit(question.enclosure, {}));
    return found ? json_answer(inference::to_json(*found)) : unusable(found.error());
}

Response warmth(const Asked& asked, const Question& question, const Superseded&) {
    const auto room = number_of(question.object, "room_c", -50, 60);
    if (!room) return unusable(room.error());
    const auto readings = posted_or_recorded(asked, question);
    if (!readings) return unusable(readings.error());
    inference::WarmthFitOptions options;
    if (*room) options.warmth.room_c = **room;
    const light::Field field(question.enclosure);
    const bool any_temperature = std::any_of(readings->begin(), readings->end(),
                                             [](const inference::Reading& r) { return !r.quantity; });
    if (!any_temperature) return json_answer(warmth::to_json(warmth::report(field, options.warmth)));
    return json_answer(inference::to_json(inference::fit_warmth(field, *readings, options)));
}

Response at(const Asked& asked, const Question& question, const Superseded&) {
    const auto facing = facing_of(question.object);
    if (!facing) return unusable(facing.error());
    const auto options = options_of(question.object);
    if (!options) return unusable(options.error());
    const auto points = points_of(question.object);
    if (!points) return unusable(points.error());
    json list = json::array();
    for (const auto& a : asked.service.fields.arrivals(question.enclosure, *options, *points, *facing)) {
        list.push_back(arrival_json(a));
    }
    return json_answer({{"points", list}});
}

Response field(const Asked& asked, const Question& question, const Superseded&) {
    const auto facing = facing_of(question.object);
    if (!facing) return unusable(facing.error());
    const auto options = options_of(question.object);
    if (!options) return unusable(options.error());
    const auto quantity = quantity_of(question.object);
    if (!quantity) return unusable(quantity.error());
    const auto grid = parse_grid(question.object.value("grid", json()));
    if (!grid) return unusable(grid.error());
    const auto values =
        asked.service.fields.values(question.enclosure, *options, points(*grid), *quantity, *facing);
    return {200,
            "application/vnd.dapple.field",
            encode_field(*grid, values, *quantity, *facing),
            {{"Cache-Control", "no-store"}}};
}

Response plan(const Asked& asked, const Superseded&) {
    const auto body = body_of(asked.request, {"species", "size_cm"});
    if (!body) return body.error();
    const json name = body->value("species", json());
    const husbandry::Species* species =
        name.is_string() ? husbandry::find_species(name.get<std::string>()) : nullptr;
    std::optional<husbandry::Species> estimate;
    if (species == nullptr && name.is_string()) {
        std::string words = name.get<std::string>();
        std::replace(words.begin(), words.end(), '_', ' ');
        estimate = husbandry::estimate_species(words);
    }
    if (species == nullptr && !estimate) {
        return unusable({{"request", "/species", shown(name), "the id of a species sheet (/api/species)"}});
    }
    const auto size = parse_point(body->value("size_cm", json()), "/size_cm");
    if (!size) return unusable(size.error());
    constexpr double least = 0.2;  // m, as on the command line
    constexpr double most = 10;
    if (size->minCoeff() < least || size->maxCoeff() > most) {
        return unusable(
            {{"request", "/size_cm", shown((*body)["size_cm"]), "three lengths from 20 to 1000 cm"}});
    }
    const auto planning = advice::plan_for(species != nullptr ? *species : *estimate, *size);
    return planning ? json_answer(advice::to_json(*planning)) : unusable(planning.error());
}

using Calculation = Response (*)(const Asked&, const Question&, const Superseded&);

// A view belongs to who looks: nobody ends another's.
std::string view_of(const Asked& asked) {
    const std::string view = asked.request.header("dapple-view");
    return view.empty() ? view : asked.visitor.person + " " + asked.visitor.token + " " + view;
}

// Says how long the answer took from the moment it was asked: waiting for its turn, reading the document, calculating.
Response timed(const std::function<Response()>& answer) {
    const auto began = std::chrono::steady_clock::now();
    Response response = answer();
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - began;
    response.headers.emplace_back("Server-Timing", fmt::format("answer;dur={:.2f}", took.count()));
    return response;
}

using Answer = std::function<Response(const Asked&, const Superseded&)>;

Route calculation(std::string path, const Answer& answer, Haste haste = Haste::patient) {
    return {"POST", std::move(path), Access::viewer, [answer, haste](const Asked& asked) {
                return timed([&] {
                    return asked.service.calculators.answer(
                        view_of(asked), haste,
                        [&](const Superseded& stopped) { return answer(asked, stopped); });
                });
            }};
}

Route calculation(std::string path, std::vector<std::string> fields, Calculation calculate,
                  Haste haste = Haste::patient) {
    fields.insert(fields.begin(), "enclosure");
    const auto answer = [fields = std::move(fields), calculate](const Asked& asked,
                                                                const Superseded& stopped) {
        const auto question = read_question(asked, fields);
        return question ? calculate(asked, *question, stopped) : question.error();
    };
    return calculation(std::move(path), answer, haste);
}

}  // namespace

std::vector<Route> engine_routes() {
    return {calculation("/api/check", {"readings"}, check),
            calculation("/api/fix", {"readings", "quick"}, fix),
            calculation("/api/fit", {"readings"}, fit),
            calculation("/api/next", {"readings"}, next),
            calculation("/api/warmth", {"readings", "room_c"}, warmth),
            calculation("/api/meshes", {}, meshes),
            calculation("/api/at", {"points_cm", "facing", "bounces"}, at, Haste::prompt),
            calculation("/api/field", {"grid", "quantity", "facing", "bounces"}, field, Haste::prompt),
            calculation("/api/plan", plan),
            calculation("/api/sun", sun)};
}

}  // namespace dapple::server
