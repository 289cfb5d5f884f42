// Enclosures back into documents. The document as the person wrote it is the start; a field is written only
// where the enclosure now says something else.
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "scene/document.h"
#include "scene/json_text.h"
#include "scene/mesh_file.h"
#include "scene/read_parts.h"
#include "scene/write_parts.h"

namespace dapple::scene {

namespace {

constexpr double deg_per_rad = 180 / std::numbers::pi;

// The things of one list of the source document by id, each with its place.
class Written {
  public:
    Written(const Json& document, const std::string& list) {
        const auto things = document.find(list);
        if (things == document.end() || !things->is_array()) return;
        for (std::size_t i = 0; i < things->size(); ++i) {
            const Json& thing = (*things)[i];
            const auto id = thing.find("id");
            if (id == thing.end() || !id->is_string()) continue;
            places_[id->get<std::string>()] = {i, below(below("", list), i), &thing};
        }
    }

    struct Thing {
        Json json;
        std::string place;  // in the source; empty for a new thing
        std::size_t index;  // new things go last
    };

    Thing of(const std::string& id) const {
        const auto it = places_.find(id);
        if (it == places_.end()) return {Json{{"id", id}}, "", places_.size()};
        return {*it->second.json, it->second.place, it->second.index};
    }

  private:
    struct Entry {
        std::size_t index;
        std::string place;
        const Json* json;
    };
    std::map<std::string, Entry> places_;
};

void erase_all(Json& thing, std::initializer_list<const char*> fields) {
    for (const char* field : fields) thing.erase(field);
}

// ---- lamps ----

void put_directions(Json& thing, const Vec3& along, const Vec3& aim) {
    const auto [old_along, old_aim] =
        straightened(vector_of(thing, "along", Vec3::UnitX()), vector_of(thing, "aim", -Vec3::UnitZ()));
    const bool same_along = (old_along - along).norm() < 1e-9;
    if (!same_along) thing["along"] = numbers(along);
    if (!same_along || !((old_aim - aim).norm() < 1e-9)) thing["aim"] = numbers(aim);
}

void put_beam(Json& thing, double beam, const std::optional<Photometry>& photometry) {
    if (!photometry) {
        erase_all(thing, {"ies", "ies_file"});
        put(thing, "beam_deg", number(beam * deg_per_rad), default_beam_deg);
        return;
    }
    thing.erase("beam_deg");
    if (!thing.contains("ies_file")) thing["ies"] = photometry->text;
}

void put_shape(Json& thing, const Tube& tube) {
    put(thing, "length_cm", cm(tube.length));
    put(thing, "diameter_cm", cm(tube.diameter),
        tube.coil ? default_coil_diameter_cm : default_tube_diameter_cm);
    if (!tube.coil) {
        if (tube.forward_power >= 0) {
            put(thing, "spread", {{"forward_power", number(tube.forward_power)}});
        } else {
            put(thing, "spread", {{"all_round", true}}, {{"all_round", true}});
        }
    }
    put_directions(thing, tube.along, tube.aim);
}

void put_shape(Json& thing, const Spot& spot) {
    put(thing, "diameter_cm", cm(spot.diameter), 0);
    put_beam(thing, spot.beam, spot.photometry);
    if (!((vector_of(thing, "aim", -Vec3::UnitZ()).normalized() - spot.aim).norm() < 1e-9)) {
        thing["aim"] = numbers(spot.aim);
    }
}

void put_shape(Json& thing, const Bar& bar) {
    put(thing, "length_cm", cm(bar.length));
    put(thing, "count", bar.count);
    put_beam(thing, bar.beam, bar.photometry);
    put_directions(thing, bar.along, bar.aim);
}

std::string kind_of(const Lamp& lamp) {
    if (const auto* tube = std::get_if<Tube>(&lamp.shape)) return tube->coil ? "coil" : "tube";
    return std::holds_alternative<Spot>(lamp.shape) ? "spot" : "bar";
}

void put_output(Json& thing, const std::vector<Output>& output) {
    Json list = Json::array();
    for (const Output& o : output) {
        list.push_back(
            {{std::string(spectrum::name(o.quantity)), number(o.value)}, {"at_cm", cm(o.distance)}});
    }
    const auto old = thing.find("output");
    if (old == thing.end() ? list.empty() : close(old->is_array() ? *old : Json::array({*old}), list)) return;
    if (list.empty()) {
        thing.erase("output");
    } else {
        thing["output"] = list.size() == 1 ? list[0] : list;
    }
}

Json lamp_json(const Lamp& lamp, Written::Thing written) {
    Json thing = std::move(written.json);
    const std::string kind = kind_of(lamp);
    if (thing.value("kind", "") != kind) {
        erase_all(thing, {"length_cm", "diameter_cm", "spread", "along", "aim", "beam_deg", "count", "ies",
                          "ies_file"});
        thing["kind"] = kind;
    }
    put(thing, "name", lamp.name, lamp.id);
    put(thing, "centre_cm", cm(lamp.centre));
    std::visit([&](const auto& shape) { put_shape(thing, shape); }, lamp.shape);
    put_spectrum(thing, written.place, lamp.spectrum, default_spectrum(kind));
    put_output(thing, lamp.output);
    put(thing, "power_w", number(lamp.power_w), 0);
    put(thing, "hours_on", number(lamp.hours_on), 12);
    put_or_erase(thing, "installed", lamp.installed.empty() ? Json() : Json(lamp.installed));
    put(thing, "age_factor", number(lamp.age_factor), 1);
    put_or_erase(thing, "heat_kind", lamp.heat_kind ? Json(std::string(name(*lamp.heat_kind))) : Json());
    put_or_erase(thing, "thermostat_c", lamp.thermostat_c ? number(*lamp.thermostat_c) : Json());
    return thing;
}

// ---- screens ----

Json screen_json(const Screen& screen, Written::Thing written) {
    Json thing = std::move(written.json);
    put(thing, "name", screen.name, screen.id);
    put(thing, "min_cm", cm(screen.box.min));
    put(thing, "max_cm", cm(screen.box.max));
    if (const auto* mesh = std::get_if<Mesh>(&screen.kind)) {
        thing.erase("pane");
        put(thing, "mesh", {{"pitch_mm", mm(mesh->pitch)}, {"wire_mm", mm(mesh->wire)}});
    } else if (const auto* pane = std::get_if<Pane>(&screen.kind)) {
        thing.erase("mesh");
        Json& sheet = thing["pane"];
        if (!sheet.is_object()) sheet = Json::object();
        put_material(sheet, "material", below(written.place, "pane"), pane->material, "");
        put(sheet, "thickness_mm", mm(pane->thickness));
    } else {
        erase_all(thing, {"mesh", "pane"});
    }
    put_or_erase(thing, "transmittance", screen.transmittance ? number(*screen.transmittance) : Json());
    return thing;
}

// ---- furniture ----

void put_turn(Json& thing, const Vec3& turn) {
    put(thing, "turn_deg", numbers(turn * deg_per_rad), {0, 0, 0});
}

void put_body(Json& thing, const BoxShape& box) {
    put(thing, "min_cm", cm(box.box.min));
    put(thing, "max_cm", cm(box.box.max));
    put_turn(thing, box.turn);
}

void put_body(Json& thing, const CylinderShape& cylinder) {
    put(thing, "from_cm", cm(cylinder.from));
    put(thing, "to_cm", cm(cylinder.to));
    put(thing, "diameter_cm", cm(cylinder.diameter));
    put_turn(thing, cylinder.turn);
}

void put_body(Json& thing, const EllipsoidShape& ellipsoid) {
    put(thing, "centre_cm", cm(ellipsoid.centre));
    put(thing, "radii_cm", cm(ellipsoid.radii));
    put_turn(thing, ellipsoid.turn);
}

// A mesh that the document has is only ever moved; one that it has not is written out.
void put_body(Json& thing, const MeshShape& mesh) {
    if (!thing.contains("file") && !thing.contains("obj")) {
        thing["obj"] = to_obj(mesh, 1 / m_per_cm);
        return;
    }
    const Vec3 moved = mesh.vertices.front() - mesh.as_written;
    if (moved.norm() < 1e-9) return;
    thing["position_cm"] = numbers(vector_of(thing, "position_cm", Vec3::Zero()) + moved / m_per_cm);
}

constexpr std::initializer_list<const char*> body_fields = {"min_cm",  "max_cm", "centre_cm",   "radii_cm",
                                                            "from_cm", "to_cm",  "diameter_cm", "turn_deg",
                                                            "file",    "obj",    "position_cm", "scale"};

void put_form(Json& thing, const std::string& shape) {
    if (thing.value("shape", "") == shape) return;
    erase_all(thing, body_fields);
    thing["shape"] = shape;
}

Json furniture_json(const Furniture& furniture, Written::Thing written) {
    constexpr std::array shapes = {"box", "cylinder", "ellipsoid", "mesh"};
    Json thing = std::move(written.json);
    put(thing, "name", furniture.name, furniture.id);
    put_form(thing, shapes.at(furniture.shape.index()));
    std::visit([&](const auto& body) { put_body(thing, body); }, furniture.shape);
    put_material(thing, "material", written.place, furniture.material, "black");
    put(thing, "perch", furniture.perch, false);
    return thing;
}

Json foliage_json(const Foliage& foliage, Written::Thing written) {
    Json thing = std::move(written.json);
    put(thing, "name", foliage.name, foliage.id);
    put_form(thing, "foliage");
    if (std::holds_alternative<BoxShape>(foliage.shape)) {
        erase_all(thing, {"centre_cm", "radii_cm"});
    } else {
        erase_all(thing, {"min_cm", "max_cm"});
    }
    std::visit([&](const auto& body) { put_body(thing, body); }, foliage.shape);
    put(thing, "leaf_area_density", number(foliage.leaf_area_density), default_leaf_area_density);
    return thing;
}

// ---- animals and spots ----

Json animal_json(const Animal& animal, Json thing) {
    put(thing, "species",
        animal.definition.empty() ? Json(animal.species) : Json::parse(animal.definition, nullptr, false));
    put(thing, "count", animal.count, 1);
    put_or_erase(thing, "back_height_cm", animal.back_height ? cm(*animal.back_height) : Json());
    put_or_erase(thing, "climbs", animal.climbs ? Json(*animal.climbs) : Json());
    put_or_erase(thing, "zone", animal.zones.empty() ? Json() : Json(animal.zones));
    put_or_erase(
        thing, "band",
        animal.band ? Json::array({number(animal.band->first), number(animal.band->second)}) : Json());
    return thing;
}

Json animals_json(const Json& document, const std::vector<Animal>& animals) {
    std::vector<Json> written;
    if (const auto list = document.find("animals"); list != document.end()) {
        written.assign(list->begin(), list->end());
    }
    Json result = Json::array();
    for (const Animal& animal : animals) {
        const auto same = std::find_if(written.begin(), written.end(), [&](const Json& thing) {
            const Json& species = thing["species"];
            return (species.is_object() ? species["id"] : species) == animal.species;
        });
        Json thing = Json::object();
        if (same != written.end()) {
            thing = *same;
            written.erase(same);
        }
        result.push_back(animal_json(animal, std::move(thing)));
    }
    return result;
}

Json spot_json(const Place& spot, Written::Thing written) {
    constexpr std::array roles = {"bask", "retreat", "other"};
    Json thing = std::move(written.json);
    put(thing, "name", spot.name, spot.id);
    put(thing, "position_cm", cm(spot.position));
    put_or_erase(thing, "height_cm", spot.height ? cm(*spot.height) : Json());
    put(thing, "role", roles.at(static_cast<std::size_t>(spot.role)), "other");
    put_or_erase(thing, "animal", spot.animal.empty() ? Json() : Json(spot.animal));
    return thing;
}

// ---- the whole ----

void put_walls(Json& document, const std::array<Wall, 6>& walls) {
    Json written = document.value("walls", Json::object());
    for (const Face face : faces) {
        const std::string field(name(face));
        const Wall& wall = walls[static_cast<std::size_t>(face)];
        if (wall) {
            put_material(written, field, "/walls", *wall, face == Face::top ? "" : "black");
        } else {
            put(written, field, "open", face == Face::top ? "open" : "black");
        }
    }
    if (!written.empty() || document.contains("walls")) document["walls"] = std::move(written);
}

void put_outdoors(Json& document, const std::optional<Outdoors>& outdoors) {
    if (!outdoors) {
        document.erase("outdoors");
        return;
    }
    Json written = document.value("outdoors", Json::object());
    put(written, "lat", number(outdoors->lat_deg));
    put(written, "lon", number(outdoors->lon_deg));
    put(written, written.contains("bearing") ? "bearing" : "bearing_deg", number(outdoors->bearing_deg), 0);
    const auto put_known = [&](const char* field, const std::optional<double>& value) {
        put_or_erase(written, field, value ? number(*value) : Json());
    };
    put_known("elevation_m", outdoors->elevation_m);
    put_known("albedo", outdoors->albedo);
    put_or_erase(written, "time_zone", outdoors->time_zone.empty() ? Json() : Json(outdoors->time_zone));
    document["outdoors"] = std::move(written);
}

void put_room(Json& document, const Room& room) {
    const Room otherwise;
    put(document, "room_c", number(room.day_c), otherwise.day_c);
    put_or_erase(document, "room_night_c", room.night_c ? number(*room.night_c) : Json());
    put(document, "air_changes_per_h", number(room.air_changes_per_h), otherwise.air_changes_per_h);
    Json written = document.value("walls_mm", Json::object());
    for (const Face face : faces) {
        const auto& thickness = room.wall_thickness[static_cast<std::size_t>(face)];
        put_or_erase(written, std::string(name(face)), thickness ? mm(*thickness) : Json());
    }
    if (!written.empty() || document.contains("walls_mm")) document["walls_mm"] = std::move(written);
}

void put_list(Json& document, const char* field, Json list) {
    if (!list.empty() || document.contains(field)) document[field] = std::move(list);
}

template <class Things, class Write>
Json list_json(const Json& document, const char* field, const Things& things, const Write& write) {
    const Written written(document, field);
    Json list = Json::array();
    for (const auto& thing : things) list.push_back(write(thing, written.of(thing.id)));
    return list;
}

// Furniture and foliage share one list, in the order in which the person wrote them.
Json furniture_list(const Json& document, const Enclosure& enclosure) {
    const Written written(document, "furniture");
    std::multimap<std::size_t, Json> in_order;
    for (const Furniture& piece : enclosure.furniture) {
        auto thing = written.of(piece.id);
        const std::size_t index = thing.index;
        in_order.emplace(index, furniture_json(piece, std::move(thing)));
    }
    for (const Foliage& plant : enclosure.foliage) {
        auto thing = written.of(plant.id);
        const std::size_t index = thing.index;
        in_order.emplace(index, foliage_json(plant, std::move(thing)));
    }
    Json list = Json::array();
    for (auto& [index, thing] : in_order) list.push_back(std::move(thing));
    return list;
}

Json document_of(const Enclosure& enclosure) {
    Json document = {{"format", "dapple/enclosure@1"}};
    if (auto source = parse_json(enclosure.source, ""); source && source->is_object())
        document = *std::move(source);
    put(document, "id", enclosure.id);
    put(document, "name", enclosure.name, enclosure.id);
    put(document, "size_cm", cm(enclosure.size));
    put_outdoors(document, enclosure.outdoors);
    put_walls(document, enclosure.walls);
    put_room(document, enclosure.room);
    put_list(document, "animals", animals_json(document, enclosure.animals));
    put_list(document, "lamps", list_json(document, "lamps", enclosure.lamps, lamp_json));
    put_list(document, "screens", list_json(document, "screens", enclosure.screens, screen_json));
    put_list(document, "furniture", furniture_list(document, enclosure));
    put_list(document, "spots", list_json(document, "spots", enclosure.spots, spot_json));
    return document;
}

bool is_flat(const Json& value) {
    return std::none_of(value.begin(), value.end(), [](const Json& v) { return v.is_structured(); });
}

std::string on_one_line(const Json& value) {
    std::string text;
    if (!value.is_structured()) return value.dump();
    for (const auto& [key, element] : value.items()) {
        if (!text.empty()) text += ", ";
        if (value.is_object()) text += Json(key).dump() + ": ";
        text += element.dump();
    }
    return value.is_object() ? "{" + text + "}" : "[" + text + "]";
}

void print(const Json& value, std::size_t indent, std::string& text) {
    constexpr std::size_t width = 110;
    if (!value.is_structured() || value.empty() || is_flat(value)) {
        const std::string line = on_one_line(value);
        if (!value.is_object() || indent + line.size() <= width) {
            text += line;
            return;
        }
    }
    const std::string margin(indent + 2, ' ');
    text += value.is_object() ? "{\n" : "[\n";
    std::size_t left = value.size();
    for (const auto& [key, element] : value.items()) {
        text += margin;
        if (value.is_object()) text += Json(key).dump() + ": ";
        print(element, indent + 2, text);
        text += --left > 0 ? ",\n" : "\n";
    }
    text += std::string(indent, ' ') + (value.is_object() ? "}" : "]");
}

}  // namespace

nlohmann::json to_json(const Enclosure& enclosure) {
    return document_of(enclosure);
}

std::string to_text(const Enclosure& enclosure) {
    std::string text;
    print(document_of(enclosure), 0, text);
    return text + "\n";
}

}  // namespace dapple::scene
