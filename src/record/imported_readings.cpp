// Readings from a table that somebody kept elsewhere.
#include <date/tz.h>
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "inference/readings.h"
#include "inference/readings_columns.h"
#include "inference/readings_table.h"
#include "record/database.h"
#include "record/imported.h"
#include "record/rows.h"
#include "record/writing.h"

namespace dapple::record {

namespace {

using inference::Reading;
using nlohmann::json;

constexpr double cm = 100;  // per metre

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
    return text;
}

// The moment of a local time at the site. A day alone is taken as its noon, so that it stays that day in universal time
// nearly everywhere; a site without a time zone counts in universal time.
std::string moment_at(const std::string& local, const std::string& zone) {
    const auto written = moment_of(local.size() == 10 ? local + "T12:00" : local);
    if (!written) return local;  // checked() says what is wrong with it
    if (zone.empty()) return to_text(*written);
    try {
        const date::local_time<std::chrono::milliseconds> wall(written->time_since_epoch());
        return to_text(date::locate_zone(zone)->to_sys(wall, date::choose::earliest));
    } catch (const std::runtime_error&) {  // no such zone
        return to_text(*written);
    }
}

class TableReader {
  public:
    TableReader(const Store& store, const std::string& site, std::string_view text, const std::string& file)
        : store_(store), site_(site), text_(text), file_(file) {}

    Result<ImportPreview> read() {
        if (auto loaded = load(); !loaded) return tl::unexpected(loaded.error());
        if (sort_rows()) {
            for (const Thing* enclosure : touched_) read_enclosure(*enclosure);
        }
        if (preview_.faults.empty()) {
            if (auto sorted = leave_out_known(); !sorted) return tl::unexpected(sorted.error());
        } else {
            preview_.writes.clear();
            preview_.would_add.clear();
        }
        return preview_;
    }

  private:
    void fault(const std::string& place, std::string found, std::string allowed) {
        preview_.faults.push_back({file_, place, std::move(found), std::move(allowed)});
    }
    void add_faults(const Problems& problems) {
        preview_.faults.insert(preview_.faults.end(), problems.begin(), problems.end());
    }

    Result<void> load() {
        auto site = store_.find("site", site_);
        if (!site) return tl::unexpected(site.error());
        zone_ = site->fields.value("time_zone", "");
        for (auto [kind, target] : {std::pair("enclosure", &enclosures_), std::pair("meter", &meters_)}) {
            Query query{.kind = kind, .sites = {{site_}}, .limit = 10'000};
            do {
                auto page = store_.list(query);
                if (!page) return tl::unexpected(page.error());
                std::move(page->things.begin(), page->things.end(), std::back_inserter(*target));
                query.after = page->next;
            } while (!query.after.empty());
        }
        return {};
    }

    // Which rows are of which enclosure; false: there were faults.
    bool sort_rows() {
        const auto begin = text_.find_first_not_of(" \t\r\n\xef\xbb\xbf");
        const bool is_json = begin != std::string_view::npos && (text_[begin] == '[' || text_[begin] == '{');
        const auto table = is_json ? inference::read_json(text_, file_) : inference::read_csv(text_, file_);
        if (!table) {
            add_faults(table.error());
            return false;
        }
        Problems ignored;
        const auto columns = inference::read_columns(*table, file_, ignored);
        if (!columns) {
            add_faults(columns.error());
            return false;
        }
        for (const inference::Row& row : table->rows) {
            const Thing* enclosure = enclosure_named(columns->cell(row, "enclosure"));
            if (enclosure == nullptr) {
                const std::string named = columns->cell(row, "enclosure");
                fault(row.place,
                      named.empty() ? "no enclosure" : "an unknown enclosure " + inference::in_quotes(named),
                      known_enclosures(named));
                continue;
            }
            if (std::find(touched_.begin(), touched_.end(), enclosure) == touched_.end())
                touched_.push_back(enclosure);
        }
        return preview_.faults.empty();
    }

    // Names as inference/readings.h takes them: id or name, whatever the case; none where there is only one.
    const Thing* enclosure_named(const std::string& name) const {
        if (name.empty()) return enclosures_.size() == 1 ? &enclosures_.front() : nullptr;
        for (const Thing& enclosure : enclosures_) {
            const json& document = enclosure.fields["document"];
            if (lower(name) == lower(enclosure.id) || lower(name) == lower(document.value("name", "")))
                return &enclosure;
        }
        return nullptr;
    }

    std::string known_enclosures(const std::string& word) const {
        std::vector<std::string> ids;
        for (const Thing& enclosure : enclosures_) ids.push_back(enclosure.id);
        const std::string near = nearest(word, ids);
        if (ids.empty()) return "an enclosure of the site, which has none yet";
        if (!near.empty()) return "an enclosure of the site (did you mean " + near + "?)";
        if (ids.size() > 12) ids.resize(12);
        return fmt::format("an enclosure of the site: {}", fmt::join(ids, ", "));
    }

    void read_enclosure(const Thing& thing) {
        scene::ReadOptions read;
        read.file = "enclosure " + thing.id;
        read.read_file = file_reader(store_, thing.site);
        const auto enclosure = scene::parse_enclosure(thing.fields["document"].dump(), read);
        if (!enclosure) return add_faults(enclosure.error());
        const auto readings = inference::parse_readings(
            text_, *enclosure, {file_, to_text(store_.options().clock()).substr(0, 10)});
        if (!readings) return add_faults(readings.error());
        preview_.enclosures.push_back(thing.id);
        for (const Problem& problem : readings->left_out) {
            const bool of_another = problem.found.starts_with("a reading of enclosure ");
            if (!of_another) add_left_out(problem);
        }
        for (const Reading& set : readings->sets) take(thing, *enclosure, set);
    }

    // Columns that mean nothing are named once, not once an enclosure.
    void add_left_out(const Problem& problem) {
        for (const Problem& known : preview_.left_out) {
            if (known.message() == problem.message()) return;
        }
        preview_.left_out.push_back(problem);
    }

    void take(const Thing& thing, const scene::Enclosure& enclosure, const Reading& set) {
        if (set.date.empty()) return fault(set.where, "no date", "a date as YYYY-MM-DD");
        json fields = {
            {"enclosure", thing.id},
            {"quantity", set.quantity ? std::string(spectrum::name(*set.quantity)) : "temperature"},
            {"taken_at", moment_at(set.date, zone_)},
            {"note", set.note}};
        if (set.spot.empty()) {
            fields["x_cm"] = cm * set.point.x();
            fields["y_cm"] = cm * set.point.y();
            fields["z_cm"] = cm * set.point.z();
        } else {
            fields["spot"] = set.spot;
            for (const scene::Place& spot : enclosure.spots) {
                if (spot.id == set.spot)
                    fields["height_cm"] = std::max(0.0, cm * (set.point.z() - spot.position.z()));
            }
        }
        if (set.facing.kind != light::Facing::Kind::aimed) fields["facing"] = light::to_text(set.facing);
        name_meter(fields, set.meter);
        for (const double value : set.values) add(fields, value);
        const std::string day = set.date.substr(0, 10);
        if (preview_.first.empty() || day < preview_.first) preview_.first = day;
        if (day > preview_.last) preview_.last = day;
    }

    void name_meter(json& fields, const std::string& name) const {
        if (name.empty()) return;
        for (const Thing& meter : meters_) {
            if (lower(meter.fields.value("name", "")) == lower(name) || meter.id == name) {
                fields["meter"] = meter.id;
                return;
            }
        }
        fields["meter_words"] = name;
    }

    // The id follows from what is said; equal values of one set are told apart by their number.
    void add(const json& fields, double value) {
        Write write;
        write.kind = "reading";
        write.site = site_;
        write.fields = fields;
        write.fields["value"] = value;
        json said = write.fields;
        said.erase("note");
        said.erase("meter");  // may have come into the record since
        said.erase("meter_words");
        const std::string digest = digest_of(said.dump());
        write.id = fmt::format("in-{}-{}", digest.substr(0, 32), ++seen_[digest]);
        const auto ready = prepared(write);
        if (!ready) return add_faults(ready.error().problems);
        preview_.writes.push_back(write);
    }

    Result<void> leave_out_known() {
        return store_.database().read<void>([this](Connection& connection) -> Result<void> {
            std::vector<Write> fresh;
            preview_.would_add.clear();
            preview_.there.clear();
            for (const Write& write : preview_.writes) {
                const bool known =
                    !connection.rows("select id from readings where id = ?", "t", {text(write.id)}).empty();
                ++(known ? preview_.there : preview_.would_add)["reading"];
                if (!known) fresh.push_back(write);
            }
            preview_.writes = std::move(fresh);
            return {};
        });
    }

    const Store& store_;
    std::string site_;
    std::string_view text_;
    std::string file_;
    std::string zone_;
    std::vector<Thing> enclosures_;
    std::vector<Thing> meters_;
    std::vector<const Thing*> touched_;
    std::map<std::string, int> seen_;
    ImportPreview preview_;
};

}  // namespace

Result<ImportPreview> preview_readings(const Store& store, const std::string& site, std::string_view text,
                                       const std::string& file) {
    return TableReader(store, site, text, file).read();
}

}  // namespace dapple::record
