// Helpers for writing documents: a field is touched only where its value is no longer what stands there.
// Private to this folder.
#pragma once

#include <string>

#include "scene/enclosure.h"
#include "scene/json_text.h"

namespace dapple::scene {

// Numbers as a person would write them: without the last digits that unit conversion spoils (kept to 1e-9 of
// the document's unit), and whole ones without a point.
Json number(double value);
Json numbers(const Vec3& values);
Json cm(double metres);
Json cm(const Vec3& metres);
Json mm(double metres);

// Equal, but for rounding in numbers.
bool close(const Json& a, const Json& b);

// Writes `value` unless the field says so already, or is absent and stands for it.
void put(Json& thing, const std::string& field, const Json& value, const Json& otherwise = nullptr);
// The same, where null means that the field is to be absent.
void put_or_erase(Json& thing, const std::string& field, const Json& value);

Vec3 vector_of(const Json& thing, const std::string& field, const Vec3& otherwise);

// Materials and spectra by their name in the library, else in full. `place` is that of `thing` in the source;
// `otherwise` the id for which the field may be absent.
void put_material(Json& thing, const std::string& field, const std::string& place,
                  const spectrum::Material& material, const std::string& otherwise);
void put_spectrum(Json& thing, const std::string& place, const spectrum::LampSpectrum& light,
                  const std::string& otherwise);

}  // namespace dapple::scene
