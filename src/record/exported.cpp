#include "record/exported.h"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <set>

#include "record/csv.h"
#include "record/database.h"
#include "record/rows.h"
#include "record/tables.h"
#include "record/zip.h"

namespace dapple::record {

namespace {

using Files = std::map<std::string, std::string>;
using Sites = std::set<std::string>;  // empty: all

constexpr const char* readme =
    "This is a collection kept with Dapple, exported at {}.\r\n\r\n"
    "enclosures/ID.json   each enclosure as a document: lengths in cm, x to the right, y to the back, z "
    "up\r\n"
    "*.csv                everything else, a file a kind, comma-separated, UTF-8; the first line names the "
    "columns\r\n"
    "history.csv          earlier versions of what was changed since, their fields as JSON\r\n"
    "trail.csv            who did what, and when\r\n\r\n"
    "Columns that name another thing (enclosure, lamp, meter, ...) hold its id. Moments are UTC, days are "
    "calendar days.\r\n"
    "A row with retired_at is no longer in use, or was a mistake. The value of a reading is in the "
    "quantity's own unit:\r\n"
    "UVI, lx, W/m2, degrees Celsius. A calibration says: true value = reading x factor + offset_by.\r\n"
    "`dapple import FILE.zip` reads this file again.\r\n";

std::string cell(const Value& value) {
    if (is_null(value)) return {};
    if (const auto* t = std::get_if<Text>(&value)) return **t;
    if (const auto* r = std::get_if<Real>(&value)) return number_text(**r);
    return std::to_string(whole_of(value));
}

std::vector<std::string> cells(const Row& row) {
    std::vector<std::string> result;
    for (const Value& value : row) result.push_back(cell(value));
    return result;
}

// The ids that belong to the export, by kind.
using Taken = std::set<std::pair<std::string, std::string>>;

void add_kind(Connection& connection, const Kind& kind, const Table& table, const Sites& sites, Files& files,
              Taken& taken) {
    const bool documents = kind.name == "enclosure";
    std::string& csv = files[std::string(kind.plural) + ".csv"];
    std::vector<std::string> columns = table.columns;
    const std::size_t at = 8;  // the document's column, behind those every thing has
    if (documents) columns[at] = "document_file";
    csv = csv_line(columns);
    each_row(connection, table, [&](const Row& row) {
        if (!sites.empty() && !sites.contains(text_of(row[1]))) return;
        std::vector<std::string> line = cells(row);
        if (documents) {
            const std::string name = "enclosures/" + text_of(row[0]) + ".json";
            files[name] = nlohmann::json::parse(text_of(row[at])).dump(1) + "\n";
            line[at] = name;
        }
        csv += csv_line(line);
        taken.emplace(kind.name, text_of(row[0]));
    });
}

void add_others(Connection& connection, const Table& table, const std::string& name, const Sites& sites,
                const Taken& taken, Files& files) {
    std::string& csv = files[name];
    csv = csv_line(table.columns);
    const std::size_t kind = table.name == "changes" ? 3 : 0;
    each_row(connection, table, [&](const Row& row) {
        if (!sites.empty() && !taken.contains({text_of(row[kind]), text_of(row[kind + 1])})) return;
        csv += csv_line(cells(row));
    });
}

Files files_of(Connection& connection, const Sites& sites, Moment at) {
    Files files;
    files["README.txt"] = fmt::format(readme, to_text(at));
    Taken taken;
    for (const Table& table : tables()) {
        const Kind* kind = kind_named(table.name);
        if (kind != nullptr) add_kind(connection, *kind, table, sites, files, taken);
        if (table.name == "versions") add_others(connection, table, "history.csv", sites, taken, files);
        if (table.name == "changes") add_others(connection, table, "trail.csv", sites, taken, files);
    }
    return files;
}

Result<Files> exported(const Store& store, const std::vector<std::string>& sites) {
    return store.database().read<Files>(
        [&](Connection& connection) -> Result<Files> {
            for (const std::string& site : sites) {
                if (!find_thing(connection, *kind_named("site"), site)) {
                    return refuse_as(Trouble::missing,
                                     {"", "site", "no site \"" + site + "\"", "one in the record"});
                }
            }
            return files_of(connection, Sites(sites.begin(), sites.end()), store.options().clock());
        },
        true);
}

Result<std::string> as_zip(const Store& store, const Files& files) {
    auto bytes = zipped(files, store.options().clock());
    if (!bytes) return refuse_as(Trouble::full, bytes.error());
    return std::move(*bytes);
}

}  // namespace

Result<std::string> export_bytes(const Store& store, const std::vector<std::string>& sites) {
    const auto files = exported(store, sites);
    if (!files) return tl::unexpected(files.error());
    return as_zip(store, *files);
}

Result<ExportReport> export_zip(const Store& store, const std::string& file,
                                const std::vector<std::string>& sites) {
    if (std::filesystem::exists(file))
        return refuse_as(Trouble::taken, {file, "", "a file that is there already", "a new name"});
    const auto files = exported(store, sites);
    if (!files) return tl::unexpected(files.error());
    const auto bytes = as_zip(store, *files);
    if (!bytes) return tl::unexpected(bytes.error());
    std::ofstream out(file, std::ios::binary);
    out.write(bytes->data(), static_cast<std::streamsize>(bytes->size()));
    out.close();
    if (!out) {
        std::error_code ignored;
        std::filesystem::remove(file, ignored);
        return refuse_as(Trouble::read_only, {file, "", "a file that cannot be written",
                                              "a folder that may be written and has room"});
    }
    ExportReport report;
    for (const auto& [name, text] : *files) {
        report.written[name] = std::count(text.begin(), text.end(), '\n') - (name.ends_with(".csv") ? 1 : 0);
    }
    return report;
}

}  // namespace dapple::record
