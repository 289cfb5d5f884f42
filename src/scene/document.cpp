#include "scene/document.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

#include "embedded/files.h"
#include "scene/read_parts.h"

namespace dapple::scene {

namespace {

constexpr std::string_view present_format = "dapple/enclosure@1";

constexpr std::size_t most_animals = 100;
constexpr std::size_t most_lamps = 200;
constexpr std::size_t most_screens = 200;
constexpr std::size_t most_furniture = 2000;
constexpr std::size_t most_spots = 2000;

// Brings a document of an older format to the present one, step by step. There is no older format yet: the
// first step to write here turns @1 into @2.
bool upgrade(const Json& document, Faults& faults) {
    if (!document.is_object()) {
        faults.add("", quoted(document), "an object: an enclosure");
        return false;
    }
    const auto format = document.find("format");
    if (format != document.end() && *format == present_format) return true;
    faults.add("/format", format == document.end() ? "nothing" : quoted(*format),
               fmt::format("\"{}\" (required)", present_format));
    return false;
}

std::array<Wall, 6> read_walls(Fields& document) {
    std::array<Wall, 6> walls;
    static const Json nothing = Json::object();
    const Json* given = document.find("walls");
    Fields fields(given == nullptr ? nothing : *given, document.place("walls"), "the walls",
                  document.faults());
    static const Json black = "black";
    static const Json open = "open";
    for (const Face face : faces) {
        const Json* value = fields.find(name(face));
        if (value == nullptr) value = face == Face::top ? &open : &black;
        if (*value == open) continue;
        walls[static_cast<std::size_t>(face)] =
            read_material(*value, fields.place(name(face)), fields.faults());
    }
    fields.finish();
    return walls;
}

// Whether the document leaves the top open, told without noting faults: read_walls does that.
bool says_open_top(const Json& document) {
    const auto walls = document.find("walls");
    if (walls == document.end() || !walls->is_object()) return true;
    const auto top = walls->find("top");
    return top == walls->end() || *top == "open";
}

// Where the enclosure stands outdoors. Documents of before the sun was computed wrote the bearing as "bearing"; both
// mean the same.
std::optional<Outdoors> read_outdoors(Fields& document) {
    const Json* given = document.find("outdoors");
    if (given == nullptr) return std::nullopt;
    Fields fields(*given, document.place("outdoors"), "a place outdoors", document.faults());
    const auto lat = fields.need_number("lat", {-90, 90, "degrees"});
    const auto lon = fields.need_number("lon", {-180, 180, "degrees"});
    const Limits compass = {0, 360, "degrees"};
    const auto bearing = fields.number("bearing_deg", compass), older = fields.number("bearing", compass);
    if (fields.has("bearing_deg") && fields.has("bearing")) {
        fields.faults().add(fields.place("bearing"), "a second bearing", "\"bearing_deg\" alone");
    }
    Outdoors outdoors{};
    outdoors.bearing_deg = bearing.value_or(older.value_or(0));
    outdoors.elevation_m = fields.number("elevation_m", {-500, 6000, "m"});
    outdoors.albedo = fields.number("albedo", share);
    outdoors.time_zone = fields.text("time_zone").value_or("");
    fields.finish();
    if (!lat || !lon) return std::nullopt;
    outdoors.lat_deg = *lat;
    outdoors.lon_deg = *lon;
    return outdoors;
}

// The room around, whose fields stand in the document itself.
Room read_room(Fields& document) {
    const Limits air_c = {-50, 60, "degrees Celsius"};
    const Limits changes = {0, 1000, "air changes per hour"};
    const Limits thickness_mm = {0.1, 1000, "mm"};
    Room room;
    room.day_c = document.number("room_c", air_c).value_or(room.day_c);
    room.night_c = document.number("room_night_c", air_c);
    room.air_changes_per_h = document.number("air_changes_per_h", changes).value_or(room.air_changes_per_h);
    const Json* given = document.find("walls_mm");
    if (given == nullptr) return room;
    Fields fields(*given, document.place("walls_mm"), "the walls' thickness", document.faults());
    for (const Face face : faces) {
        const auto mm = fields.number(name(face), thickness_mm);
        if (mm) room.wall_thickness[static_cast<std::size_t>(face)] = *mm * m_per_mm;
    }
    fields.finish();
    return room;
}

// Every thing in an enclosure is known by its id, whatever list it stands in.
void check_ids(const Json& document, Faults& faults) {
    std::map<std::string, std::string> seen;
    for (const char* list : {"lamps", "screens", "furniture", "spots"}) {
        const auto things = document.find(list);
        if (things == document.end() || !things->is_array()) continue;
        for (std::size_t i = 0; i < things->size(); ++i) {
            const Json& thing = (*things)[i];
            if (!thing.is_object() || !thing.contains("id") || !thing["id"].is_string()) continue;
            const std::string place = below(below(below("", list), i), "id");
            const auto [first, fresh] = seen.emplace(thing["id"].get<std::string>(), place);
            if (!fresh) {
                faults.add(place, quoted(thing["id"]) + ", as at " + first->second, "an id of its own");
            }
        }
    }
}

void check_spots_animals(const Enclosure& enclosure, Faults& faults) {
    std::vector<std::string> species;
    for (const Animal& animal : enclosure.animals) species.push_back(animal.species);
    for (std::size_t i = 0; i < enclosure.spots.size(); ++i) {
        const std::string& animal = enclosure.spots[i].animal;
        if (animal.empty() || std::find(species.begin(), species.end(), animal) != species.end()) continue;
        faults.add(
            below(below(below("", "spots"), i), "animal"), quoted(std::string_view(animal)),
            species.empty() ? "an animal of this enclosure, which has none" : suggestion(animal, species));
    }
}

Enclosure read_document(const Json& document, const ReadOptions& options, Faults& faults) {
    Fields fields(document, "", "an enclosure", faults);
    fields.find("format");
    Enclosure enclosure;
    enclosure.id = read_id(fields).value_or("");
    enclosure.name = fields.text("name").value_or(enclosure.id);
    fields.text("notes");
    enclosure.outdoors = read_outdoors(fields);
    enclosure.size = fields.need_three("size_cm", size_cm).value_or(Vec3::Zero()) * m_per_cm;
    enclosure.walls = read_walls(fields);
    enclosure.room = read_room(fields);

    const Context context{options, enclosure.size, says_open_top(document)};
    for (const auto& [value, place] : fields.list("animals", most_animals)) {
        if (auto animal = read_animal(*value, place, faults)) enclosure.animals.push_back(*std::move(animal));
    }
    for (const auto& [value, place] : fields.list("lamps", most_lamps)) {
        if (auto lamp = read_lamp(*value, place, context, faults))
            enclosure.lamps.push_back(*std::move(lamp));
    }
    for (const auto& [value, place] : fields.list("screens", most_screens)) {
        if (auto screen = read_screen(*value, place, context, faults)) {
            enclosure.screens.push_back(*std::move(screen));
        }
    }
    for (const auto& [value, place] : fields.list("furniture", most_furniture)) {
        auto thing = read_furniture(*value, place, context, faults);
        if (!thing) continue;
        if (auto* foliage = std::get_if<Foliage>(&*thing)) {
            enclosure.foliage.push_back(std::move(*foliage));
        } else {
            enclosure.furniture.push_back(std::get<Furniture>(*std::move(thing)));
        }
    }
    for (const auto& [value, place] : fields.list("spots", most_spots)) {
        if (auto spot = read_spot(*value, place, context, faults))
            enclosure.spots.push_back(*std::move(spot));
    }
    fields.finish();
    check_ids(document, faults);
    if (faults.none())
        check_spots_animals(enclosure, faults);  // indices hold only where nothing was left out
    return enclosure;
}

std::optional<std::string> whole_file(const std::filesystem::path& path) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) return std::nullopt;
    std::ifstream in(path, std::ios::binary);
    if (!in) return std::nullopt;
    std::ostringstream text;
    text << in.rdbuf();
    return std::move(text).str();
}

}  // namespace

std::optional<std::string> read_id(Fields& fields) {
    constexpr std::size_t longest = 200;
    auto id = fields.need_text("id");
    if (!id || id->size() <= longest) return id;
    fields.faults().add(fields.place("id"), quoted(std::string_view(*id)),
                        fmt::format("an id of at most {} bytes", longest));
    return std::nullopt;
}

void must_lie_inside(const Vec3& point, const std::string& place, const Context& context, Faults& faults) {
    constexpr double rounding = 1e-9;
    if (context.size.isZero() || Box{Vec3::Zero(), context.size}.contains(point, rounding)) return;
    const Vec3 cm = point / m_per_cm;
    const Vec3 size = context.size / m_per_cm;
    faults.add(place,
               fmt::format("the point [{:.5g}, {:.5g}, {:.5g}] outside the box", cm.x(), cm.y(), cm.z()),
               fmt::format("x 0 to {:.5g}, y 0 to {:.5g}, z 0 to {:.5g} cm", size.x(), size.y(), size.z()));
}

std::optional<Attachment> read_attachment(Fields& fields, std::string_view text_field,
                                          std::string_view file_field, const Context& context) {
    const auto text = fields.text(text_field);
    const auto file = fields.text(file_field);
    if (fields.has(text_field) && fields.has(file_field)) {
        fields.faults().add(fields.place(file_field), fmt::format("a file beside \"{}\"", text_field),
                            "one of them");
        return std::nullopt;
    }
    if (text) return Attachment{*text, "", fields.place(text_field)};
    if (!file) {
        if (!fields.has(text_field) && !fields.has(file_field)) {
            fields.faults().add(
                fields.place(file_field), "nothing",
                fmt::format("a file's name, or its text under \"{}\" (required)", text_field));
        }
        return std::nullopt;
    }
    if (!context.options.read_file) {
        fields.faults().add(fields.place(file_field), "the file " + quoted(std::string_view(*file)),
                            "the text itself: no files are read for this document");
        return std::nullopt;
    }
    if (auto bytes = context.options.read_file(*file)) {
        return Attachment{*std::move(bytes), *file, fields.place(file_field)};
    }
    fields.faults().add(fields.place(file_field),
                        "the file " + quoted(std::string_view(*file)) + ", which cannot be read",
                        "a file beside the document");
    return std::nullopt;
}

void add_all(const Problems& problems, const Attachment& attachment, Faults& faults) {
    for (const Problem& problem : problems) {
        std::string where = attachment.name;
        if (!problem.place.empty()) where += (where.empty() ? "" : " at ") + problem.place;
        faults.add(attachment.place, where.empty() ? problem.found : "in " + where + ": " + problem.found,
                   problem.allowed);
    }
}

Expected<Enclosure> parse_enclosure(std::string_view json, const ReadOptions& options) {
    const auto document = parse_json(json, options.file);
    if (!document) return tl::unexpected<Problems>(document.error());
    Faults faults(options.file);
    if (!upgrade(*document, faults)) return tl::unexpected<Problems>(std::move(faults).take());
    Enclosure enclosure = read_document(*document, options, faults);
    if (!faults.none()) return tl::unexpected<Problems>(std::move(faults).take());
    enclosure.source = json;
    return enclosure;
}

Expected<Enclosure> load_enclosure(const std::string& path) {
    const auto text = whole_file(path);
    if (!text) return refuse({path, "", "no file that can be read", "an enclosure document"});
    const std::filesystem::path folder = std::filesystem::path(path).parent_path();
    ReadOptions options;
    options.file = path;
    options.read_file = [folder](const std::string& name) { return whole_file(folder / name); };
    return parse_enclosure(*text, options);
}

std::string_view schema() {
    return embedded::find(embedded::data(), "schemas/enclosure.json").value_or(std::string_view{});
}

}  // namespace dapple::scene
