#include "cli/record_place.h"

#include <cstdlib>
#include <filesystem>

namespace dapple::cli {

namespace {

namespace fs = std::filesystem;

std::string set_variable(const char* name) {
    const char* value = std::getenv(name);
    return value == nullptr ? std::string() : std::string(value);
}

Expected<std::string> own_folder() {
    const std::string data = set_variable("XDG_DATA_HOME");
    if (!data.empty()) return data + "/dapple";
    const std::string home = set_variable("HOME");
    if (!home.empty()) return home + "/.local/share/dapple";
    return refuse({"", "--data", "nothing, and no home folder", "a folder to keep the record in"});
}

}  // namespace

std::shared_ptr<RecordPlace> add_record_options(CLI::App& app) {
    auto place = std::make_shared<RecordPlace>();
    app.add_option("--data", place->data, "The folder the record is kept in (your own)");
    app.add_option("--database", place->database, "In place of a folder: postgresql://USER@HOST:PORT/NAME");
    return place;
}

Expected<std::string> database_of(const RecordPlace& place) {
    if (!place.database.empty() && !place.data.empty()) {
        return refuse({"", "--database", "--data as well", "one of the two"});
    }
    if (!place.database.empty()) return place.database;
    auto folder = place.data.empty() ? own_folder() : Expected<std::string>(place.data);
    if (!folder) return folder;
    std::error_code fault;
    fs::create_directories(*folder, fault);
    if (fault) return refuse({*folder, "", fault.message(), "a folder that may be written"});
    // Whoever reads the file reads everything: it is the user's alone.
    if (fs::is_empty(*folder, fault)) fs::permissions(*folder, fs::perms::owner_all, fault);
    return *folder + "/record.sqlite";
}

Expected<std::unique_ptr<record::Store>> open_record(const RecordPlace& place, bool must_exist) {
    const auto database = database_of(place);
    if (!database) return tl::unexpected(database.error());
    if (must_exist && database->find("://") == std::string::npos && !fs::exists(*database)) {
        return refuse({*database, "", "no record", "a record that dapple serve, import or restore made"});
    }
    record::StoreOptions options;
    options.database = *database;
    auto store = record::Store::open(options);
    if (!store) return tl::unexpected(store.error().problems);
    return std::move(*store);
}

int say_refused(const Console& console, const record::Refusal& refusal) {
    return console.refuse(refusal.problems);
}

}  // namespace dapple::cli
