#include "server/sun.h"

#include <nlohmann/json.hpp>

#include "husbandry/sun_report.h"
#include "server/answers.h"
#include "server/documents.h"
#include "server/me.h"
#include "server/numbers.h"
#include "server/question.h"
#include "server/writing.h"

namespace dapple::server {

using nlohmann::json;

namespace {

constexpr int least_step = 1;  // min
constexpr int most_step = 120;

// Turns the body into a question, keeping everything that is wrong with it.
class Reader {
  public:
    Reader(const Asked& asked, const json& body) : asked_(asked), body_(body) {}

    Expected<husbandry::SunQuestion> read() {
        read_shade();
        read_place();
        const sky::Clock clock = read_clock();
        husbandry::SunQuestion question{site_, clock, read_date(clock), {}, {}, {}, {}};
        question.weather = read_weather();
        question.species = read_species();
        question.forecast = read_forecast(clock);
        question.step = std::chrono::minutes(
            static_cast<int>(number("step_minutes", least_step, most_step).value_or(10)));
        question.plan = read_plan();
        question.shade = std::move(shade_);
        if (!problems_.empty()) return tl::unexpected(problems_);
        return question;
    }

  private:
    void problem(const std::string& name, const std::string& allowed) {
        problems_.push_back({"request", "/" + name, shown(body_.value(name, json())), allowed});
    }
    void add(const Problems& more) { problems_.insert(problems_.end(), more.begin(), more.end()); }

    std::optional<double> number(const std::string& name, double least, double most) {
        const auto value = number_of(body_, name, least, most);
        if (value) return *value;
        add(value.error());
        return std::nullopt;
    }

    const scene::Outdoors* outdoors() const {
        return shade_ && shade_->outdoors ? &*shade_->outdoors : nullptr;
    }

    void read_shade() {
        const json document = body_.value("shade", json());
        if (document.is_null()) return;
        const json id = document.is_object() ? document.value("id", json()) : json();
        const auto thing = id.is_string() ? asked_.service.store->find("enclosure", id.get<std::string>())
                                          : record::Result<record::Thing>(tl::unexpected(record::Refusal{}));
        const std::string site = thing && may_see(asked_, *thing) ? thing->site : std::string();
        auto enclosure = scene::parse_enclosure(document.dump(-1, ' ', false, json::error_handler_t::replace),
                                                reading_of(*asked_.service.store, site, "shade"));
        if (!enclosure) return add(enclosure.error());
        shade_ = *std::move(enclosure);
    }

    double coordinate(const std::string& name, double limit, double scene::Outdoors::*known) {
        const auto value = number(name, -limit, limit);
        if (value) return *value;
        if (outdoors() != nullptr) return outdoors()->*known;
        if (!body_.contains(name))
            problem(name, "degrees; needed unless the shade's document stands outdoors");
        return 0;
    }

    void read_place() {
        site_.lat_deg = coordinate("lat_deg", 90, &scene::Outdoors::lat_deg);
        site_.lon_deg = coordinate("lon_deg", 180, &scene::Outdoors::lon_deg);
        const double known = outdoors() != nullptr ? outdoors()->elevation_m.value_or(0) : 0;
        site_.elevation_m = number("elevation_m", -500, 6000).value_or(known);
    }

    sky::Clock read_clock() {
        std::string zone = text_in(body_, "time_zone");
        if (zone.empty() && outdoors() != nullptr) zone = outdoors()->time_zone;
        if (!zone.empty()) {
            const auto clock = sky::Clock::named(zone, {"request", "/time_zone", "", ""});
            if (clock) return *clock;
            add(clock.error());
        }
        return sky::Clock::by_longitude(site_.lon_deg);
    }

    date::year_month_day read_date(const sky::Clock& clock) {
        const auto now = date::floor<std::chrono::seconds>(asked_.service.store->options().clock());
        if (!body_.contains("date")) return clock.day_of(now);
        if (const auto day = sky::read_day(text_in(body_, "date"))) return *day;
        problem("date", sky::day_allowed);
        return clock.day_of(now);
    }

    sky::Weather read_weather() {
        sky::Weather weather;
        weather.ozone_du = number("ozone_du", 50, 700);
        weather.cloud = number("cloud", 0, 1).value_or(0);
        const auto known = outdoors() != nullptr ? outdoors()->albedo : std::nullopt;
        weather.albedo = number("albedo", 0, 1).value_or(known.value_or(weather.albedo));
        return weather;
    }

    std::optional<husbandry::Species> read_species() {
        if (!body_.contains("species")) return std::nullopt;
        const std::string name = text_in(body_, "species");
        if (const auto* listed = husbandry::find_species(name)) return *listed;
        auto found = husbandry::search_species(name, 1);
        if (!name.empty() && !found.empty()) return found.front();
        problem("species", "the id of a species sheet (/api/species)");
        return std::nullopt;
    }

    std::optional<sky::Forecast> read_forecast(const sky::Clock& clock) {
        if (!body_.contains("forecast")) return std::nullopt;
        auto forecast = sky::parse_forecast(text_in(body_, "forecast"), "forecast", clock);
        if (forecast) return *std::move(forecast);
        add(forecast.error());
        return std::nullopt;
    }

    bool read_plan() {
        const json plan = body_.value("plan", json(false));
        if (plan.is_boolean()) return plan.get<bool>();
        problem("plan", "true or false");
        return false;
    }

    const Asked& asked_;
    const json& body_;
    std::optional<scene::Enclosure> shade_;
    sky::Site site_{};
    Problems problems_;
};

}  // namespace

Response sun(const Asked& asked, const Superseded&) {
    const auto body =
        body_of(asked.request, {"lat_deg", "lon_deg", "date", "time_zone", "elevation_m", "ozone_du", "cloud",
                                "albedo", "species", "shade", "forecast", "step_minutes", "plan"});
    if (!body) return body.error();
    auto question = Reader(asked, *body).read();
    if (!question) return unusable(question.error());
    const auto report = husbandry::sun_report(*std::move(question));
    return report ? json_answer(husbandry::to_json(*report)) : unusable(report.error());
}

}  // namespace dapple::server
