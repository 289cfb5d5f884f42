// Any text as the way a receiver looks: refused, or understood the same once written back.
#include "light/facing.h"

#include <string>

#include "bytes.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    using namespace dapple;
    const auto facing = light::parse_facing(std::string(fuzz::text(bytes, size)));
    if (!facing) return 0;
    const auto again = light::parse_facing(light::to_text(*facing));
    fuzz::promise(again && again->kind == facing->kind, "what was written is read again");
    return 0;
}
