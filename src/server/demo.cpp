#include "server/demo.h"

#include <nlohmann/json.hpp>

#include "embedded/files.h"
#include "record/chance.h"

namespace dapple::server {

record::Result<void> fill_demo(record::Store& store, inference::Day) {
    const std::string site = record::new_id(store.options().clock(), store.options().chance);
    std::vector<record::Write> writes;
    writes.push_back({.deed = record::Deed::create, .kind = "site", .id = site});
    writes.back().fields = {
        {"name", "The room"}, {"time_zone", "Europe/Vienna"}, {"lat_deg", 48.2}, {"lon_deg", 16.4}};
    for (const embedded::File& file : embedded::examples()) {
        if (!file.path.ends_with(".json")) continue;
        record::Write write{.deed = record::Deed::create, .kind = "enclosure", .site = site};
        write.fields = {{"document", nlohmann::json::parse(file.bytes)}};
        writes.push_back(std::move(write));
    }
    const auto done = store.write_all({}, writes);
    if (!done) return tl::unexpected(done.error());
    return {};
}

}  // namespace dapple::server
