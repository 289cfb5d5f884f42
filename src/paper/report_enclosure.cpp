// The pages of one enclosure.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "husbandry/words.h"
#include "paper/drawing.h"
#include "paper/report_pages.h"

namespace dapple::paper {

namespace {

using husbandry::AnimalJudgement;
using husbandry::Part;
using husbandry::uvi_in_words;

constexpr double between_drawings = 12;
constexpr double tallest_drawing = 230;

std::string dash_if_empty(const std::string& words) {
    return words.empty() ? "-" : words;
}

std::string name_or_id(const std::string& name, const std::string& id) {
    return name.empty() ? id : name;
}

void write_drawings(Book& book, const EnclosureAccount& account) {
    if (account.slices.size() != 2) return;
    const Slice& plan = account.slices[0];
    const Slice& section = account.slices[1];
    const double half = (book.width() - between_drawings) / 2;
    const double per_metre = std::min(scale_of(plan, half, tallest_drawing).per_metre,
                                      scale_of(section, half, tallest_drawing).per_metre);
    const Scale a = scaled(plan, per_metre);
    const Scale b = scaled(section, per_metre);
    book.figure(std::max(a.height, b.height),
                described(plan, *account.enclosure) + " " + described(section, *account.enclosure),
                [&](cairo_t* pen) {
                    draw_slice(pen, plan, *account.enclosure, a);
                    cairo_translate(pen, half + between_drawings, 0);
                    draw_slice(pen, section, *account.enclosure, b);
                });
    std::vector<std::string> lamps;
    for (std::size_t i = 0; i < account.enclosure->lamps.size(); ++i) {
        const auto& lamp = account.enclosure->lamps[i];
        lamps.push_back(
            fmt::format("{} {}", static_cast<char>('A' + i % 26), name_or_id(lamp.name, lamp.id)));
    }
    std::vector<std::string> spots;
    for (std::size_t i = 0; i < account.enclosure->spots.size(); ++i) {
        const auto& spot = account.enclosure->spots[i];
        spots.push_back(fmt::format("{} {}", i + 1, name_or_id(spot.name, spot.id)));
    }
    book.paragraph(
        fmt::format("Lines and shades: UVI of a meter aimed for its highest value. Lamps: {}. Spots: {}. "
                    "Furniture is "
                    "hatched where it is cut, dashed where it stands before or behind; leaves are dotted.",
                    lamps.empty() ? "none" : fmt::format("{}", fmt::join(lamps, ", ")),
                    spots.empty() ? "none" : fmt::format("{}", fmt::join(spots, ", "))),
        {7.5, false, 0.15});
}

std::string title_of(const AnimalJudgement& animal) {
    const auto& s = animal.species;
    std::string words =
        s.common_names.empty() ? s.scientific_name : s.common_names.front() + ", " + s.scientific_name;
    words += fmt::format(" × {}", animal.count);
    if (!s.zones.empty()) words += fmt::format(", UV zone {}", fmt::join(s.zones, " to "));
    if (!animal.band) words += ", band not known";
    if (s.estimate) words += " (estimated)";
    return words;
}

std::string answer(const Part& part) {
    if (!part.holds) return "not judged";
    std::string words = *part.holds ? "yes" : "NO";
    if (part.probability) words += fmt::format(", {:.0f} %", 100 * *part.probability);
    return words;
}

void write_animal(Book& book, const EnclosureAccount& account, const AnimalJudgement& animal) {
    book.keep(strip_height(*account.judgement, animal) + 60);
    book.heading(3, title_of(animal));
    book.figure(strip_height(*account.judgement, animal), described(*account.judgement, animal),
                [&](cairo_t* pen) { draw_strip(pen, book.width(), account, animal); });
    const auto& v = animal.verdict;
    Table table;
    table.columns = {{"Can it choose?", 18}, {"Answer", 14}, {"Why", 68}};
    table.rows = {{"what it needs, in all", answer(v.overall), v.overall.why},
                  {"basking in its band", answer(v.basking), v.basking.why},
                  {"a retreat", answer(v.retreat), v.retreat.why},
                  {"nothing above the ceiling", answer(v.ceiling), v.ceiling.why},
                  {"steps in between", answer(v.gradient), v.gradient.why},
                  {"UV and warmth together", answer(v.together), v.together.why}};
    book.table(table);
}

void write_judgement(Book& book, const EnclosureAccount& account) {
    const auto& fitted = account.fitted_from;
    book.heading(2, "Light and verdict");
    book.paragraph(
        fitted.empty() ? "As computed from the enclosure's description; no readings were there to fit it to."
        : fitted.size() == 1 ? "Fitted to the readings of " + fitted.front() + "; intervals are 90 %."
                             : fmt::format("Fitted to the readings of {} to {}; intervals are 90 %.",
                                           fitted.front(), fitted.back()));
    if (account.enclosure->outdoors)
        book.paragraph(
            "It can stand outdoors; what is judged here is the light of its lamps, without the sun.");
    write_drawings(book, account);
    book.paragraph(
        "In the strips below: the gray field is the animal's band, diamonds are predictions with their "
        "interval, rings "
        "are readings; the bar spans the middle 80 % of all it can reach, its tick the median.",
        {7.5, false, 0.15});
    for (const AnimalJudgement& animal : account.judgement->animals) write_animal(book, account, animal);
    if (account.judgement->animals.empty()) book.paragraph("No animal lives here, so there is no verdict.");
    if (account.judgement->notes.empty()) return;
    book.heading(3, "To be noted");
    book.bullets(account.judgement->notes);
}

std::string number(double value) {
    if (value != 0 && std::abs(value) < 0.1) return fmt::format("{:.3f}", value);
    return std::abs(value) < 100 ? fmt::format("{:.2f}", value) : fmt::format("{:.0f}", value);
}

std::string unit(const std::optional<spectrum::Quantity>& quantity) {
    if (!quantity) return "°C";
    switch (*quantity) {
        case spectrum::Quantity::uvi:
            return "UVI";
        case spectrum::Quantity::lux:
            return "lux";
        default:
            break;
    }
    std::string words(spectrum::name(*quantity));
    const auto cut = words.find("_w_m2");
    if (cut != std::string::npos) words = words.substr(0, cut) + " W/m²";
    return words;
}

std::string scatter_words(const ReadingRow& row) {
    if (row.values.size() < 2) return "-";
    const auto [least, most] = std::minmax_element(row.values.begin(), row.values.end());
    std::string words = fmt::format("{} to {}", number(*least), number(*most));
    if (row.scatter > 0) words += ", ± " + number(row.scatter);
    return words;
}

void write_readings(Book& book, const EnclosureAccount& account, const std::string& since) {
    book.heading(2, since.empty() ? "Readings" : "Readings since " + since);
    if (account.readings.empty()) {
        book.paragraph("None.");
        return;
    }
    Table table;
    table.columns = {{"Day", 12},   {"Place", 24},          {"Median", 10, Align::right},
                     {"", 9},       {"n", 4, Align::right}, {"Scatter", 18},
                     {"State", 11}, {"Meter, remark", 24}};
    for (const ReadingRow& row : account.readings) {
        std::string remark = row.meter;
        if (!row.remark.empty()) remark += (remark.empty() ? "" : "; ") + row.remark;
        table.rows.push_back({dash_if_empty(row.day), row.where, number(row.value), unit(row.quantity),
                              std::to_string(row.values.size()), scatter_words(row),
                              row.state ? spoken(*row.state) : "", remark});
    }
    table.size = 7.5;
    book.table(table);
}

std::string leaves_words(const LampRow& lamp) {
    if (!lamp.leaves) return lamp.remark.empty() ? "not on its account" : lamp.remark;
    const auto day = [](const std::optional<inference::Day>& d) {
        return d ? inference::to_text(*d) : std::string("beyond a century");
    };
    std::string words = day(lamp.leaves->date);
    if (lamp.leaves->early || lamp.leaves->late)
        words += fmt::format("\n({} to {})", day(lamp.leaves->early), day(lamp.leaves->late));
    if (lamp.leaves->from_start) words += "\nout when first read";
    if (lamp.leaves->beyond_limit) words += "\nfurther than readings can tell";
    return words;
}

void write_lamps(Book& book, const EnclosureAccount& account, bool from_record) {
    book.heading(2, "Lamps");
    if (account.lamps.empty()) {
        book.paragraph(from_record ? "None of the record's lamps burns here." : "None.");
        return;
    }
    Table table;
    table.columns = {{"Lamp", 30},
                     {"Installed", 12},
                     {"Hours", 10, Align::right},
                     {"h/day", 7, Align::right},
                     {"Loses in 1000 h (90 %)", 18},
                     {"Leaves the band (90 %)", 26}};
    for (const LampRow& lamp : account.lamps) {
        std::string loses = "-";
        if (lamp.loses && lamp.loses_interval)
            loses = fmt::format("{:.1f} %\n({:.1f} to {:.1f} %)", 100 * *lamp.loses,
                                100 * lamp.loses_interval->first, 100 * lamp.loses_interval->second);
        std::string leaves = from_record ? leaves_words(lamp) : dash_if_empty(lamp.remark);
        table.rows.push_back({lamp.name + "\n" + lamp.what, dash_if_empty(lamp.installed),
                              lamp.hours ? fmt::format("{:.0f}", *lamp.hours) : "-",
                              lamp.hours_on ? fmt::format("{:g}", *lamp.hours_on) : "-", loses, leaves});
    }
    book.table(table);
}

void write_done(Book& book, const EnclosureAccount& account, const std::string& since) {
    book.heading(2, "Work done" + (since.empty() ? std::string() : " since " + since));
    if (account.done.empty()) {
        book.paragraph("None recorded.");
        return;
    }
    Table table;
    table.columns = {{"Day", 12}, {"What", 46}, {"Outcome", 42}};
    for (const DoneRow& row : account.done)
        table.rows.push_back({row.day, row.fix ? row.title + " (changed the enclosure)" : row.title,
                              dash_if_empty(row.outcome)});
    book.table(table);
}

void write_meters(Book& book, const EnclosureAccount& account) {
    if (account.meters.empty()) return;
    book.heading(2, "Who measured, and with what");
    Table table;
    table.columns = {
        {"Meter", 26}, {"Calibrated", 30}, {"Readings", 10, Align::right}, {"Last", 12}, {"By", 22}};
    for (const MeterRow& meter : account.meters) {
        table.rows.push_back({meter.model.empty() ? meter.name : meter.name + "\n" + meter.model,
                              meter.calibrated, std::to_string(meter.readings), meter.last_used,
                              fmt::format("{}", fmt::join(meter.people, ", "))});
    }
    book.table(table);
}

}  // namespace

void write_enclosure(Book& book, const EnclosureAccount& account, const Account& whole) {
    book.heading(1, account.name);
    std::string about = "Id " + account.id;
    if (!account.room.empty()) about += ", " + account.room;
    if (account.enclosure) {
        const auto& size = account.enclosure->size;
        about += fmt::format(", {:.0f} × {:.0f} × {:.0f} cm (wide, deep, high)", 100 * size.x(),
                             100 * size.y(), 100 * size.z());
    }
    book.paragraph(about + ".");
    for (const Standing& s : account.standings) {
        book.paragraph(fmt::format("{}: {} UVI on {}, {}; {} since {}{}.", s.where, uvi_in_words(s.value),
                                   s.read, spoken(s.state),
                                   s.state == husbandry::State::below || s.state == husbandry::State::above
                                       ? "out of band"
                                       : "in band",
                                   s.since, s.since_first ? " or longer, its first reading" : ""),
                       {9, true, 0});
    }
    if (account.judgement) write_judgement(book, account);
    for (const Problem& problem : account.problems)
        book.paragraph("It could not be judged: " + problem.message());
    write_readings(book, account, whole.since);
    write_lamps(book, account, whole.from_record);
    if (whole.from_record) {
        write_done(book, account, whole.since);
        write_meters(book, account);
    }
}

}  // namespace dapple::paper
