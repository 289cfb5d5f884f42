// Drawn by poppler, read by ZBar.
#include "paper/labels.h"

#include <gtest/gtest.h>

#include <set>

#include "paper/collection.h"

namespace dapple::paper {

namespace {

using tests::Folder;
using tests::moment;
using tests::run;

LabelOptions options_for(const std::string& url) {
    LabelOptions options;
    options.now = moment("2026-06-01T09:00:00Z");
    options.public_url = url;
    return options;
}

std::set<std::string> codes_on(const std::string& pdf) {
    const Folder folder;
    const std::string file = folder.file("labels.pdf", pdf);
    EXPECT_EQ(run("pdftoppm -r 200 -gray -png '" + file + "' '" + folder.file("page") + "'").status, 0);
    std::istringstream lines(run("zbarimg --quiet --raw --nodbus -Sdisable -Sqrcode.enable '" +
                                 folder.file("page") + "'*.png 2>/dev/null")
                                 .output);
    std::set<std::string> codes;
    for (std::string line; std::getline(lines, line);) codes.insert(line);
    return codes;
}

std::vector<Label> labels(int count) {
    std::vector<Label> all;
    for (int i = 0; i < count; ++i) {
        all.push_back({fmt::format("pen-{}", i), fmt::format("Pen number {}", i), "Room one",
                       fmt::format("https://reptiles.example.org/survey/pen-{}", i)});
    }
    return all;
}

}  // namespace

TEST(Labels, every_code_on_every_sheet_opens_its_enclosures_survey) {
    for (const Paper paper : {Paper::a4, Paper::letter}) {
        LabelOptions options = options_for("");
        options.paper = paper;
        const auto pdf = labels_pdf(labels(25), options);
        ASSERT_TRUE(pdf);
        std::set<std::string> expected;
        for (const Label& label : labels(25)) expected.insert(label.link);
        EXPECT_EQ(codes_on(*pdf), expected);
    }
}

TEST(Labels, of_a_record_say_name_room_and_id_in_words) {
    tests::Collection collection;
    const auto room = collection.add("room", {{"name", "South room"}});
    collection.add_enclosure("dry-wall", {{"room", room.id}});
    collection.add_enclosure("fern-gully");
    const auto pdf = labels_pdf(collection.store(), options_for("https://reptiles.example.org/"));
    ASSERT_TRUE(pdf);
    EXPECT_EQ(codes_on(*pdf), (std::set<std::string>{"https://reptiles.example.org/survey/dry-wall",
                                                     "https://reptiles.example.org/survey/fern-gully"}));
    const Folder folder;
    const std::string file = folder.file("labels.pdf", *pdf);
    EXPECT_EQ(run("qpdf --check '" + file + "'").status, 0);
    const std::string words = run("pdftotext '" + file + "' -").output;
    for (const char* word : {"dry-wall", "South room", "fern-gully", "Agamas"})
        EXPECT_NE(words.find(word), std::string::npos) << word;
}

TEST(Labels, so_small_that_no_phone_reads_them_are_refused) {
    LabelOptions options = options_for("");
    options.rows = 30;
    options.columns = 12;
    const auto refused = labels_pdf(labels(3), options);
    ASSERT_FALSE(refused);
    EXPECT_NE(to_text(refused.error()).find("0.35 mm"), std::string::npos);
}

TEST(Labels, an_address_that_is_none_is_refused) {
    tests::Collection collection;
    collection.add_enclosure("dry-wall");
    for (const char* url : {"", "reptiles.example.org", "javascript:alert(1)", "https://", "https://a b"})
        EXPECT_FALSE(labels_pdf(collection.store(), options_for(url))) << url;
}

}  // namespace dapple::paper
