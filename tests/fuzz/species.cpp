// Any bytes as a species sheet: refused, or written and read again.
#include "husbandry/species.h"

#include <nlohmann/json.hpp>

#include "bytes.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    using namespace dapple;
    const auto species = husbandry::parse_species(fuzz::text(bytes, size), "fuzz.json", "");
    if (!species) {
        fuzz::promise(!species.error().empty(), "a refusal says why");
        return 0;
    }
    (void)husbandry::to_json(*species).dump();
    return 0;
}
