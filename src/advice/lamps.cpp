#include "advice/lamps.h"

#include <algorithm>
#include <stdexcept>

#include "embedded/files.h"
#include "light/lamp.h"
#include "scene/document.h"
#include "scene/fields.h"

namespace dapple::advice {

namespace {

using scene::Json;

constexpr const char* format = "dapple/lamps@1";
constexpr scene::Limits distance_cm = {0, 500, "cm"};

// A lamp is read where all lamps are: in an enclosure, here one that is open and large.
std::optional<scene::Lamp> read_lamp(const Json& written, const LampModel& model, const std::string& place,
                                     scene::Faults& faults) {
    if (!written.is_object()) {
        faults.add(place, scene::quoted(written), "a lamp as in an enclosure document, without id and place");
        return std::nullopt;
    }
    Json lamp = written;
    lamp["id"] = model.id;
    lamp["name"] = model.name;
    lamp["centre_cm"] = {500, 500, 500};
    const Json document = {{"format", "dapple/enclosure@1"},
                           {"id", "library"},
                           {"size_cm", {1000, 1000, 1000}},
                           {"lamps", Json::array({lamp})}};
    const auto enclosure = scene::parse_enclosure(document.dump());
    if (enclosure) return enclosure->lamps.front();
    for (const Problem& problem : enclosure.error()) {
        faults.add(place + problem.place, problem.found, problem.allowed);
    }
    return std::nullopt;
}

std::optional<LampModel> read_model(const Json& value, const std::string& place, scene::Faults& faults) {
    scene::Fields fields(value, place, "a lamp of the library", faults);
    LampModel model{};
    model.id = fields.need_text("id").value_or("");
    model.name = fields.need_text("name").value_or("");
    model.safe_distance = fields.need_number("safe_distance_cm", distance_cm).value_or(0) / 100;
    model.uv = fields.truth("uv").value_or(false);
    model.heat = fields.truth("heat").value_or(false);
    model.dims = fields.truth("dims").value_or(false);
    model.synthetic = fields.truth("synthetic").value_or(false);
    model.source = fields.need_text("source").value_or("");
    model.confidence = fields.need_word("confidence", {"high", "medium", "low"}).value_or("");
    const Json* written = fields.need("lamp", "a lamp as in an enclosure document, without id and place");
    fields.finish();
    if (written == nullptr) return std::nullopt;
    auto lamp = read_lamp(*written, model, fields.place("lamp"), faults);
    if (!lamp) return std::nullopt;
    model.lamp = *std::move(lamp);
    return model;
}

double irradiance_before(const scene::Lamp& lamp, spectrum::Quantity quantity) {
    constexpr double distance = 0.3;
    return light::strength(lamp) * light::irradiance_on_axis(lamp, distance) *
           spectrum::measure(lamp.spectrum.relative, quantity);
}

}  // namespace

Expected<std::vector<LampModel>> parse_lamp_models(std::string_view json, const std::string& file) {
    const auto document = scene::parse_json(json, file);
    if (!document) return tl::unexpected(document.error());
    scene::Faults faults(file);
    scene::Fields fields(*document, "", "a library of lamps", faults);
    fields.need_word("format", {format});
    std::vector<LampModel> models;
    for (const auto& [value, place] : fields.list("lamps", 1000)) {
        if (auto model = read_model(*value, place, faults)) models.push_back(*std::move(model));
    }
    fields.finish();
    if (!faults.none()) return tl::unexpected(std::move(faults).take());
    return models;
}

const std::vector<LampModel>& lamp_models() {
    static const std::vector<LampModel> models = [] {
        std::vector<LampModel> all;
        for (const embedded::File& file : embedded::data()) {
            if (!file.path.starts_with("lamps/")) continue;
            auto some = parse_lamp_models(file.bytes, std::string(file.path));
            if (!some) throw std::logic_error(to_text(some.error()));  // the library is ours
            std::move(some->begin(), some->end(), std::back_inserter(all));
        }
        return all;
    }();
    return models;
}

const LampModel* find_lamp_model(std::string_view id) {
    const auto& models = lamp_models();
    const auto found = std::find_if(models.begin(), models.end(), [&](const auto& m) { return m.id == id; });
    return found == models.end() ? nullptr : &*found;
}

bool gives_uv(const scene::Lamp& lamp) {
    return irradiance_before(lamp, spectrum::Quantity::uvi) >= 0.2;
}

bool gives_heat(const scene::Lamp& lamp) {
    return irradiance_before(lamp, spectrum::Quantity::irradiance) >= 50;
}

bool can_be_dimmed(const scene::Lamp& lamp) {
    const std::string& id = lamp.spectrum.id;
    return id.starts_with("led_") || id.starts_with("halogen") || id == "incandescent" ||
           id == "infrared_heat_lamp";
}

double safe_distance(const scene::Lamp& lamp, double otherwise) {
    double distance = otherwise;
    for (const LampModel& model : lamp_models()) {
        const bool alike = !lamp.spectrum.id.empty() && model.lamp.spectrum.id.starts_with(lamp.spectrum.id);
        if (alike) distance = std::max(distance, model.safe_distance);
    }
    return distance;
}

}  // namespace dapple::advice
