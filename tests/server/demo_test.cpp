// The demo collection tells its stories: what was planted in them is what the program finds.
#include "server/demo.h"

#include <gtest/gtest.h>
#include <stdlib.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <map>
#include <set>

#include "husbandry/verdict.h"
#include "inference/fit_judge.h"
#include "inference/life.h"
#include "inference/readings_repeats.h"
#include "record/collection.h"
#include "record/deeds.h"
#include "record/due.h"
#include "scene/document.h"

namespace dapple::server {
namespace {

using nlohmann::json;

const inference::Day today = *inference::day_of("2026-03-20");

std::string words_of(const record::Refusal& refusal) {
    return std::string(record::name(refusal.trouble)) + ": " + to_text(refusal.problems);
}

// A record in a folder of its own, gone at the end.
class Filled {
  public:
    explicit Filled(inference::Day day) {
        std::string folder = (std::filesystem::temp_directory_path() / "dapple demo XXXXXX").string();
        if (mkdtemp(folder.data()) == nullptr) throw std::runtime_error("no temporary folder");
        folder_ = folder;
        record::StoreOptions options;
        options.database = (folder_ / "record.sqlite").string();
        auto opened = record::Store::open(options);
        if (!opened) throw std::runtime_error(words_of(opened.error()));
        store_ = std::move(*opened);
        const auto start = std::chrono::steady_clock::now();
        const auto filled = fill_demo(*store_, day);
        seconds_ = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        if (!filled) throw std::runtime_error(words_of(filled.error()));
    }
    ~Filled() {
        store_.reset();
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    Filled(const Filled&) = delete;
    Filled& operator=(const Filled&) = delete;

    record::Store& store() const { return *store_; }
    double seconds() const { return seconds_; }

    std::vector<record::Thing> all(const std::string& kind) const {
        std::vector<record::Thing> things;
        record::Query query{.kind = kind, .retired = true};
        do {
            const auto page = store_->list(query);
            if (!page) throw std::runtime_error(words_of(page.error()));
            things.insert(things.end(), page->things.begin(), page->things.end());
            query.after = page->next;
        } while (!query.after.empty());
        return things;
    }

    scene::Enclosure enclosure(const std::string& id) const {
        const auto thing = store_->find("enclosure", id);
        if (!thing) throw std::runtime_error(words_of(thing.error()));
        return parsed(thing->fields["document"]);
    }

    // By the record's own files alone: the store was opened without a reader of others.
    scene::Enclosure parsed(const json& document) const {
        scene::ReadOptions options;
        options.read_file = [this](const std::string& name) -> std::optional<std::string> {
            const auto kept = store_->list({.kind = "file", .equal = {{"name", name}}});
            if (!kept || kept->things.empty()) return std::nullopt;
            return kept->things.front().fields["text"].get<std::string>();
        };
        const auto enclosure = scene::parse_enclosure(document.dump(), options);
        if (!enclosure) throw std::runtime_error(to_text(enclosure.error()));
        return *enclosure;
    }

    // The readings of light of an enclosure's last survey, as a fit takes them.
    std::vector<inference::Reading> last_survey(const scene::Enclosure& enclosure) const {
        const auto surveys = store_->list({.kind = "survey", .equal = {{"enclosure", enclosure.id}}});
        const auto values = store_->list(
            {.kind = "reading", .equal = {{"survey", surveys->things.front().id}, {"quantity", "uvi"}}});
        const auto animals = husbandry::resolve_animals(enclosure);
        std::map<std::string, inference::Reading> sets;
        for (const record::Thing& one : values->things) {
            const json& fields = one.fields;
            const std::string spot = fields.value("spot", "");
            const std::string where =
                spot.empty() ? fields["x_cm"].dump() + fields["y_cm"].dump() + fields["z_cm"].dump() : spot;
            inference::Reading& set = sets[where];
            set.where = where;
            set.spot = spot;
            set.quantity = spectrum::Quantity::uvi;
            set.meter = fields["meter"];
            if (spot.empty()) {
                set.point = scene::Vec3(fields["x_cm"], fields["y_cm"], fields["z_cm"]) / 100;
            } else {
                const auto place = std::find_if(enclosure.spots.begin(), enclosure.spots.end(),
                                                [&](const scene::Place& s) { return s.id == spot; });
                set.point = husbandry::reading_point(*place, *animals);
            }
            set.values.push_back(fields["value"].get<double>() * 1.03);  // by the meter's calibration
        }
        std::vector<inference::Reading> readings;
        for (auto& [where, set] : sets) {
            const auto robust = inference::summarise(set.values);
            set.value = robust.value;
            set.scatter = robust.scatter;
            readings.push_back(std::move(set));
        }
        return readings;
    }

  private:
    std::filesystem::path folder_;
    std::unique_ptr<record::Store> store_;
    double seconds_ = 0;
};

const Filled& demo() {
    static const Filled filled(today);
    return filled;
}

husbandry::AnimalJudgement judged(const std::string& id) {
    const auto judgement = husbandry::judge(demo().enclosure(id));
    if (!judgement) throw std::runtime_error(to_text(judgement.error()));
    return judgement->animals.at(0);
}

husbandry::AnimalJudgement judged_by_readings(const std::string& id) {
    const scene::Enclosure enclosure = demo().enclosure(id);
    const auto judgement = inference::judge_fitted(inference::fit(enclosure, demo().last_survey(enclosure)));
    if (!judgement) throw std::runtime_error(to_text(judgement.error()));
    return judgement->animals.at(0);
}

std::set<std::string> failing(const husbandry::Verdict& verdict) {
    std::set<std::string> names;
    const auto look = [&](const char* name, const husbandry::Part& part) {
        if (part.holds == false) names.insert(name);
    };
    look("basking", verdict.basking);
    look("retreat", verdict.retreat);
    look("ceiling", verdict.ceiling);
    look("gradient", verdict.gradient);
    look("together", verdict.together);
    return names;
}

record::LampForecast forecast(const std::string& lamp) {
    record::LampLives lives;
    const auto found = lives.of_lamp(demo().store(), lamp, today);
    if (!found) throw std::runtime_error(words_of(found.error()));
    return *found;
}

// Every kind's things without what the record adds: ids it made itself, revisions, moments of writing.
std::map<std::string, std::multiset<std::string>> told_by(const Filled& filled) {
    std::map<std::string, std::multiset<std::string>> result;
    for (const record::Kind& kind : record::kinds()) {
        for (const record::Thing& thing : filled.all(std::string(kind.name))) {
            if (thing.id == record::local_person) continue;
            result[std::string(kind.name)].insert(thing.fields.dump());
        }
    }
    return result;
}

TEST(TheDemo, fills_every_kind_of_thing_that_needs_no_people) {
    for (const record::Kind& kind : record::kinds()) {
        if (kind.name == "person" || kind.name == "membership") continue;
        EXPECT_FALSE(demo().all(std::string(kind.name)).empty()) << kind.name;
    }
    RecordProperty("readings", static_cast<int>(demo().all("reading").size()));
    RecordProperty("seconds", std::to_string(demo().seconds()));
}

TEST(TheDemo, is_judged_enclosure_by_enclosure_or_says_why_not) {
    const auto enclosures = demo().all("enclosure");
    EXPECT_GE(enclosures.size(), 14U);
    for (const record::Thing& one : enclosures) {
        const auto judgement = husbandry::judge(demo().enclosure(one.id));
        ASSERT_TRUE(judgement) << one.id << ": " << to_text(judgement.error());
        if (judgement->animals.empty()) {
            EXPECT_NE(husbandry::to_text(*judgement).find("No animal lives here"), std::string::npos)
                << one.id;
        }
        for (const auto& animal : judgement->animals) {
            EXPECT_TRUE(animal.verdict.overall.holds) << one.id;
            EXPECT_FALSE(animal.verdict.overall.why.empty()) << one.id;
        }
    }
}

TEST(TheDemo, keeps_the_animals_that_its_documents_name) {
    std::map<std::string, std::map<std::string, int>> kept;
    for (const record::Thing& animal : demo().all("animal")) {
        if (!animal.fields.contains("enclosure")) continue;
        kept[animal.fields["enclosure"]][animal.fields["species"]] += animal.fields.value("count", 1);
    }
    for (const record::Thing& one : demo().all("enclosure")) {
        std::map<std::string, int> named;
        for (const scene::Animal& animal : demo().enclosure(one.id).animals)
            named[animal.species] += animal.count;
        EXPECT_EQ(kept[one.id], named) << one.id;
    }
}

TEST(TheDemo, has_every_kind_of_work_due) {
    record::LampLives lives;
    const auto due = record::due_list(demo().store(), lives, {"mill"}, today);
    ASSERT_TRUE(due) << words_of(due.error());
    std::set<std::string> things;
    std::set<record::DueKind> kinds;
    for (const record::Due& one : *due) {
        kinds.insert(one.kind);
        things.insert(one.thing);
    }
    EXPECT_EQ(kinds.size(), 4U);
    for (const char* thing : {"ledge-tube-2", "uv-meter", "coarser-lid", "moss-bank"}) {
        EXPECT_TRUE(things.contains(thing)) << thing;
    }
    EXPECT_FALSE(things.contains("thermometer")) << "it was calibrated half a year ago, for two years";
    EXPECT_FALSE(things.contains("heath-replaced")) << "it is done";
}

TEST(TheAgedLampOfTheDemo, leaves_the_band_about_now_and_its_interval_says_how_surely) {
    const record::LampForecast found = forecast("ledge-tube-2");
    ASSERT_TRUE(found.life) << (found.notes.empty() ? "" : found.notes.front());
    const inference::Leaving* leaving = found.life->leaving();
    ASSERT_NE(leaving, nullptr);
    ASSERT_TRUE(leaving->date && leaving->early && leaving->late);
    EXPECT_LE(std::abs(inference::days_between(today, *leaving->date)), 60);
    EXPECT_LT(*leaving->early, *leaving->date);
    EXPECT_LT(*leaving->date, *leaving->late);
    EXPECT_FALSE(leaving->beyond_limit);
    EXPECT_FALSE(leaving->from_start);
    // The story's truth.
    EXPECT_LT(found.life->alpha_interval.first, 0.112);
    EXPECT_GT(found.life->alpha_interval.second, 0.112);
    EXPECT_EQ(*record::lamp_hours(demo().store(), "ledge-tube-2", inference::to_text(today)), 376 * 12);
    EXPECT_FALSE(demo().store().find("lamp", "ledge-tube-3")->fields.contains("enclosure")) << "in store";
    // New, it was all right: only its age is wrong.
    EXPECT_EQ(failing(judged("red-ledge").verdict), std::set<std::string>{});
}

TEST(TheHealthyEnclosureOfTheDemo, holds_by_its_document_and_by_its_readings) {
    EXPECT_EQ(judged("river-thicket").verdict.overall.holds, true);
    const husbandry::Verdict verdict = judged_by_readings("river-thicket").verdict;
    EXPECT_EQ(failing(verdict), std::set<std::string>{}) << verdict.overall.why;
    EXPECT_GT(verdict.basking.probability.value_or(0), 0.95);
}

TEST(TheEnclosureOfTheDemoWithTwoSuns, has_its_warmth_and_its_ultraviolet_apart) {
    EXPECT_EQ(failing(judged("south-wall").verdict), std::set<std::string>{"together"});
    EXPECT_EQ(failing(judged_by_readings("south-wall").verdict), std::set<std::string>{"together"});
}

TEST(TheEnclosureOfTheDemoUnderAFlyScreen, gets_too_little_until_its_task_is_done) {
    EXPECT_EQ(failing(judged("vine-trellis").verdict), std::set<std::string>{"basking"});
    EXPECT_TRUE(failing(judged_by_readings("vine-trellis").verdict).contains("basking"));
    const auto task = demo().store().find("task", "coarser-lid");
    ASSERT_TRUE(task);
    EXPECT_FALSE(task->fields.contains("done_on"));
    const auto after = husbandry::judge(demo().parsed(task->fields["fix"]));
    ASSERT_TRUE(after) << to_text(after.error());
    EXPECT_EQ(failing(after->animals.at(0).verdict), std::set<std::string>{});
}

TEST(TheUnlistedSpeciesOfTheDemo, is_an_estimate) {
    const husbandry::AnimalJudgement animal = judged("scree-slope");
    EXPECT_TRUE(animal.species.estimate);
    EXPECT_TRUE(animal.band);
    EXPECT_EQ(failing(animal.verdict), std::set<std::string>{});
}

TEST(TheLeafOfTheDemo, is_found_among_the_readings_and_nothing_else_is) {
    const scene::Enclosure enclosure = demo().enclosure("cloud-oak");
    const auto readings = demo().last_survey(enclosure);
    const inference::Fit fit = inference::fit(enclosure, readings);
    ASSERT_EQ(fit.set_aside.size(), 1U);
    EXPECT_EQ(readings[fit.set_aside.front().index].spot, "bough-end");
}

TEST(TheDemo, is_told_the_same_way_again) {
    EXPECT_EQ(told_by(demo()), told_by(Filled(today)));
}

TEST(TheDemo, moves_with_the_day) {
    const Filled later(today + std::chrono::days(200));
    EXPECT_EQ(later.all("reading").size(), demo().all("reading").size());
    const auto newest = later.store().list({.kind = "survey", .limit = 1});
    EXPECT_EQ(newest->things.front().fields["begun_at"].get<std::string>().substr(0, 10),
              inference::to_text(today + std::chrono::days(196)));
}

TEST(TheDemo, is_not_poured_into_a_record_that_has_it_already) {
    const Filled once(today);
    const auto twice = fill_demo(once.store(), today);
    ASSERT_FALSE(twice);
    EXPECT_EQ(twice.error().trouble, record::Trouble::taken);
    EXPECT_EQ(once.all("reading").size(), demo().all("reading").size()) << "all or nothing";
}

}  // namespace
}  // namespace dapple::server
