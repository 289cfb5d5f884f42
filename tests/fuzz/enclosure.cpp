// Any bytes as an enclosure document: refused in valid text, or read, written and read again.
#include "bytes.h"
#include "scene/document.h"
#include "scene/json_text.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    using namespace dapple;
    const auto enclosure = scene::parse_enclosure(fuzz::text(bytes, size));
    if (!enclosure) {
        fuzz::promise(!enclosure.error().empty(), "a refusal says why");
        (void)nlohmann::json(to_text(enclosure.error())).dump();  // throws on bytes that are no UTF-8
        return 0;
    }
    const auto again = scene::parse_enclosure(scene::to_text(*enclosure));
    fuzz::promise(again.has_value(), "what was written is read again");
    fuzz::promise(scene::to_json(*enclosure) == nlohmann::json::parse(fuzz::text(bytes, size)),
                  "an unchanged document stays as it was");
    fuzz::promise(scene::to_json(*again) == scene::to_json(*enclosure), "reading and writing change nothing");
    return 0;
}
