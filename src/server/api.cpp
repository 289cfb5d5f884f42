#include "server/api.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <exception>
#include <functional>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <variant>

#include "advice/fix.h"
#include "embedded/files.h"
#include "husbandry/species.h"
#include "husbandry/verdict.h"
#include "scene/document.h"
#include "server/answers.h"
#include "server/collection.h"
#include "server/field_grid.h"
#include "server/library.h"
#include "server/numbers.h"
#include "server/recent_fields.h"

namespace dapple::server {

using nlohmann::json;

struct Api::State {
    std::vector<Kept> collection;
    RecentFields fields;
    std::mutex summaries_guard;
    std::optional<json> summaries;  // worked out at the first question
};

namespace {

constexpr int most_points = 10'000;
constexpr int most_bounces = 100;

Response unusable(const Problems& problems) {
    return refusal(422, "This cannot be used as it stands", problems);
}
Response unreadable(const Problems& problems) {
    return refusal(400, "The request cannot be read", problems);
}

// What every calculation is asked with.
struct Question {
    json object;
    scene::Enclosure enclosure;
};

// The enclosure of a request, and the rest of its fields; or the refusal.
tl::expected<Question, Response> read_question(const Request& request,
                                               const std::vector<std::string>& fields) {
    if (!request.content_type.starts_with("application/json")) {
        return tl::unexpected(refusal(415, "The body must be application/json"));
    }
    auto object = read_object(request.body, fields);
    if (!object) return tl::unexpected(unreadable(object.error()));
    if (!object->contains("enclosure")) {
        return tl::unexpected(unusable({{"request", "/enclosure", "nothing", "an enclosure document"}}));
    }
    auto enclosure = scene::parse_enclosure((*object)["enclosure"].dump(), reading("enclosure"));
    if (!enclosure) return tl::unexpected(unusable(enclosure.error()));
    return Question{std::move(*object), std::move(*enclosure)};
}

Expected<light::Facing> facing_of(const json& object) {
    const json facing = object.value("facing", json("aimed"));
    if (!facing.is_string()) {
        return refuse({"request", "/facing", shown(facing), "\"aimed\", \"up\", \"back\" or \"nx,ny,nz\""});
    }
    return light::parse_facing(facing.get<std::string>());
}

Expected<light::FieldOptions> options_of(const json& object) {
    const json bounces = object.value("bounces", json(-1));
    if (!bounces.is_number_integer() || bounces < -1 || bounces > most_bounces) {
        return refuse({"request", "/bounces", shown(bounces),
                       fmt::format("a whole number from -1 (as many as matter) to {}", most_bounces)});
    }
    return light::FieldOptions{bounces.get<int>()};
}

Expected<spectrum::Quantity> quantity_of(const json& object) {
    const json name = object.value("quantity", json("uvi"));
    std::vector<std::string> names;
    for (const spectrum::Quantity q : spectrum::quantities) names.emplace_back(spectrum::name(q));
    const auto found = name.is_string() ? spectrum::quantity_named(name.get<std::string>()) : std::nullopt;
    if (found) return *found;
    return refuse({"request", "/quantity", shown(name), fmt::format("{}", fmt::join(names, ", "))});
}

Expected<std::vector<scene::Vec3>> points_of(const json& object) {
    const json list = object.value("points_cm", json());
    if (!list.is_array() || list.empty() || list.size() > most_points) {
        return refuse({"request", "/points_cm",
                       list.is_array() ? fmt::format("{} points", list.size()) : shown(list),
                       fmt::format("a list of 1 to {} points", most_points)});
    }
    std::vector<scene::Vec3> points;
    points.reserve(list.size());
    for (std::size_t i = 0; i < list.size(); ++i) {
        const auto point = parse_point(list[i], fmt::format("/points_cm/{}", i));
        if (!point) return tl::unexpected(point.error());
        points.push_back(*point);
    }
    return points;
}

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
Response meshes(const Question& question) {
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

Response check(const Question& question) {
    const auto judgement = husbandry::judge(question.enclosure);
    return judgement ? json_answer(husbandry::to_json(*judgement)) : unusable(judgement.error());
}

Response fix(const Question& question) {
    const auto fixes = advice::find_fixes(question.enclosure);
    return fixes ? json_answer(advice::to_json(*fixes)) : unusable(fixes.error());
}

Response at(const Question& question, RecentFields& fields) {
    const auto facing = facing_of(question.object);
    if (!facing) return unusable(facing.error());
    const auto options = options_of(question.object);
    if (!options) return unusable(options.error());
    const auto points = points_of(question.object);
    if (!points) return unusable(points.error());
    json list = json::array();
    for (const light::Arrival& a : fields.arrivals(question.enclosure, *options, *points, *facing)) {
        list.push_back(arrival_json(a));
    }
    return json_answer({{"points", list}});
}

Response field(const Question& question, RecentFields& fields) {
    const auto facing = facing_of(question.object);
    if (!facing) return unusable(facing.error());
    const auto options = options_of(question.object);
    if (!options) return unusable(options.error());
    const auto quantity = quantity_of(question.object);
    if (!quantity) return unusable(quantity.error());
    const auto grid = parse_grid(question.object.value("grid", json()));
    if (!grid) return unusable(grid.error());
    const auto values = fields.values(question.enclosure, *options, points(*grid), *quantity, *facing);
    return {200,
            "application/vnd.dapple.field",
            encode_field(*grid, values, *quantity, *facing),
            {{"Cache-Control", "no-store"}}};
}

json species_list(const std::vector<husbandry::Species>& sheets) {
    json list = json::array();
    for (const husbandry::Species& sheet : sheets) list.push_back(husbandry::to_json(sheet));
    return {{"species", list}};
}

Response species(const Request& request) {
    const auto words = request.query.find("words");
    if (words == request.query.end() || words->second.empty()) {
        return json_answer(species_list(husbandry::species_library()));
    }
    return json_answer(species_list(husbandry::search_species(words->second, 30)));
}

Response one_species(const std::string& id) {
    if (const husbandry::Species* sheet = husbandry::find_species(id))
        return json_answer(husbandry::to_json(*sheet));
    std::string name = id;
    std::replace(name.begin(), name.end(), '_', ' ');
    if (const auto estimate = husbandry::estimate_species(name))
        return json_answer(husbandry::to_json(*estimate));
    return refusal(404, "No species sheet of that name, and no relative to estimate one from");
}

Response embedded_document(std::string_view path, std::string_view type) {
    const auto bytes = embedded::find(embedded::data(), path);
    if (!bytes) return refusal(404, "Not part of this program");
    return {200, std::string(type), std::string(*bytes), {{"Cache-Control", "no-cache"}}};
}

Response get(const Request& request, std::vector<Kept>& collection, std::mutex& guard,
             std::optional<json>& summaries) {
    const std::string& path = request.path;
    const auto below = [&](std::string_view folder) -> std::optional<std::string> {
        if (!path.starts_with(folder) || path.size() == folder.size()) return std::nullopt;
        return path.substr(folder.size());
    };
    if (path == "/api/enclosures") {
        const std::lock_guard lock(guard);
        if (!summaries) {
            summaries = json::array();
            for (const Kept& kept : collection) summaries->push_back(summary(kept));
        }
        return json_answer({{"enclosures", *summaries}});
    }
    if (const auto id = below("/api/enclosures/")) {
        for (const Kept& kept : collection) {
            if (kept.id == *id) return json_answer(json::parse(kept.document));
        }
        return refusal(404, "No enclosure of that id");
    }
    if (path == "/api/species") return species(request);
    if (const auto id = below("/api/species/")) return one_species(*id);
    if (path == "/api/materials") return json_answer(materials_document());
    if (path == "/api/spectra") return json_answer(spectra_document());
    if (path == "/api/schema/enclosure") {
        return {
            200, "application/schema+json", std::string(scene::schema()), {{"Cache-Control", "no-cache"}}};
    }
    if (path == "/api/openapi.json") {
        return embedded_document("schemas/openapi.json", "application/json; charset=utf-8");
    }
    return refusal(404, "There is nothing at this address");
}

}  // namespace

Api::Api() : state_(std::make_unique<State>()) {
    Problems problems;
    state_->collection = read_collection(embedded::examples(), problems);
    if (!problems.empty()) std::fputs((to_text(problems) + "\n").c_str(), stderr);
}
Api::~Api() = default;
Api::Api(Api&&) noexcept = default;
Api& Api::operator=(Api&&) noexcept = default;

Response Api::answer(const Request& request) try {
    using Calculation = std::function<Response(const Question&)>;
    struct Route {
        std::string path;
        std::vector<std::string> fields;
        Calculation calculate;
    };
    const std::vector<Route> calculations = {
        {"/api/check", {"enclosure"}, check},
        {"/api/fix", {"enclosure"}, fix},
        {"/api/meshes", {"enclosure"}, meshes},
        {"/api/at",
         {"enclosure", "points_cm", "facing", "bounces"},
         [this](const Question& q) { return at(q, state_->fields); }},
        {"/api/field",
         {"enclosure", "grid", "quantity", "facing", "bounces"},
         [this](const Question& q) { return field(q, state_->fields); }},
    };
    for (const Route& route : calculations) {
        if (request.path != route.path) continue;
        if (request.method != "POST") {
            Response refused = refusal(405, "This address answers POST");
            refused.headers.emplace_back("Allow", "POST");
            return refused;
        }
        const auto question = read_question(request, route.fields);
        return question ? route.calculate(*question) : question.error();
    }
    if (request.method != "GET" && request.method != "HEAD") {
        Response refused = refusal(405, "This address answers GET");
        refused.headers.emplace_back("Allow", "GET, HEAD");
        return refused;
    }
    return get(request, state_->collection, state_->summaries_guard, state_->summaries);
} catch (const std::exception& error) {  // a fault of ours; the page is told so, the terminal is told what
    std::fprintf(stderr, "%s %s: %s\n", request.method.c_str(), request.path.c_str(), error.what());
    return refusal(500, "Something went wrong in the program");
}

}  // namespace dapple::server
