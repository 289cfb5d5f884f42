// Any bytes as an IES photometric file: refused, or a table that is finite in every direction.
#include <cmath>

#include "bytes.h"
#include "scene/photometric.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    using namespace dapple;
    const auto table = scene::parse_ies(fuzz::text(bytes, size), "fuzz.ies");
    if (!table) return 0;
    for (double theta = 0; theta < 3.2; theta += 0.1) {
        for (double phi = -7; phi < 7; phi += 0.5) {
            const double intensity = table->at(theta, phi);
            fuzz::promise(std::isfinite(intensity) && intensity >= 0,
                          "an intensity is a number, never negative");
        }
    }
    return 0;
}
