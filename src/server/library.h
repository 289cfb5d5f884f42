// The shipped materials and lamp spectra as a view needs them: named, sourced, and small.
#pragma once

#include <nlohmann/json_fwd.hpp>

namespace dapple::server {

// {"materials": [{"id", "name", "colour", "pane", "uvb_reflectance", "visible_reflectance", "source",
// "confidence"}]}. `colour` (#rrggbb) is for pictures only: the mean reflectance of three thirds of the
// visible, in the sRGB curve.
nlohmann::json materials_document();

// {"spectra": [{"id", "name", "source", "nm": [...], "relative": [...]}]}, 250 to 800 nm, highest value 1.
nlohmann::json spectra_document();

}  // namespace dapple::server
