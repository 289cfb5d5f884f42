// What is printed is read back by poppler and QPDF.
#include "paper/report.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

#include "paper/book.h"
#include "paper/collection.h"

namespace dapple::paper {

namespace {

using tests::Folder;
using tests::moment;
using tests::run;

// A collection with everything a report tells of.
class Report : public testing::Test {
  protected:
    Report() {
        collection.add("person", {{"name", "Ada Marsh"}}, "ada");
        const auto room = collection.add("room", {{"name", "South room"}});
        collection.add_enclosure("dry-wall", {{"room", room.id}});
        collection.add_enclosure("fern-gully");
        collection.add("meter", {{"name", "Green meter"}, {"measures", "uvi"}, {"serial", "4711"}}, "m1");
        collection.add(
            "calibration",
            {{"meter", "m1"}, {"calibrated_on", "2026-02-01"}, {"factor", 1.1}, {"certificate", "C-17"}});
        collection.add("lamp",
                       {{"name", "Tube of December"},
                        {"lamp_kind", "fluorescent_tube"},
                        {"enclosure", "dry-wall"},
                        {"place", "uv"},
                        {"installed_on", "2025-12-01"},
                        {"hours_on", 11},
                        {"hours_before", 0}},
                       "tube");
        collection.add("task", {{"title", "Raise the flagstone 6 cm"},
                                {"enclosure", "dry-wall"},
                                {"done_on", "2026-05-02"},
                                {"outcome", "reads more now"}});
        collection.actor = "ada";
        for (const auto& [day, value] : std::map<std::string, double>{
                 {"2026-03-01", 3.2}, {"2026-04-01", 2.9}, {"2026-05-01", 2.4}, {"2026-05-30", 2.3}}) {
            for (const double more : {-0.1, 0.0, 0.1})
                collection.read("dry-wall", "wall-top", day + "T10:00:00Z", value + more, {{"meter", "m1"}});
        }
    }

    ReportOptions options() const {
        ReportOptions made;
        made.now = moment("2026-06-01T09:00:00Z");
        return made;
    }

    std::string printed(const ReportOptions& wanted) {
        const auto pdf = report_pdf(collection.store(), lives, wanted);
        EXPECT_TRUE(pdf);
        return folder.file("report.pdf", pdf ? *pdf : "");
    }

    static std::string words_of(const std::string& file, const std::string& how = "-layout") {
        return run("pdftotext " + how + " '" + file + "' -").output;
    }

    tests::Collection collection;
    record::LampLives lives;
    Folder folder;
};

int pages_of(const std::string& file) {
    std::smatch found;
    const std::string said = run("pdfinfo '" + file + "'").output;
    return std::regex_search(said, found, std::regex("Pages: +([0-9]+)")) ? std::stoi(found[1]) : 0;
}

// Every word lies within the margins (poppler's boxes, points).
void expect_within_margins(const std::string& file, double width, double height) {
    const std::string said = run("pdftotext -bbox '" + file + "' -").output;
    const std::regex word(
        "<word xMin=\"([-0-9.]+)\" yMin=\"([-0-9.]+)\" xMax=\"([-0-9.]+)\" yMax=\"([-0-9.]+)\">([^<]*)");
    int seen = 0;
    for (std::sregex_iterator it(said.begin(), said.end(), word), end; it != end; ++it, ++seen) {
        EXPECT_GE(std::stod((*it)[1]), 46) << (*it)[5];
        EXPECT_GE(std::stod((*it)[2]), 40) << (*it)[5];
        EXPECT_LE(std::stod((*it)[3]), width - 46) << (*it)[5];
        EXPECT_LE(std::stod((*it)[4]), height - 40) << (*it)[5];
    }
    EXPECT_GT(seen, 100);
}

DocumentWithReadings alone(const json& document) {
    scene::ReadOptions options;
    options.read_file = [](const std::string& name) -> std::optional<std::string> {
        return tests::text_of(std::string(DAPPLE_ROOT) + "/examples/" + name);
    };
    return {*scene::parse_enclosure(document.dump(), options), {}};
}

}  // namespace

TEST_F(Report, is_sound_tagged_and_says_which_page_of_how_many) {
    const std::string file = printed(options());
    EXPECT_EQ(run("qpdf --check '" + file + "' 2>&1").status, 0);
    const std::string info = run("pdfinfo '" + file + "'").output;
    EXPECT_NE(info.find("Tagged:          yes"), std::string::npos) << info;
    EXPECT_NE(info.find("Light report, Hill House, 2026-06-01"), std::string::npos) << info;
    EXPECT_NE(info.find("(A4)"), std::string::npos) << info;
    const int pages = pages_of(file);
    ASSERT_GE(pages, 4);
    for (int page = 1; page <= pages; ++page) {
        const std::string which = std::to_string(page);
        const std::string words = words_of(file, "-f " + which + " -l " + which);
        EXPECT_NE(words.find("page " + which + " of " + std::to_string(pages)), std::string::npos) << words;
        EXPECT_NE(words.find("2026-06-01"), std::string::npos);
        EXPECT_NE(words.find("Dapple " DAPPLE_VERSION), std::string::npos);
    }
    const std::string structure = run("pdfinfo -struct '" + file + "' 2>/dev/null").output;
    for (const char* tag : {"Document", "H1", "H2", "P", "Table", "TR", "TH", "TD", "Figure", "LI"})
        EXPECT_NE(structure.find(tag), std::string::npos) << tag;
}

TEST_F(Report, tells_everything_it_knows) {
    const std::string words = words_of(printed(options()), "");
    for (const char* word :
         {"Agamas and skinks, dry-stone wall", "South room", "Tube of December", "Raise the flagstone 6 cm",
          "reads more now", "Green meter", "4711", "C-17", "Ada Marsh", "Laudakia stellio", "Ferguson",
          "90 %", "Never look into a lamp", "reptile vet", "licensed electrician", "Top of the wall"})
        EXPECT_NE(words.find(word), std::string::npos) << word;
    // 182 days of 11 hours from the first of December to the first of June.
    EXPECT_NE(words.find("2002"), std::string::npos);
}

// The meter's factor is 1.1 from February: read as 3.2, 2.9, 2.4, 2.3 it is 3.52, 3.19, 2.64, 2.53. The stellion
// lies between zones 3 and 4, whose lower one has the band from 2.9 (Ferguson et al. 2010): out since the first of May.
TEST_F(Report, readings_are_true_by_calibration_and_since_when_follows) {
    const auto account = account_of_record(collection.store(), lives, options());
    ASSERT_TRUE(account);
    const auto& one = *std::find_if(account->enclosures.begin(), account->enclosures.end(),
                                    [](const EnclosureAccount& e) { return e.id == "dry-wall"; });
    ASSERT_EQ(one.readings.size(), 4U);
    EXPECT_EQ(one.readings[0].day, "2026-05-30");
    EXPECT_NEAR(one.readings[0].value, 2.53, 1e-9);
    EXPECT_EQ(one.readings[0].values.size(), 3U);
    // Hampel's scatter of 2.42, 2.53, 2.64: 1.4826 times the median distance of 0.11.
    EXPECT_NEAR(one.readings[0].scatter, 1.4826 * 0.11, 1e-3);
    ASSERT_EQ(one.standings.size(), 1U);
    EXPECT_EQ(one.standings[0].state, husbandry::State::below);
    EXPECT_EQ(one.standings[0].since, "2026-05-01");
    EXPECT_FALSE(one.standings[0].since_first);
    EXPECT_EQ(one.fitted_from, (std::vector<std::string>{"2026-05-01", "2026-05-30"}));
}

TEST_F(Report, since_a_day_leaves_out_what_was_before) {
    ReportOptions wanted = options();
    wanted.since = "2026-05-15";
    const auto account = account_of_record(collection.store(), lives, wanted);
    ASSERT_TRUE(account);
    for (const auto& one : account->enclosures) {
        if (one.id == "dry-wall") {
            EXPECT_EQ(one.readings.size(), 1U);
            EXPECT_TRUE(one.done.empty());
            EXPECT_EQ(one.standings.at(0).since, "2026-05-01");  // that goes back all the same
        }
    }
}

TEST_F(Report, has_no_colour_embeds_its_fonts_and_keeps_its_margins) {
    ReportOptions wanted = options();
    wanted.paper = Paper::letter;
    const std::string file = printed(wanted);
    expect_within_margins(file, 612, 792);
    // poppler's page pictures as PPM: red, green and blue of every pixel are the same.
    EXPECT_EQ(run("pdftoppm -r 40 -f 1 -l 3 '" + file + "' '" + folder.file("page") + "'").status, 0);
    int pictures = 0;
    for (const char* page :
         {"page-1.ppm", "page-2.ppm", "page-3.ppm", "page-01.ppm", "page-02.ppm", "page-03.ppm"}) {
        std::ifstream in(folder.file(page), std::ios::binary);
        if (!in) continue;
        ++pictures;
        std::string magic;
        int width = 0, height = 0, most = 0;
        in >> magic >> width >> height >> most;
        in.get();
        std::vector<unsigned char> pixels(static_cast<std::size_t>(width * height * 3));
        in.read(reinterpret_cast<char*>(pixels.data()), static_cast<std::streamsize>(pixels.size()));
        std::size_t coloured = 0;
        for (std::size_t i = 0; i + 2 < pixels.size(); i += 3)
            coloured += pixels[i] != pixels[i + 1] || pixels[i] != pixels[i + 2] ? 1 : 0;
        EXPECT_EQ(coloured, 0U) << page;
    }
    EXPECT_GE(pictures, 3);
    std::istringstream fonts(run("pdffonts '" + file + "'").output);
    std::string line;
    std::getline(fonts, line);
    std::getline(fonts, line);
    int count = 0;
    for (; std::getline(fonts, line); ++count)  // emb, sub, uni
        EXPECT_NE(line.find(" yes yes yes "), std::string::npos) << line;
    EXPECT_GE(count, 2);
}

TEST_F(Report, a_long_table_goes_on_under_its_head_and_long_names_break) {
    const std::string long_name = "Averyveryverylongwordthatnolineofanytablecouldeverholdinonepiece of lamps";
    for (int i = 0; i < 90; ++i) {
        collection.read(
            "fern-gully", "", fmt::format("2026-04-{:02}T10:{:02}:00Z", 1 + i % 28, i % 60), 0.5 + 0.01 * i,
            {{"x_cm", 10 + i % 3}, {"y_cm", 10}, {"z_cm", 10 + i / 28}, {"meter_words", long_name}});
    }
    const std::string file = printed(options());
    expect_within_margins(file, 595.3, 841.9);
    const std::string words = words_of(file);
    std::size_t heads = 0;
    for (std::size_t at = 0; (at = words.find("Scatter", at)) != std::string::npos; ++at) ++heads;
    EXPECT_GE(heads, 3U);
}

TEST_F(Report, the_same_account_is_the_same_file) {
    const auto account = account_of_record(collection.store(), lives, options());
    ASSERT_TRUE(account);
    EXPECT_EQ(to_pdf(*account, Paper::a4), to_pdf(*account, Paper::a4));
}

TEST_F(Report, an_enclosure_that_is_none_is_refused_with_the_nearest) {
    ReportOptions wanted = options();
    wanted.enclosures = {"dry-wal"};
    const auto refused = report_pdf(collection.store(), lives, wanted);
    ASSERT_FALSE(refused);
    EXPECT_NE(to_text(refused.error().problems).find("dry-wall"), std::string::npos);
}

// Every example, without a record: nothing is left out and nothing breaks.
TEST(ReportOfDocuments, prints_every_example) {
    std::vector<DocumentWithReadings> documents;
    for (const char* name : {"gravel-plain", "dry-wall", "olive-terrace", "reed-margin", "cloud-oak",
                             "heath-edge", "river-thicket", "fern-gully", "moss-bank"})
        documents.push_back(alone(tests::example(name)));
    ReportOptions options;
    options.now = moment("2026-06-01T09:00:00Z");
    const Account account = account_of_documents(documents, options);
    const Folder folder;
    const std::string file = folder.file("report.pdf", to_pdf(account, Paper::a4));
    EXPECT_EQ(run("qpdf --check '" + file + "' 2>&1").status, 0);
    const std::string words = run("pdftotext '" + file + "' -").output;
    for (const auto& one : account.enclosures) {
        EXPECT_TRUE(one.judgement) << to_text(one.problems);
        EXPECT_NE(words.find("Id " + one.id), std::string::npos);
        for (const auto& spot : one.judgement->spots)
            EXPECT_NE(words.find(spot.name.substr(0, 8)), std::string::npos);
    }
    expect_within_margins(file, 595.3, 841.9);
}

TEST(ReportOfDocuments, one_that_cannot_be_judged_says_why) {
    json document = tests::example("fern-gully");
    document["animals"] = json::array({{{"species", "nosuchus_animal"}}});
    ReportOptions options;
    options.now = moment("2026-06-01T09:00:00Z");
    const Account account = account_of_documents({alone(document)}, options);
    ASSERT_FALSE(account.enclosures[0].judgement);
    const Folder folder;
    const std::string file = folder.file("report.pdf", to_pdf(account, Paper::a4));
    const std::string words = run("pdftotext '" + file + "' -").output;
    EXPECT_NE(words.find("could not be judged"), std::string::npos);
    EXPECT_NE(words.find("nosuchus"), std::string::npos);
}

// Where a page ends inside a paragraph at least two lines stand on either side (widows and orphans: common practice).
TEST(Pages, leave_no_line_alone) {
    for (int before = 0; before < 12; ++before) {
        const About about{"Lines", "", moment("2026-06-01T09:00:00Z")};
        const std::string pdf = Book::write(Paper::a4, about, "foot", [&](Book& book) {
            for (int i = 0; i < 44 + before; ++i) book.paragraph(fmt::format("filler {}", i));
            std::string words;
            for (int i = 0; i < 110; ++i) words += fmt::format("word{} ", i);
            book.paragraph(words);
        });
        const Folder folder;
        const std::string file = folder.file("lines.pdf", pdf);
        for (const char* page : {"1", "2"}) {
            std::istringstream lines(
                run("pdftotext -layout -f " + std::string(page) + " -l " + page + " '" + file + "' -")
                    .output);
            int count = 0;
            for (std::string line; std::getline(lines, line);)
                count += line.find("word") != std::string::npos ? 1 : 0;
            EXPECT_NE(count, 1) << before << " page " << page;
        }
    }
}

}  // namespace dapple::paper
