#include "scene/write_parts.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "scene/read_parts.h"

namespace dapple::scene {

namespace {

using spectrum::Spectrum;

bool is_constant(const Spectrum& curve) {
    return (curve == curve[0]).all();
}

// The wavelengths between which all the curves are straight lines.
std::vector<int> corners_of(const std::vector<const Spectrum*>& curves) {
    std::vector<int> corners = {0};
    for (int i = 1; i + 1 < spectrum::samples; ++i) {
        const bool bends = std::any_of(curves.begin(), curves.end(), [i](const Spectrum* curve) {
            const double bend = (*curve)[i - 1] - 2 * (*curve)[i] + (*curve)[i + 1];
            return std::abs(bend) > 1e-12 * std::abs((*curve)[i]);
        });
        if (bends) corners.push_back(i);
    }
    corners.push_back(spectrum::samples - 1);
    return corners;
}

Json wavelengths(const std::vector<int>& corners) {
    Json list = Json::array();
    for (const int i : corners) list.push_back(spectrum::first_nm + i);
    return list;
}

Json values(const Spectrum& curve, const std::vector<int>& corners) {
    Json list = Json::array();
    for (const int i : corners) list.push_back(curve[i]);
    return list;
}

Json in_full(const spectrum::Material& material) {
    std::vector<std::pair<const char*, const Spectrum*>> curves = {{"reflectance", &material.reflectance}};
    if (material.optics) {
        curves.emplace_back("refractive_index", &material.optics->index);
        curves.emplace_back("absorption_per_m", &material.optics->absorption_per_m);
    }
    std::vector<const Spectrum*> bent;
    for (const auto& [field, curve] : curves) {
        if (!is_constant(*curve)) bent.push_back(curve);
    }
    Json result = Json::object();
    if (!material.name.empty()) result["name"] = material.name;
    if (!material.source.empty()) result["source"] = material.source;
    const std::vector<int> corners = corners_of(bent);
    if (!bent.empty()) result["wavelength_nm"] = wavelengths(corners);
    for (const auto& [field, curve] : curves) {
        if (is_constant(*curve)) {
            result[field] = (*curve)[0];
        } else {
            result[field] = values(*curve, corners);
        }
    }
    return result;
}

Json in_full(const spectrum::LampSpectrum& light) {
    const std::vector<int> corners = corners_of({&light.relative});
    Json result = {{"wavelength_nm", wavelengths(corners)}, {"relative", values(light.relative, corners)}};
    if (!light.name.empty()) result["name"] = light.name;
    if (!light.source.empty()) result["source"] = light.source;
    return result;
}

// Whether the field already stands for the thing of this id: by name, by being its definition, or by absence.
bool stands_for(const Json& thing, const std::string& field, const std::string& place, const std::string& id,
                const std::string& otherwise) {
    const auto old = thing.find(field);
    if (old == thing.end()) return !otherwise.empty() && id == otherwise;
    if (old->is_object()) return !place.empty() && id == below(place, field);
    return *old == id;
}

}  // namespace

Json number(double value) {
    constexpr double steps = 1e11;  // of numbers below 1e4, whose own last digit is finer
    const double rounded = std::abs(value) < 1e4 ? std::round(value * steps) / steps : value;
    if (std::abs(rounded) < 1e9 && rounded == std::round(rounded)) return static_cast<std::int64_t>(rounded);
    return rounded;
}

Json numbers(const Vec3& values) {
    return Json::array({number(values.x()), number(values.y()), number(values.z())});
}

Json cm(double metres) {
    return number(metres / m_per_cm);
}
Json cm(const Vec3& metres) {
    return numbers(metres / m_per_cm);
}
Json mm(double metres) {
    return number(metres / m_per_mm);
}

bool close(const Json& a, const Json& b) {
    if (a.is_number() && b.is_number()) {
        const double x = a.get<double>();
        const double y = b.get<double>();
        return std::abs(x - y) <= 2e-9 * std::max({1.0, std::abs(x), std::abs(y)});
    }
    if (a.is_array() && b.is_array()) {
        return std::equal(a.begin(), a.end(), b.begin(), b.end(), close);
    }
    if (a.is_object() && b.is_object()) {
        if (a.size() != b.size()) return false;
        const auto items = a.items();
        return std::all_of(items.begin(), items.end(), [&](const auto& item) {
            const auto other = b.find(item.key());
            return other != b.end() && close(item.value(), *other);
        });
    }
    return a == b;
}

void put(Json& thing, const std::string& field, const Json& value, const Json& otherwise) {
    const auto old = thing.find(field);
    const Json& stands = old == thing.end() ? otherwise : *old;
    if (!close(stands, value)) thing[field] = value;
}

void put_or_erase(Json& thing, const std::string& field, const Json& value) {
    if (value.is_null()) {
        thing.erase(field);
    } else {
        put(thing, field, value);
    }
}

Vec3 vector_of(const Json& thing, const std::string& field, const Vec3& otherwise) {
    const auto value = thing.find(field);
    if (value == thing.end()) return otherwise;
    return {(*value)[0].get<double>(), (*value)[1].get<double>(), (*value)[2].get<double>()};
}

void put_material(Json& thing, const std::string& field, const std::string& place,
                  const spectrum::Material& material, const std::string& otherwise) {
    if (stands_for(thing, field, place, material.id, otherwise)) return;
    if (spectrum::find_material(material.id) != nullptr) {
        thing[field] = material.id;
    } else {
        thing[field] = in_full(material);
    }
}

void put_spectrum(Json& thing, const std::string& place, const spectrum::LampSpectrum& light,
                  const std::string& otherwise) {
    if (stands_for(thing, "spectrum", place, light.id, otherwise)) return;
    if (spectrum::find_lamp_spectrum(light.id) != nullptr) {
        thing["spectrum"] = light.id;
    } else {
        thing["spectrum"] = in_full(light);
    }
}

}  // namespace dapple::scene
