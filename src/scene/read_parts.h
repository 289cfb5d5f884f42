// The pieces of an enclosure document, each read from its JSON object (contract "dapple/enclosure@1").
// Private to this folder; scene/document.h is the way in.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>

#include "scene/document.h"
#include "scene/enclosure.h"
#include "scene/fields.h"

namespace dapple::scene {

inline constexpr double m_per_cm = 0.01;
inline constexpr double m_per_mm = 0.001;

// Defaults of the format, stated in its schema too.
inline constexpr double default_tube_diameter_cm = 1.6;
inline constexpr double default_coil_diameter_cm = 5;
inline constexpr double default_beam_deg = 120;
inline constexpr double default_leaf_area_density = 3;

// What the readers share: the box, for points that must lie in it, and the files a document names.
struct Context {
    const ReadOptions& options;
    Vec3 size;  // m; zero when the document's own size is faulty, and then nothing is compared with it
    bool open_top;
};

std::optional<std::string> read_id(Fields& fields);

// A point of the document that must lie in the box (faults are noted in cm).
void must_lie_inside(const Vec3& point, const std::string& place, const Context& context, Faults& faults);

// A text given in the document under one field, or in a file named under another.
struct Attachment {
    std::string text;
    std::string name;   // of the file; empty for text in the document
    std::string place;  // the field, for messages
};
std::optional<Attachment> read_attachment(Fields& fields, std::string_view text_field,
                                          std::string_view file_field, const Context& context);
// Repeats what is wrong inside an attachment as faults of the document.
void add_all(const Problems& problems, const Attachment& attachment, Faults& faults);

std::optional<spectrum::Material> read_material(const Json& value, const std::string& place, Faults& faults);
std::optional<spectrum::Material> read_pane_material(const Json& value, const std::string& place,
                                                     Faults& faults);
std::optional<spectrum::LampSpectrum> read_spectrum(const Json& value, const std::string& place,
                                                    const Context& context, Faults& faults);

std::optional<Lamp> read_lamp(const Json& value, const std::string& place, const Context& context,
                              Faults& faults);
std::optional<Screen> read_screen(const Json& value, const std::string& place, const Context& context,
                                  Faults& faults);
std::optional<std::variant<Furniture, Foliage>> read_furniture(const Json& value, const std::string& place,
                                                               const Context& context, Faults& faults);
std::optional<Animal> read_animal(const Json& value, const std::string& place, Faults& faults);
std::optional<Place> read_spot(const Json& value, const std::string& place, const Context& context,
                               Faults& faults);

// ln 0.5 / ln cos(beam / 2): the exponent at which cos^k falls to a half at half the beam angle.
double beam_exponent(double beam_rad);

// The directions of a lamp as the engine takes them: both of length one, the aim at right angles to the body.
std::pair<Vec3, Vec3> straightened(const Vec3& along, const Vec3& aim);

// The spectrum of a lamp whose document names none.
std::string default_spectrum(const std::string& kind);

}  // namespace dapple::scene
