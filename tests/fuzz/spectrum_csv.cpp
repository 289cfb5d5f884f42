// Any bytes as a spectrum table: refused, or finite power that is not all dark.
#include "bytes.h"
#include "spectrum/lamp_spectrum.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    using namespace dapple;
    const auto light = spectrum::parse_spectrum_csv(fuzz::text(bytes, size), "fuzz.csv");
    if (!light) return 0;
    fuzz::promise(light->relative.size() == spectrum::samples, "a spectrum lies on the axis");
    fuzz::promise(light->relative.isFinite().all() && (light->relative >= 0).all(),
                  "power is never negative");
    fuzz::promise((light->relative > 0).any(), "a lamp's spectrum is not all dark");
    return 0;
}
