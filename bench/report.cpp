// The report of a collection: how long fifty enclosures take against the ten seconds they may, and how it scales.
// Processor seconds stand beside those of the clock: on a machine that others use, they are the ones that can be compared.
// Usage: bench_report [readings of each enclosure, 60] [most enclosures, 100] [only this example]
#include "paper/report.h"

#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <random>

#include "husbandry/verdict.h"
#include "light/field.h"
#include "pairs.h"
#include "scene/document.h"

namespace {

using namespace dapple;
using nlohmann::json;

constexpr double limit_s = 10;  // for fifty enclosures
constexpr int promised = 50;

std::string text_of(const std::string& name) {
    std::ifstream in(std::string(DAPPLE_ROOT) + "/examples/" + name, std::ios::binary);
    if (!in) {
        fmt::print(stderr, "examples/{} is missing\n", name);
        std::exit(1);
    }
    return {std::istreambuf_iterator<char>(in), {}};
}

void store_all(record::Store& store, const std::vector<record::Write>& writes) {
    for (const auto& answer : store.write_each({}, writes)) {
        if (answer) continue;
        fmt::print(stderr, "{}", to_text(answer.error().problems));
        std::exit(1);
    }
}

record::Write making(const std::string& kind, json fields, const std::string& id = {}) {
    record::Write write;
    write.kind = kind;
    write.id = id;
    write.site = kind == "site" ? "" : "home";
    write.fields = std::move(fields);
    return write;
}

// An example enclosure with the UVI at its spots, as computed.
struct Place {
    json document;
    std::vector<double> uvi;
};

Place place_of(const std::string& name) {
    Place place{json::parse(text_of(name + ".json")), {}};
    scene::ReadOptions options;
    options.read_file = [](const std::string& file) -> std::optional<std::string> { return text_of(file); };
    const auto enclosure = scene::parse_enclosure(place.document.dump(), options);
    const auto animals =
        enclosure ? husbandry::resolve_animals(*enclosure) : tl::unexpected(enclosure.error());
    if (!animals) std::exit(1);
    const light::Field field(*enclosure);
    for (const scene::Place& spot : enclosure->spots) {
        const auto there = field.at(husbandry::reading_point(spot, *animals));
        place.uvi.push_back(there.measure(spectrum::Quantity::uvi));
    }
    return place;
}

// As a meter would show it: lamps that fade by a fifth a year, a hand that errs by six in a hundred, tenths.
json reading_of(const std::string& enclosure, const Place& place, std::size_t spot, int survey,
                std::mt19937& random) {
    std::normal_distribution<double> error(0, 0.06);
    const double value = place.uvi[spot] * std::exp(-0.2 * survey / 30.0 + error(random));
    return {
        {"enclosure", enclosure},
        {"spot", place.document["spots"][spot]["id"]},
        {"quantity", "uvi"},
        {"value", std::round(10 * value) / 10},
        {"taken_at", fmt::format("2026-{:02}-{:02}T10:00:00Z", 1 + survey / 3 % 10, 1 + 9 * (survey % 3))}};
}

// The example enclosures over and over, each with a lamp and readings of all its spots, month after month.
void fill(record::Store& store, int enclosures, int readings, const std::vector<std::string>& names) {
    std::vector<Place> examples;
    for (const std::string& name : names) examples.push_back(place_of(name));
    std::mt19937 random(1);
    std::vector<record::Write> places;
    std::vector<record::Write> rest;
    for (int i = 0; i < enclosures; ++i) {
        const Place& place = examples[static_cast<std::size_t>(i) % examples.size()];
        json document = place.document;
        const std::string id = fmt::format("e{:03}", i);
        document["id"] = id;
        document["name"] = fmt::format("{} ({})", document["name"].get<std::string>(), i);
        rest.push_back(making("lamp", {{"name", "Lamp " + id},
                                       {"enclosure", id},
                                       {"place", document["lamps"][0]["id"]},
                                       {"installed_on", "2025-12-01"},
                                       {"hours_on", 12}}));
        const auto spots = static_cast<int>(place.uvi.size());
        for (int r = 0; r < readings; ++r) {
            rest.push_back(making(
                "reading", reading_of(id, place, static_cast<std::size_t>(r % spots), r / spots, random)));
        }
        places.push_back(making("enclosure", {{"document", std::move(document)}}));
    }
    store_all(store, {making("site", {{"name", "Hill House"}}, "home")});
    store_all(store, places);
    store_all(store, rest);
}

double measure(int enclosures, int readings, const std::string& folder,
               const std::vector<std::string>& examples) {
    record::StoreOptions options;
    options.database = fmt::format("{}/{}.sqlite", folder, enclosures);
    options.read_file = [](const std::string& name) -> std::optional<std::string> { return text_of(name); };
    const auto store = record::Store::open(options);
    if (!store) std::exit(1);
    fill(**store, enclosures, readings, examples);
    record::LampLives lives;
    paper::ReportOptions wanted;
    wanted.now = *record::moment_of("2026-11-01T09:00:00Z");
    const std::clock_t begun = std::clock();
    record::Result<paper::Account> account;
    const double gathered =
        bench::seconds([&] { account = paper::account_of_record(**store, lives, wanted); });
    if (!account) std::exit(1);
    std::string pdf;
    const double drawn = bench::seconds([&] { pdf = paper::to_pdf(*account, paper::Paper::a4); });
    for (const auto& one : account->enclosures) {
        if (!one.judgement) std::exit(1);
    }
    fmt::print(
        "{:3} enclosures: {:.2f} s (judged {:.2f}, drawn {:.2f}), {:.0f} ms each; {:.2f} s of "
        "processor; {:.1f} MB\n",
        enclosures, gathered + drawn, gathered, drawn, 1000 * (gathered + drawn) / enclosures,
        static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC, static_cast<double>(pdf.size()) / 1e6);
    return gathered + drawn;
}

}  // namespace

int main(int count, char** words) {
    const int readings = count > 1 ? std::atoi(words[1]) : 60;
    const int most = count > 2 ? std::atoi(words[2]) : 100;
    std::vector<std::string> examples = {"gravel-plain",  "dry-wall",   "olive-terrace",
                                         "reed-margin",   "cloud-oak",  "heath-edge",
                                         "river-thicket", "fern-gully", "moss-bank"};
    if (count > 3) examples = {words[3]};
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);
    std::string folder = (std::filesystem::temp_directory_path() / "dapple-bench-XXXXXX").string();
    if (mkdtemp(folder.data()) == nullptr) return 1;
    double took = 0;
    for (const int enclosures : {10, 25, promised, 100}) {
        if (enclosures > most) break;
        const double seconds = measure(enclosures, readings, folder, examples);
        if (enclosures == promised) took = seconds;
    }
    if (most >= promised)
        fmt::print("{} enclosures against the {} s they may take: {:.2f} of it\n", promised, limit_s,
                   took / limit_s);
    std::filesystem::remove_all(folder);
    return took <= limit_s ? 0 : 1;
}
