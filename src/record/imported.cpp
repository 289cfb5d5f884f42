// What every import has in common, and collections from a zip.
#include "record/imported.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <unordered_set>

#include "record/csv.h"
#include "record/database.h"
#include "record/rows.h"
#include "record/writing.h"
#include "record/zip.h"

namespace dapple::record {

namespace {

using nlohmann::json;
using Files = std::map<std::string, std::string>;

constexpr std::size_t most_faults = 200;

std::unordered_set<std::string> ids_there(Connection& connection, const Kind& kind) {
    std::unordered_set<std::string> ids;
    connection.each(fmt::format("select id from {}", kind.plural), "t", {},
                    [&ids](const Row& row) { ids.insert(text_of(row[0])); });
    return ids;
}

// One CSV of the zip, row by row, as creations.
class KindReader {
  public:
    KindReader(const Kind& kind, const Files& files, const std::string& zip, ImportPreview& preview)
        : kind_(kind),
          files_(files),
          name_(std::string(kind.plural) + ".csv"),
          zip_(zip),
          preview_(preview) {}

    void read(const std::unordered_set<std::string>& there) {
        const auto file = files_.find(name_);
        if (file == files_.end()) return;
        const auto rows = parse_csv(file->second);
        if (!rows || rows->empty())
            return fault("", "quotes that do not close, or nothing", "a table as dapple export writes it");
        columns_ = rows->front();
        if (!knows_columns()) return;
        for (std::size_t i = 1; i < rows->size(); ++i) take((*rows)[i], fmt::format("row {}", i + 1), there);
    }

  private:
    void fault(const std::string& place, std::string found, std::string allowed) {
        if (preview_.faults.size() >= most_faults) return;
        preview_.faults.push_back({zip_ + "/" + name_, place, std::move(found), std::move(allowed)});
    }

    bool knows_columns() {
        static const std::set<std::string> common = {"id",         "site",       "revision",
                                                     "made_at",    "made_by",    "changed_at",
                                                     "changed_by", "retired_at", "document_file"};
        bool known = true;
        for (const std::string& column : columns_) {
            if (common.contains(column) || kind_.field(column) != nullptr) continue;
            fault("row 1", "a column \"" + column + "\"", "the columns dapple export writes");
            known = false;
        }
        return known;
    }

    json value_of_cell(const Field& field, const std::string& cell) {
        if (field.type == FieldType::number || field.type == FieldType::integer ||
            field.type == FieldType::document) {
            json value = json::parse(cell, nullptr, false);
            return value.is_discarded() ? json(cell) : value;  // checked() says what is wrong with it
        }
        return cell;
    }

    void take(const std::vector<std::string>& row, const std::string& place,
              const std::unordered_set<std::string>& there) {
        if (row.size() != columns_.size()) {
            return fault(place, fmt::format("{} cells", row.size()),
                         fmt::format("{} cells", columns_.size()));
        }
        Write write;
        write.kind = kind_.name;
        write.fields = json::object();
        bool retired = false;
        for (std::size_t i = 0; i < row.size(); ++i) {
            const std::string& column = columns_[i];
            if (row[i].empty()) continue;
            if (column == "id") write.id = row[i];
            if (column == "site" && kind_.name != "site") write.site = row[i];
            if (column == "retired_at") retired = true;
            if (column == "document_file") read_document(write, row[i], place);
            if (const Field* field = kind_.field(column))
                write.fields[column] = value_of_cell(*field, row[i]);
        }
        if (write.id.empty()) return fault(place, "no id", "an id");
        if (there.contains(write.id)) {
            ++preview_.there[std::string(kind_.name)];
            return;
        }
        const auto ready = prepared(write);
        if (!ready) {
            for (const Problem& p : ready.error().problems) fault(place + " " + p.place, p.found, p.allowed);
            return;
        }
        ++preview_.would_add[std::string(kind_.name)];
        if (kind_.name == "enclosure") preview_.enclosures.push_back(write.id);
        if (kind_.name == "reading") note_time(write.fields.value("taken_at", ""));
        preview_.writes.push_back(write);
        if (retired) preview_.writes.push_back(retiring(write));
    }

    void read_document(Write& write, const std::string& name, const std::string& place) {
        const auto file = files_.find(name);
        const json document = file == files_.end() ? json() : json::parse(file->second, nullptr, false);
        if (document.is_object()) {
            write.fields["document"] = document;
        } else {
            fault(place, "no document " + name, "the file, a JSON object, in the zip");
        }
    }

    void note_time(const std::string& moment) {
        const std::string day = moment.substr(0, 10);
        if (preview_.first.empty() || day < preview_.first) preview_.first = day;
        if (day > preview_.last) preview_.last = day;
    }

    static Write retiring(const Write& made) {
        Write write;
        write.deed = Deed::retire;
        write.kind = made.kind;
        write.id = made.id;
        write.seen = 1;
        write.why = "retired where it came from";
        return write;
    }

    const Kind& kind_;
    const Files& files_;
    std::string name_;
    std::string zip_;
    ImportPreview& preview_;
    std::vector<std::string> columns_;
};

std::string counted(const std::map<std::string, std::int64_t>& counts) {
    std::vector<std::string> words;
    for (const auto& [kind, count] : counts) {
        words.push_back(
            fmt::format("{} {}", count, count == 1 ? kind : std::string(kind_named(kind)->plural)));
    }
    return words.empty() ? "nothing" : fmt::format("{}", fmt::join(words, ", "));
}

json as_json(const Problems& problems) {
    json result = json::array();
    for (const Problem& p : problems) {
        result.push_back({{"file", p.file}, {"place", p.place}, {"found", p.found}, {"allowed", p.allowed}});
    }
    return result;
}

}  // namespace

// Who did what stays with those who did it: people and their roles do not travel in an export.
Result<ImportPreview> preview_zip(const Store& store, const std::string& bytes, const std::string& file) {
    ImportPreview preview;
    const auto files = unzipped(bytes, file);
    if (!files) {
        preview.faults = files.error();
        return preview;
    }
    return store.database().read<ImportPreview>(
        [&](Connection& connection) -> Result<ImportPreview> {
            ImportPreview fresh;
            for (const Kind& kind : kinds()) {
                if (kind.name == "person" || kind.name == "membership") continue;
                KindReader(kind, *files, file, fresh).read(ids_there(connection, kind));
            }
            return fresh;
        },
        true);
}

Result<std::int64_t> apply(Store& store, const Actor& actor, const ImportPreview& preview) {
    if (!preview.faults.empty()) return refuse_as(Trouble::invalid, preview.faults);
    if (preview.writes.empty()) return 0;
    auto done = store.write_all(actor, preview.writes);
    if (!done) return tl::unexpected(done.error());
    return std::count_if(preview.writes.begin(), preview.writes.end(),
                         [](const Write& write) { return write.deed == Deed::create; });
}

std::string to_text(const ImportPreview& preview) {
    std::string text = "would add: " + counted(preview.would_add) + "\n";
    if (!preview.there.empty()) text += "there already: " + counted(preview.there) + "\n";
    if (!preview.enclosures.empty())
        text += fmt::format("enclosures: {}\n", fmt::join(preview.enclosures, ", "));
    if (!preview.first.empty()) text += fmt::format("readings from {} to {}\n", preview.first, preview.last);
    for (const Problem& problem : preview.left_out) text += "left out: " + problem.message() + "\n";
    for (const Problem& problem : preview.faults) text += "fault: " + problem.message() + "\n";
    if (!preview.faults.empty()) text += "nothing can be brought in until these are put right\n";
    return text;
}

json to_json(const ImportPreview& preview) {
    return {
        {"would_add", preview.would_add},   {"there", preview.there}, {"enclosures", preview.enclosures},
        {"first", preview.first},           {"last", preview.last},   {"left_out", as_json(preview.left_out)},
        {"faults", as_json(preview.faults)}};
}

}  // namespace dapple::record
