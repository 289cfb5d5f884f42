// Materials and spectra: named from the shipped libraries, or defined in the document.
#include <fmt/format.h>

#include <algorithm>

#include "scene/read_parts.h"

namespace dapple::scene {

namespace {

constexpr Limits nanometres = {1, 100000, "nm"};
constexpr Limits refraction = {1, 4};
constexpr Limits absorption = {0, 1e6};

template <class Library>
std::vector<std::string> ids(const Library& library) {
    std::vector<std::string> result;
    for (const auto& entry : library) result.push_back(entry.id);
    return result;
}

std::optional<std::vector<double>> read_wavelengths(Fields& fields) {
    auto nm = fields.numbers("wavelength_nm", nanometres);
    if (!nm) return nm;
    for (std::size_t i = 1; i < nm->size(); ++i) {
        if ((*nm)[i] > (*nm)[i - 1]) continue;
        fields.faults().add(below(fields.place("wavelength_nm"), i),
                            fmt::format("{} after {}", (*nm)[i], (*nm)[i - 1]), "ascending wavelengths");
        return std::nullopt;
    }
    return nm;
}

// One number for every wavelength, or a list beside `wavelength_nm`.
std::optional<spectrum::Spectrum> read_curve(Fields& fields, std::string_view field, const Limits& limits,
                                             const std::optional<std::vector<double>>& nm,
                                             spectrum::Outside outside) {
    const Json* value = fields.find(field);
    if (value == nullptr) return std::nullopt;
    if (!value->is_array()) {
        const auto number = fields.number(field, limits);
        if (!number) return std::nullopt;
        return spectrum::constant(*number);
    }
    const auto values = fields.numbers(field, limits);
    if (!fields.has("wavelength_nm")) {
        fields.faults().add(fields.place("wavelength_nm"), "nothing",
                            fmt::format("the wavelengths of \"{}\" (required)", field));
        return std::nullopt;
    }
    if (!values || !nm) return std::nullopt;
    if (values->size() != nm->size()) {
        fields.faults().add(fields.place(field), fmt::format("{} values", values->size()),
                            fmt::format("{}, one for each wavelength", nm->size()));
        return std::nullopt;
    }
    return spectrum::resample(*nm, *values, outside);
}

std::optional<spectrum::Material> material_object(const Json& value, const std::string& place, bool pane,
                                                  Faults& faults) {
    Fields fields(value, place, "a material", faults);
    const auto nm = read_wavelengths(fields);
    if (!pane && !fields.has("reflectance")) fields.need("reflectance", share.words());
    const auto reflectance = read_curve(fields, "reflectance", share, nm, spectrum::Outside::nearest);
    const auto index = read_curve(fields, "refractive_index", refraction, nm, spectrum::Outside::nearest);
    const auto absorbed = read_curve(fields, "absorption_per_m", absorption, nm, spectrum::Outside::nearest);
    const bool optical = pane || fields.has("refractive_index") || fields.has("absorption_per_m");
    if (optical) {
        for (const auto& [field, limits] :
             {std::pair("refractive_index", refraction), std::pair("absorption_per_m", absorption)}) {
            if (!fields.has(field)) fields.need(field, limits.words());
        }
    }
    spectrum::Material material;
    material.id = place;
    material.name = fields.text("name").value_or("a material of this enclosure");
    material.source = fields.text("source").value_or("as given by the keeper");
    fields.finish();
    if (optical && (!index || !absorbed)) return std::nullopt;
    if (!pane && !reflectance) return std::nullopt;
    // A clear sheet reflects what its faces reflect; diffusely it counts as black.
    material.reflectance = reflectance ? *reflectance : spectrum::constant(0);
    if (optical) material.optics = spectrum::Optics{*index, *absorbed};
    material.confidence = "medium";
    return material;
}

std::optional<spectrum::Material> library_material(const Json& value, const std::string& place, bool pane,
                                                   Faults& faults) {
    const auto& id = value.get_ref<const std::string&>();
    const spectrum::Material* found = spectrum::find_material(id);
    if (found != nullptr && (!pane || found->optics)) return *found;
    std::vector<std::string> names;
    for (const auto& material : spectrum::materials()) {
        if (!pane || material.optics) names.push_back(material.id);
    }
    faults.add(place, found == nullptr ? quoted(value) : quoted(value) + ", which no light passes",
               suggestion(id, names));
    return std::nullopt;
}

std::optional<spectrum::Material> material_of(const Json& value, const std::string& place, bool pane,
                                              Faults& faults) {
    if (value.is_string()) return library_material(value, place, pane, faults);
    if (value.is_object()) return material_object(value, place, pane, faults);
    faults.add(place, quoted(value), "the name of a material, or an object that defines one");
    return std::nullopt;
}

std::optional<spectrum::LampSpectrum> spectrum_object(const Json& value, const std::string& place,
                                                      const Context& context, Faults& faults) {
    Fields fields(value, place, "a spectrum", faults);
    spectrum::LampSpectrum result;
    result.id = place;
    result.name = fields.text("name").value_or("a spectrum of this enclosure");
    result.source = fields.text("source").value_or("as given by the keeper");
    if (fields.has("csv") || fields.has("csv_file")) {
        const auto table = read_attachment(fields, "csv", "csv_file", context);
        fields.finish();
        if (!table) return std::nullopt;
        const auto parsed = spectrum::parse_spectrum_csv(table->text, "");
        if (!parsed) {
            add_all(parsed.error(), *table, faults);
            return std::nullopt;
        }
        result.relative = parsed->relative;
        return result;
    }
    if (!fields.has("wavelength_nm")) fields.need("wavelength_nm", "a list of wavelengths");
    if (!fields.has("relative"))
        fields.need("relative", "a list of numbers, or \"csv\" or \"csv_file\" instead");
    const auto nm = read_wavelengths(fields);
    const auto values = fields.numbers("relative", not_negative);
    fields.finish();
    if (!nm || !values) return std::nullopt;
    if (values->size() != nm->size()) {
        faults.add(fields.place("relative"), fmt::format("{} values", values->size()),
                   fmt::format("{}, one for each wavelength", nm->size()));
        return std::nullopt;
    }
    result.relative = spectrum::resample(*nm, *values, spectrum::Outside::zero);
    if (result.relative.sum() > 0) return result;
    faults.add(fields.place("relative"), "no light at all",
               fmt::format("a value above 0 between {} and {} nm", spectrum::first_nm, spectrum::last_nm));
    return std::nullopt;
}

}  // namespace

std::optional<spectrum::Material> read_material(const Json& value, const std::string& place, Faults& faults) {
    return material_of(value, place, false, faults);
}

std::optional<spectrum::Material> read_pane_material(const Json& value, const std::string& place,
                                                     Faults& faults) {
    return material_of(value, place, true, faults);
}

std::optional<spectrum::LampSpectrum> read_spectrum(const Json& value, const std::string& place,
                                                    const Context& context, Faults& faults) {
    if (value.is_object()) return spectrum_object(value, place, context, faults);
    if (!value.is_string()) {
        faults.add(place, quoted(value), "the name of a spectrum, or an object that defines one");
        return std::nullopt;
    }
    const auto& id = value.get_ref<const std::string&>();
    if (const spectrum::LampSpectrum* found = spectrum::find_lamp_spectrum(id)) return *found;
    faults.add(place, quoted(value), suggestion(id, ids(spectrum::lamp_spectra())));
    return std::nullopt;
}

std::string default_spectrum(const std::string& kind) {
    if (kind == "spot") return "halogen";
    if (kind == "bar") return "led_white";
    return "fluorescent_uvb_mid";
}

}  // namespace dapple::scene
