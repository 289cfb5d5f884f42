// dapple life --readings F: how lamps fade, and when each leaves the band.
#include "inference/life.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <fstream>
#include <istream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "cli/columns.h"
#include "cli/command.h"
#include "cli/input.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string readings;
    std::string enclosure;
    std::string band;
    std::string low;
    std::string hours_on;
    std::string kind;
    std::string every_months;
    std::string price;
    std::string today;
    bool json = false;
};

std::string kinds() {
    std::vector<std::string_view> names;
    for (const auto kind : inference::lamp_kinds) names.push_back(inference::name(kind));
    return fmt::format("{}", fmt::join(names, ", "));
}

// Turns what was written into options of the computation, keeping everything that is wrong with it.
class Reader {
  public:
    explicit Reader(const Options& written) : written_(written) {
        life_.file = written.readings == "-" ? "standard input" : written.readings;
        life_.today = std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now());
    }

    Expected<inference::LifeOptions> read() {
        if (!written_.low.empty() && !written_.band.empty()) {
            problem("--band", "--low as well", "one of the two");
        }
        if (const auto low = number("--low", written_.low, 0, 1e6)) life_.low = *low;
        read_band();
        if (const auto hours = number("--hours-on", written_.hours_on, 0.01, 24)) life_.hours_on = *hours;
        if (const auto months = number("--every-months", written_.every_months, 0.1, 1200)) {
            life_.every_months = *months;
        }
        if (const auto price = number("--price", written_.price, 0, 1e9)) life_.price = *price;
        read_kind();
        read_today();
        if (!problems_.empty()) return tl::unexpected(problems_);
        return life_;
    }

  private:
    void problem(const std::string& option, std::string found, std::string allowed) {
        problems_.push_back({"", option, std::move(found), std::move(allowed)});
    }

    std::optional<double> number(const std::string& option, const std::string& text, double least,
                                 double most) {
        if (text.empty()) return std::nullopt;
        const std::string allowed = fmt::format("a number from {:g} to {:g}", least, most);
        const auto value = read_number(text, option, allowed);
        if (value && *value >= least && *value <= most) return *value;
        problem(option, "\"" + text + "\"", allowed);
        return std::nullopt;
    }

    void read_band() {
        if (written_.band.empty()) return;
        const auto comma = written_.band.find(',');
        const auto refused = problems_.size();
        const auto low = number("--band", written_.band.substr(0, comma), 0, 1e6);
        const auto high =
            comma == std::string::npos ? low : number("--band", written_.band.substr(comma + 1), 0, 1e6);
        if (low && high && *low < *high) {
            life_.low = *low;
        } else if (problems_.size() == refused) {
            problem("--band", "\"" + written_.band + "\"",
                    "the low end, a comma, and the higher high end: 2.9,7.4");
        }
    }

    void read_kind() {
        if (written_.kind.empty()) return;
        life_.kind = inference::lamp_kind_named(written_.kind);
        if (!life_.kind) problem("--kind", "\"" + written_.kind + "\"", kinds());
    }

    void read_today() {
        if (written_.today.empty()) return;
        const auto day = inference::day_of(written_.today);
        if (day) life_.today = *day;
        if (!day) problem("--today", "\"" + written_.today + "\"", "a date as YYYY-MM-DD");
    }

    const Options& written_;
    inference::LifeOptions life_;
    Problems problems_;
};

Expected<std::string> read_text(const std::string& path, std::istream& in) {
    if (path.empty())
        return refuse({"", "--readings", "nothing", "a table of readings, or - for standard input"});
    if (path == "-") return std::string(std::istreambuf_iterator<char>(in), {});
    std::ifstream file(path, std::ios::binary);
    std::string text(std::istreambuf_iterator<char>(file), {});
    if (!file.is_open() || file.bad())
        return refuse({path, "", "no file that can be read", "a table of readings"});
    return text;
}

std::string as_text(const inference::Life& life) {
    std::string text;
    Columns table({"lamp", "loses in 1000 h", "leaves the band", "90 %"}, {1});
    for (const auto& lamp : life.lamps) {
        const auto* leaving = lamp.leaving();
        const auto day = [](const std::optional<inference::Day>& d) {
            return d ? inference::to_text(*d) : std::string("-");
        };
        table.add({lamp.name, fmt::format("{:.1f} %", 100 * (1 - std::exp(-lamp.alpha))),
                   leaving == nullptr ? "-" : day(leaving->date) + (leaving->beyond_limit ? " *" : ""),
                   leaving == nullptr ? "" : day(leaving->early) + " to " + day(leaving->late)});
    }
    text += table.text();
    for (const auto& lamp : life.lamps) {
        text += "\n" + lamp.name + "\n";
        for (const std::string& sentence : inference::in_words(lamp)) text += wrapped(sentence, 96, "    ");
    }
    for (const std::string& note : life.notes) text += "\n" + wrapped(note, 96, "");
    return text;
}

int follow(const Options& written, const Console& console) {
    const auto options = Reader(written).read();
    if (!options) return console.refuse(options.error());
    const auto text = read_text(written.readings, console.in);
    if (!text) return console.refuse(text.error());
    std::optional<scene::Enclosure> enclosure;
    if (!written.enclosure.empty()) {
        auto document = read_enclosure(written.enclosure, console.in);
        if (!document) return console.refuse(document.error());
        enclosure = std::move(*document);
    }
    const auto readings = inference::parse_life_readings(*text, {options->file, options->today});
    if (!readings) return console.refuse(readings.error());
    const auto life = inference::lamp_life(*readings, enclosure ? &*enclosure : nullptr, *options);
    if (!life) return console.refuse(life.error());
    if (written.json) return console.print(inference::to_json(*life));
    console.out << as_text(*life);
    return done;
}

}  // namespace

Command life_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("life", "How lamps fade, and when each leaves the band");
    app->add_option("--readings", options->readings,
                    "A table with date or hours, lamp, spot and value; - reads standard input");
    app->add_option("--enclosure", options->enclosure,
                    "The enclosure's document: bands, hours, lamp kinds, and other lamps' light");
    app->add_option("--band", options->band, "The band as low,high in place of the animals' own");
    app->add_option("--low", options->low, "Only the band's low end, in the readings' quantity");
    app->add_option("--hours-on", options->hours_on, "Hours a day (the document's, else 12)");
    app->add_option("--kind", options->kind, "Kind of lamp, for all: " + kinds());
    app->add_option("--every-months", options->every_months,
                    "Calendar rule to compare with: a new lamp every so many months (12)");
    app->add_option("--price", options->price, "Price of a lamp, in your money");
    app->add_option("--today", options->today, "The present date (the clock's)");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) { return follow(*options, console); }};
}

}  // namespace dapple::cli
