// Moving house: exports a person can read, and imports with a preview.
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "record/csv.h"
#include "record/exported.h"
#include "record/imported.h"
#include "record/on_both.h"
#include "record/people.h"
#include "record/zip.h"

namespace dapple::tests {

using nlohmann::json;
using record::Trouble;

namespace {

constexpr const char* table =
    "date,enclosure,spot,quantity,value,meter\n"
    "2026-02-14T10:05,north,bask,uvi,3.4,hand meter\n"
    "2026-02-14T10:05,North box,bask,uvi,3.6,hand meter\n"
    "2026-02-14T10:05,north,bask,uvi,3.4,hand meter 2\n"
    "2026-02-15,south,bask,uvi,0.9,\n";

void two_boxes(record::Store& store) {
    must(store.write(me, making("enclosure", {{"document", document("north", "North box")}})));
    must(store.write(me, making("enclosure", {{"document", document("south")}})));
    must(store.write(me, making("meter", {{"name", "Hand meter"}, {"measures", "uvi"}}, "m1")));
}

record::ImportPreview must_preview(record::Result<record::ImportPreview> result) {
    if (!result) throw std::runtime_error(words_of(result.error()));
    return std::move(*result);
}

}  // namespace

TEST(Csv, gives_back_any_cells) {
    const std::vector<std::string> cells = {"", "a,b", "say \"x\"", "two\nlines", " blank ", "é"};
    const auto read =
        record::parse_csv(record::csv_line(cells) + record::csv_line({"next", "", "", "", "", ""}));
    ASSERT_TRUE(read);
    ASSERT_EQ(read->size(), 2U);
    EXPECT_EQ(read->front(), cells);
    EXPECT_FALSE(record::parse_csv("a,\"b"));
}

TEST(Csv, writes_numbers_that_read_back_the_same) {
    for (const double value : {0.1, 1.0 / 3, 1e-300, 0.1 + 0.2, 5e20})
        EXPECT_EQ(std::stod(record::number_text(value)), value);
}

TEST(Zip, refuses_what_is_none_and_what_would_fill_the_memory) {
    EXPECT_FALSE(record::unzipped("PK but no zip", "letter"));
    const auto zip = record::zipped({{"big", std::string(1'000'000, 'x')}}, record::Moment{});
    ASSERT_TRUE(zip);
    EXPECT_LT(zip->size(), 10'000U);
    EXPECT_TRUE(record::unzipped(*zip, "z"));
    EXPECT_FALSE(record::unzipped(*zip, "z", 999'999));
}

TEST_P(OnBoth, a_table_of_readings_is_previewed_then_brought_in_and_never_twice) {
    two_boxes(*store);
    const auto preview = must_preview(record::preview_readings(*store, "home", table, "book.csv"));
    EXPECT_TRUE(preview.faults.empty()) << to_text(preview);
    EXPECT_EQ(preview.would_add.at("reading"), 4);
    EXPECT_EQ(preview.enclosures, (std::vector<std::string>{"north", "south"}));
    EXPECT_EQ(preview.first, "2026-02-14");
    EXPECT_EQ(preview.last, "2026-02-15");
    EXPECT_TRUE(store->list({.kind = "reading"})->things.empty()) << "a preview changes nothing";

    EXPECT_EQ(*record::apply(*store, me, preview), 4);
    const auto readings = store->list({.kind = "reading", .equal = {{"enclosure", "north"}}})->things;
    ASSERT_EQ(readings.size(), 3U);
    EXPECT_EQ(std::count_if(readings.begin(), readings.end(),
                            [](const auto& r) { return r.fields.value("meter", "") == "m1"; }),
              2);

    const auto again = must_preview(record::preview_readings(*store, "home", table, "book.csv"));
    EXPECT_EQ(again.there.at("reading"), 4);
    EXPECT_TRUE(again.writes.empty());
    EXPECT_EQ(*record::apply(*store, me, again), 0);
    EXPECT_EQ(store->list({.kind = "reading"})->things.size(), 4U);
}

TEST_P(OnBoth, a_table_with_a_fault_brings_nothing_and_names_line_and_remedy) {
    two_boxes(*store);
    const auto preview = must_preview(record::preview_readings(
        *store, "home", "date,enclosure,spot,value\n2026-02-14,nort,bask,3.4\n2026-02-14,south,bask,much\n",
        "book.csv"));
    ASSERT_FALSE(preview.faults.empty());
    EXPECT_NE(to_text(preview.faults).find("did you mean north?"), std::string::npos)
        << to_text(preview.faults);
    EXPECT_TRUE(preview.writes.empty());
    const auto refused = record::apply(*store, me, preview);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().trouble, Trouble::invalid);
}

TEST_P(OnBoth, local_times_are_those_of_the_site) {
    const auto site = *store->find("site", "home");
    must(store->write(me, changing(site, {{"name", "Home"}, {"time_zone", "Europe/Paris"}})));
    two_boxes(*store);
    ASSERT_TRUE(
        record::apply(*store, me, must_preview(record::preview_readings(*store, "home", table, "book.csv"))));
    const auto newest = store->list({.kind = "reading"})->things;
    EXPECT_EQ(newest.front().fields["taken_at"], "2026-02-15T11:00:00.000Z");  // a day alone: its noon
    EXPECT_EQ(newest.back().fields["taken_at"], "2026-02-14T09:05:00.000Z");
}

TEST_P(OnBoth, an_export_can_be_read_by_a_person_and_makes_the_collection_anew) {
    two_boxes(*store);
    ASSERT_TRUE(
        record::apply(*store, me, must_preview(record::preview_readings(*store, "home", table, "book.csv"))));
    must(store->write(
        me,
        making("lamp", {{"name", "Tube, \"the long one\"\nnorth"}, {"enclosure", "north"}, {"power_w", 0.1}},
               "l1")));
    auto retired = making("lamp", {{"name", "Old"}}, "l0");
    must(store->write(me, retired));
    retired.deed = record::Deed::retire;
    retired.seen = 1;
    must(store->write(me, retired));
    must(record::make_first_account(*store, {"Somebody", "some@where", "a long password"}, ""));

    const auto bytes = record::export_bytes(*store);
    ASSERT_TRUE(bytes) << words_of(bytes.error());
    const auto files = record::unzipped(*bytes, "export.zip");
    ASSERT_TRUE(files) << to_text(files.error());
    EXPECT_EQ(json::parse(files->at("enclosures/north.json")), document("north", "North box"));
    EXPECT_NE(files->at("README.txt").find("true value = reading x factor"), std::string::npos);
    EXPECT_EQ(record::parse_csv(files->at("readings.csv"))->size(), 5U);
    EXPECT_GT(record::parse_csv(files->at("trail.csv"))->size(), 10U);
    for (const auto& [name, text] : *files) EXPECT_EQ(text.find("$argon2"), std::string::npos) << name;

    const auto fresh = open(new_database());
    const auto preview = must_preview(record::preview_zip(*fresh, *bytes, "export.zip"));
    EXPECT_TRUE(preview.faults.empty()) << to_text(preview);
    EXPECT_EQ(preview.would_add.at("reading"), 4);
    const auto added = record::apply(*fresh, me, preview);
    ASSERT_TRUE(added) << words_of(added.error());
    for (const char* kind : {"site", "enclosure", "lamp", "meter", "reading"}) {
        const auto here = store->list({.kind = kind, .retired = true})->things;
        const auto there = fresh->list({.kind = kind, .retired = true})->things;
        ASSERT_EQ(here.size(), there.size()) << kind;
        for (std::size_t i = 0; i < here.size(); ++i) {
            EXPECT_EQ(here[i].id, there[i].id);
            EXPECT_EQ(here[i].fields, there[i].fields);
            EXPECT_EQ(here[i].retired_at.has_value(), there[i].retired_at.has_value());
        }
    }
    EXPECT_TRUE(must_preview(record::preview_zip(*fresh, *bytes, "export.zip")).writes.empty())
        << "all there now";
}

TEST_P(OnBoth, an_export_of_one_site_holds_nothing_of_another) {
    two_boxes(*store);
    must(store->write(me, making("site", {{"name", "Away"}}, "away", "")));
    must(store->write(me, making("room", {{"name", "Secret room"}}, "", "away")));
    const auto files = record::unzipped(*record::export_bytes(*store, {"home"}), "zip");
    for (const auto& [name, text] : *files) {
        EXPECT_EQ(text.find("Secret"), std::string::npos) << name;
        EXPECT_EQ(text.find("Away"), std::string::npos) << name;
    }
    EXPECT_FALSE(record::export_bytes(*store, {"nowhere"}));
}

}  // namespace dapple::tests
