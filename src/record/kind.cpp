#include "record/kind.h"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace dapple::record {

namespace {

using T = FieldType;

constexpr double most_count = 1e6;
constexpr double most_hours = 1e6;
constexpr double longest_cm = 10000;  // as in scene/fields.h
constexpr std::size_t long_text = 20'000;
constexpr std::size_t whole_file = 4'000'000;

Field named(std::string_view name, std::string_view about) {
    return {.name = name, .type = T::text, .required = true, .longest = 200, .about = about};
}
Field words(std::string_view name, std::string_view about) {
    return {.name = name, .type = T::text, .longest = 500, .about = about};
}
Field note() {
    return {.name = "note", .type = T::text, .longest = long_text, .about = "Anything worth keeping."};
}
Field day(std::string_view name, std::string_view about, bool required = false) {
    return {.name = name, .type = T::day, .required = required, .about = about};
}
Field moment(std::string_view name, std::string_view about, bool required = false) {
    return {.name = name, .type = T::moment, .required = required, .about = about};
}
Field number(std::string_view name, double least, double most, std::string_view about,
             bool required = false) {
    return {
        .name = name, .type = T::number, .required = required, .least = least, .most = most, .about = about};
}
Field whole(std::string_view name, double least, double most, std::string_view about) {
    return {.name = name, .type = T::integer, .least = least, .most = most, .about = about};
}
Field link(std::string_view name, std::string_view of, std::string_view about, bool required = false) {
    return {.name = name, .type = T::reference, .required = required, .of = of, .about = about};
}
Field choice(std::string_view name, std::vector<std::string_view> allowed, std::string_view about,
             bool required = true) {
    return {
        .name = name, .type = T::text, .required = required, .allowed = std::move(allowed), .about = about};
}
Field coordinate(std::string_view name) {
    return number(name, -longest_cm, longest_cm, "Where the sensor was, where there is no spot; cm.");
}

std::vector<std::string_view> quantities() {
    return {"uvi",      "erythemal_w_m2", "d3_w_m2", "actinic_w_m2",    "uvc_w_m2",
            "uvb_w_m2", "uva_w_m2",       "lux",     "irradiance_w_m2", "temperature"};
}

std::vector<Kind> places() {
    return {
        {"site",
         "sites",
         true,
         "",
         "A place with its own people and collection.",
         {named("name", "What people call it."), words("time_zone", "IANA name, such as Europe/Paris."),
          number("lat_deg", -90, 90, "North."), number("lon_deg", -180, 180, "East."),
          number("elevation_m", -500, 9000, "Above the sea."),
          whole("survey_every_days", 1, 3650, "How often its enclosures are surveyed."), note()}},
        {"room", "rooms", true, "", "A room of a site.", {named("name", "What people call it."), note()}},
        {"file",
         "files",
         true,
         "",
         "What an enclosure's document names beside itself: OBJ, IES, CSV, as text.",
         {named("name", "As the document writes it."),
          {.name = "text", .required = true, .longest = whole_file, .about = "The file's text."}}},
        {"enclosure",
         "enclosures",
         true,
         "",
         "An enclosure and its document.",
         {{.name = "document",
           .type = T::document,
           .required = true,
           .longest = whole_file,
           .about = "dapple/enclosure@1; its id is the enclosure's."},
          link("room", "room", "Where it stands."),
          whole("survey_every_days", 1, 3650, "How often it is surveyed; else the site's."),
          note()}},
    };
}

std::vector<Kind> animals() {
    return {
        {"animal",
         "animals",
         true,
         "",
         "An animal, or a group kept as one.",
         {named("species", "Id of the shipped sheets, or a name."), words("name", "What people call it."),
          whole("count", 1, most_count, "How many, where a group is kept as one."),
          choice("sex", {"female", "male", "unknown"}, "As far as known.", false),
          day("born_on", "Hatched or born."), day("came_on", "Came into the collection."),
          link("enclosure", "enclosure", "Where it lives."), note()}},
        {"move",
         "moves",
         true,
         "moved_on",
         "An animal went from one enclosure to another.",
         {link("animal", "animal", "Who moved.", true), link("from_enclosure", "enclosure", "From where."),
          link("to_enclosure", "enclosure", "To where; nothing: out of the collection's enclosures."),
          day("moved_on", "The day.", true), note()}},
    };
}

std::vector<Kind> lamps() {
    return {
        {"lamp",
         "lamps",
         true,
         "",
         "A lamp: in store, burning somewhere, or retired.",
         {named("name", "What people call it, or its label."),
          choice("lamp_kind",
                 {"fluorescent_tube", "compact", "mercury_vapour", "metal_halide", "led", "halogen",
                  "incandescent", "heat_lamp", "emitter"},
                 "How it makes its light or heat.", false),
          words("model", "Maker's words."), words("spectrum", "Id of a shipped spectrum."),
          number("power_w", 0, 1e5, "Power."), day("bought_on", "The day."),
          number("price", 0, 1e9, "In your money."),
          link("enclosure", "enclosure", "Where it burns; nothing: in store."),
          words("place", "The lamp's id in the enclosure's document."),
          day("installed_on", "When it began to burn where it is."),
          number("hours_on", 0, 24, "Hours a day."),
          number("hours_before", 0, most_hours, "Hours it had burned when it was installed where it is."),
          day("retired_on", "The day it was thrown away or broke."), note()}},
        {"lamp_event",
         "lamp_events",
         true,
         "happened_on",
         "Something that happened to a lamp.",
         {link("lamp", "lamp", "Which lamp.", true),
          choice("what", {"bought", "installed", "moved", "removed", "retired"}, "What happened."),
          day("happened_on", "The day.", true), link("enclosure", "enclosure", "Where it went."),
          words("place", "The lamp's id in the enclosure's document."),
          number("hours", 0, most_hours, "Hours burned by then."), note()}},
    };
}

std::vector<Kind> instruments() {
    return {
        {"meter",
         "meters",
         true,
         "",
         "A UV-index meter, a thermometer or the like.",
         {named("name", "What people call it."), choice("measures", quantities(), "The quantity it shows."),
          words("model", "Maker's words."), words("serial", "Serial number."), day("bought_on", "The day."),
          whole("calibrate_every_months", 1, 600, "How often it is calibrated."), note()}},
        {"calibration",
         "calibrations",
         true,
         "calibrated_on",
         "A meter was compared: true value = reading x factor + offset.",
         {link("meter", "meter", "Which meter.", true), day("calibrated_on", "The day.", true),
          number("factor", 1e-3, 1e3, "True value per reading.", true),
          number("offset_by", -1e6, 1e6, "Added to reading x factor; mostly for thermometers."),
          words("certificate", "Number, or by whom and against what."), note()}},
        {"survey",
         "surveys",
         true,
         "begun_at",
         "A round of readings in one enclosure.",
         {link("enclosure", "enclosure", "Where.", true), moment("begun_at", "Begun.", true),
          moment("ended_at", "Ended; nothing: still going on."), note()}},
        {"reading",
         "readings",
         true,
         "taken_at",
         "One value at a spot, or at a point.",
         {link("enclosure", "enclosure", "Where.", true), link("survey", "survey", "In which round."),
          words("spot", "The spot's id in the enclosure's document."), coordinate("x_cm"), coordinate("y_cm"),
          coordinate("z_cm"),
          number("height_cm", 0, longest_cm, "The sensor's own height above the spot or point."),
          choice("quantity", quantities(), "What was read."),
          number("value", -1e9, 1e9, "In the quantity's own unit; temperature in degrees Celsius.", true),
          words("facing", "aimed (where nothing is said), up, back or nx,ny,nz."),
          link("meter", "meter", "With which meter."),
          words("meter_words", "The meter, where it is not in the record."),
          link("lamp", "lamp", "Of this lamp alone."), moment("taken_at", "When.", true), note()}},
    };
}

std::vector<Kind> work() {
    return {
        {"task",
         "tasks",
         true,
         "",
         "Something to do; an accepted fix is a task with its changed document.",
         {named("title", "What to do."),
          link("enclosure", "enclosure", "Where."),
          link("lamp", "lamp", "With which lamp."),
          link("meter", "meter", "With which meter."),
          day("due_on", "By when."),
          {.name = "fix",
           .type = T::document,
           .longest = whole_file,
           .about = "The enclosure's document as the fix changes it."},
          day("done_on", "Done; nothing: open."),
          words("outcome", "What came of it."),
          note()}},
        {"note",
         "notes",
         true,
         "written_on",
         "A note on anything.",
         {choice("about_kind",
                 {"site", "room", "enclosure", "animal", "lamp", "meter", "survey", "reading", "task"},
                 "On what kind of thing."),
          {.name = "about", .required = true, .longest = 100, .about = "Its id."},
          day("written_on", "The day it is about.", true),
          {.name = "text", .required = true, .longest = long_text, .about = "The note."}}},
        {"membership",
         "memberships",
         true,
         "",
         "What a person may do at a site.",
         {link("person", "person", "Who.", true),
          choice("role", {"viewer", "keeper", "manager"}, "As what.")}},
    };
}

std::vector<Kind> all_kinds() {
    std::vector<Kind> all = {{"person",
                              "people",
                              false,
                              "",
                              "Somebody who may sign in, or once did.",
                              {named("name", "As shown to others."),
                               {.name = "login", .longest = 200, .about = "By which they sign in; unique."},
                               {.name = "settings",
                                .type = T::document,
                                .longest = long_text,
                                .about = "Units and the like; the web application's own."}}}};
    for (auto* part : {places, animals, lamps, instruments, work}) {
        for (Kind& kind : part()) all.push_back(std::move(kind));
    }
    return all;
}

}  // namespace

const std::vector<Kind>& kinds() {
    static const std::vector<Kind> all = all_kinds();
    return all;
}

const Kind* kind_named(std::string_view name) {
    for (const Kind& kind : kinds()) {
        if (kind.name == name || kind.plural == name) return &kind;
    }
    return nullptr;
}

const Field* Kind::field(std::string_view wanted) const {
    const auto found =
        std::find_if(fields.begin(), fields.end(), [&](const Field& f) { return f.name == wanted; });
    return found == fields.end() ? nullptr : &*found;
}

}  // namespace dapple::record
