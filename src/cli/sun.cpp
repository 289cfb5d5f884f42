// dapple sun --lat --lon --date: the day's curve and the hours in which the sun is in the animal's band.
#include <fmt/format.h>

#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <sstream>

#include "cli/columns.h"
#include "cli/command.h"
#include "cli/forecast_url.h"
#include "cli/input.h"
#include "husbandry/sun_report.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string lat, lon, date, elevation_m, ozone_du, cloud, albedo, shade, species, time_zone, forecast,
        forecast_url;
    bool plan = false, json = false;
};

// Turns what was written into a question, keeping everything that is wrong with it.
class Reader {
  public:
    Reader(const Options& written, const Console& console) : written_(written), console_(console) {}

    Expected<husbandry::SunQuestion> read() {
        read_shade();
        read_place();
        const sky::Clock clock = read_clock();
        husbandry::SunQuestion question{site_, clock, read_date(clock), {}, {}, {}, {}};
        question.weather = read_weather();
        question.species = read_species();
        question.forecast = read_forecast(clock);
        if (written_.plan && !written_.json)
            problem("--plan", "no --json", "--plan with --json: it is a grid of numbers");
        if (written_.plan && written_.shade.empty())
            problem("--plan", "no --shade", "--plan with --shade ENC: the floor that is wanted");
        question.plan = written_.plan;
        question.shade = std::move(shade_);
        if (!problems_.empty()) return tl::unexpected(problems_);
        return question;
    }

  private:
    void problem(const std::string& option, std::string found, std::string allowed) {
        problems_.push_back({"", option, std::move(found), std::move(allowed)});
    }
    void add(const Problems& more) { problems_.insert(problems_.end(), more.begin(), more.end()); }

    const scene::Outdoors* outdoors() const {
        return shade_ && shade_->outdoors ? &*shade_->outdoors : nullptr;
    }

    std::optional<double> number(const std::string& option, const std::string& text, double least,
                                 double most, const std::string& of) {
        if (text.empty()) return std::nullopt;
        const std::string allowed = fmt::format("{} from {:g} to {:g}", of, least, most);
        const auto value = read_number(text, option, allowed);
        if (value && *value >= least && *value <= most) return *value;
        problem(option, "\"" + text + "\"", allowed);
        return std::nullopt;
    }

    void read_shade() {
        if (written_.shade.empty()) return;
        auto enclosure = read_enclosure(written_.shade, console_.in);
        if (!enclosure) return add(enclosure.error());
        shade_ = std::move(*enclosure);
    }

    double coordinate(const std::string& option, const std::string& text, double limit, const std::string& of,
                      double scene::Outdoors::*known) {
        if (text.empty() && outdoors() != nullptr) return outdoors()->*known;
        if (text.empty()) {
            problem(option, "nothing", fmt::format("{} from {:g} to {:g} (required)", of, -limit, limit));
            return 0;
        }
        return number(option, text, -limit, limit, of).value_or(0);
    }

    void read_place() {
        site_.lat_deg = coordinate("--lat", written_.lat, 90, "degrees north", &scene::Outdoors::lat_deg);
        site_.lon_deg = coordinate("--lon", written_.lon, 180, "degrees east", &scene::Outdoors::lon_deg);
        const double known = outdoors() != nullptr ? outdoors()->elevation_m.value_or(0) : 0;
        site_.elevation_m =
            number("--elevation-m", written_.elevation_m, -500, 6000, "metres above the sea").value_or(known);
    }

    sky::Clock read_clock() {
        Problem where{"", "--time-zone", "", ""};
        std::string zone = written_.time_zone;
        if (zone.empty() && outdoors() != nullptr && !outdoors()->time_zone.empty()) {
            zone = outdoors()->time_zone;
            where = {written_.shade, "/outdoors/time_zone", "", ""};
        }
        if (!zone.empty()) {
            const auto clock = sky::Clock::named(zone, where);
            if (clock) return *clock;
            add(clock.error());
        }
        return sky::Clock::by_longitude(site_.lon_deg);
    }

    date::year_month_day read_date(const sky::Clock& clock) {
        const auto now = date::floor<std::chrono::seconds>(std::chrono::system_clock::now());
        if (written_.date.empty()) return clock.day_of(now);
        if (const auto day = sky::read_day(written_.date)) return *day;
        problem("--date", "\"" + written_.date + "\"", sky::day_allowed);
        return clock.day_of(now);
    }

    sky::Weather read_weather() {
        sky::Weather weather;
        weather.ozone_du = number("--ozone-du", written_.ozone_du, 50, 700, "Dobson units");
        weather.cloud =
            number("--cloud", written_.cloud, 0, 1, "the share of the sky that cloud covers,").value_or(0);
        const auto known = outdoors() != nullptr ? outdoors()->albedo : std::nullopt;
        weather.albedo =
            number("--albedo", written_.albedo, 0, 1, "the share of UV that the ground reflects,")
                .value_or(known.value_or(weather.albedo));
        return weather;
    }

    std::optional<husbandry::Species> read_species() {
        if (written_.species.empty()) return std::nullopt;
        if (const auto* listed = husbandry::find_species(written_.species)) return *listed;
        auto found = husbandry::search_species(written_.species, 1);
        if (!found.empty()) return found.front();
        problem("--species", "\"" + written_.species + "\"", "a species; dapple species WORDS finds them");
        return std::nullopt;
    }

    Expected<std::string> forecast_text() {
        if (!written_.forecast_url.empty()) return fetch_forecast(written_.forecast_url);
        if (written_.forecast == "-") return std::string(std::istreambuf_iterator<char>(console_.in), {});
        return read_file(written_.forecast, "a forecast, CSV or JSON");
    }

    std::optional<sky::Forecast> read_forecast(const sky::Clock& clock) {
        if (written_.forecast.empty() && written_.forecast_url.empty()) return std::nullopt;
        if (!written_.forecast.empty() && !written_.forecast_url.empty()) {
            problem("--forecast-url", "a second forecast", "--forecast or --forecast-url");
            return std::nullopt;
        }
        const auto text = forecast_text();
        if (!text) {
            add(text.error());
            return std::nullopt;
        }
        const std::string file = !written_.forecast_url.empty() ? written_.forecast_url
                                 : written_.forecast == "-"     ? "standard input"
                                                                : written_.forecast;
        auto forecast = sky::parse_forecast(*text, file, clock);
        if (forecast) return *std::move(forecast);
        add(forecast.error());
        return std::nullopt;
    }

    const Options& written_;
    const Console& console_;
    std::optional<scene::Enclosure> shade_;
    sky::Site site_{};
    Problems problems_;
};

int answer(const Options& options, const Console& console) {
    auto question = Reader(options, console).read();
    if (!question) return console.refuse(question.error());
    const auto report = husbandry::sun_report(std::move(*question));
    if (!report) return console.refuse(report.error());
    if (options.json) return console.print(husbandry::to_json(*report));
    std::istringstream lines(husbandry::to_text(*report));
    for (std::string line; std::getline(lines, line);) {
        if (line.size() > 100) {
            console.out << wrapped(line, 96, "");
        } else {
            console.out << line << '\n';
        }
    }
    return done;
}

}  // namespace

Command sun_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand(
        "sun", "The sun's day: UV index by the hour, and when it is in an animal's band");
    app->add_option("--lat", options->lat, "Latitude, degrees north; else where ENC stands");
    app->add_option("--lon", options->lon, "Longitude, degrees east; else where ENC stands");
    app->add_option("--date", options->date, "The day, YYYY-MM-DD (today)");
    app->add_option("--elevation-m", options->elevation_m, "Height above the sea (0)");
    app->add_option("--ozone-du", options->ozone_du, "Ozone column, Dobson units (a climatology's)");
    app->add_option("--cloud", options->cloud, "Share of the sky that cloud covers, 0 to 1 (0)");
    app->add_option("--albedo", options->albedo,
                    "Share of UV that the ground reflects: grass 0.05, sand 0.15, snow 0.8");
    app->add_option("--shade", options->shade,
                    "An enclosure's document: sun and sky through its mesh, glass, leaves");
    app->add_option("--species", options->species, "Whose band; else that of the first animal of ENC");
    app->add_option("--time-zone", options->time_zone,
                    "IANA name, such as Europe/Vienna; else whole hours by longitude");
    app->add_option("--forecast", options->forecast,
                    "A forecast that replaces the model: CSV with time,uvi, or JSON");
    app->add_option("--forecast-url", options->forecast_url,
                    "The same from an http or https address; without it nothing is fetched");
    app->add_flag("--plan", options->plan,
                  "With --shade and --json: sun and shadow over the floor at back height through the day");
    app->add_flag("--json", options->json, "Answer in JSON");
    return {app, [options](const Console& console) { return answer(*options, console); }};
}

}  // namespace dapple::cli
