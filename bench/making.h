// What goes into a record to measure with; a refusal ends the program.
#pragma once

#include <fmt/format.h>

#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "record/store.h"

namespace dapple::bench {

inline void store_all(record::Store& store, const std::vector<record::Write>& writes) {
    for (const auto& answer : store.write_each({}, writes)) {
        if (answer) continue;
        fmt::print(stderr, "{}", to_text(answer.error().problems));
        std::exit(1);
    }
}

inline record::Write making(const std::string& kind, nlohmann::json fields, const std::string& id = {}) {
    record::Write write;
    write.kind = kind;
    write.id = id;
    write.site = kind == "site" ? "" : "home";
    write.fields = std::move(fields);
    return write;
}

}  // namespace dapple::bench
