// The first page: the collection at a glance, and the lamps to buy.
#include <fmt/format.h>

#include <algorithm>

#include "husbandry/words.h"
#include "paper/report_pages.h"

namespace dapple::paper {

namespace {

using husbandry::State;

bool in_band(State state) {
    return state != State::below && state != State::above;
}

std::string animals_of(const EnclosureAccount& one) {
    if (!one.judgement || one.judgement->animals.empty()) return "none";
    std::vector<std::string> names;
    for (const auto& animal : one.judgement->animals) {
        const auto& common = animal.species.common_names;
        names.push_back(fmt::format("{} × {}", animal.count,
                                    common.empty() ? animal.species.scientific_name : common.front()));
    }
    return fmt::format("{}", fmt::join(names, "\n"));
}

std::string standing_words(const EnclosureAccount& one) {
    if (one.standings.empty()) return "no readings at basking spots";
    std::vector<std::string> words;
    for (const Standing& s : one.standings) {
        words.push_back(fmt::format("{}: {} since {}{}", s.where, spoken(in_band(s.state)), s.since,
                                    s.since_first ? " or longer" : ""));
    }
    return fmt::format("{}", fmt::join(words, "\n"));
}

std::string last_read(const EnclosureAccount& one) {
    std::string last;
    for (const Standing& s : one.standings) last = std::max(last, s.read);
    for (const ReadingRow& row : one.readings) last = std::max(last, row.day);
    return last.empty() ? "never" : last;
}

std::string verdict_words(const EnclosureAccount& one) {
    if (!one.judgement) return "not judged";
    if (one.judgement->animals.empty()) return "no animals";
    std::vector<std::string> words;
    for (const auto& animal : one.judgement->animals) {
        const auto& part = animal.verdict.overall;
        std::string word = !part.holds ? "cannot be judged" : *part.holds ? "met" : "NOT met";
        if (part.probability) word += fmt::format(", {:.0f} %", 100 * *part.probability);
        words.push_back(word);
    }
    return fmt::format("{}", fmt::join(words, "\n"));
}

struct Count {
    int in = 0;
    int out = 0;
    int unread = 0;
};

Count count(const Account& account) {
    Count count;
    for (const EnclosureAccount& one : account.enclosures) {
        if (one.standings.empty()) {
            ++count.unread;
        } else if (std::all_of(one.standings.begin(), one.standings.end(),
                               [](const Standing& s) { return in_band(s.state); })) {
            ++count.in;
        } else {
            ++count.out;
        }
    }
    return count;
}

void write_counts(Book& book, const Account& account) {
    const Count counted = count(account);
    book.paragraph(
        fmt::format("{} enclosure{}. By the latest readings at basking spots {} in band, {} out of band; {} "
                    "without such readings.",
                    account.enclosures.size(), account.enclosures.size() == 1 ? "" : "s", counted.in,
                    counted.out, counted.unread),
        {10, true, 0});
}

}  // namespace

std::string spoken(State state) {
    if (state == State::low) return "in, low end";
    if (state == State::high) return "in, high end";
    return std::string(husbandry::name(state));
}

std::string spoken(bool in) {
    return in ? "in band" : "OUT of band";
}

void write_summary(Book& book, const Account& account) {
    const std::string day = record::to_text(account.made).substr(0, 10);
    book.heading(1, "Light report: " + account.title);
    book.paragraph(
        account.since.empty()
            ? fmt::format("Made on {} from {}.", day, account.from_record ? "the record" : "documents")
            : fmt::format("Made on {}; readings and work since {}.", day, account.since));
    write_counts(book, account);
    Table table;
    table.columns = {{"Enclosure", 24},
                     {"Animals", 24},
                     {"By readings", 30},
                     {"Last read", 11},
                     {"Needs met, probability", 13}};
    for (const EnclosureAccount& one : account.enclosures) {
        table.rows.push_back({one.room.empty() ? one.name : one.name + "\n" + one.room, animals_of(one),
                              standing_words(one), last_read(one), verdict_words(one)});
    }
    book.table(table);
    book.paragraph(
        "\"By readings\" is what the meter said at basking spots, held against the animals' own bands. "
        "\"Needs met\" is the "
        "judgement of the whole enclosure (basking, retreat, ceiling, gradient, warmth) in the computed "
        "light, with its "
        "probability where the light was fitted to readings.",
        {8, false, 0.2});
}

void write_lamps_needed(Book& book, const Account& account) {
    if (!account.from_record) return;
    book.heading(2, "Lamps to buy");
    if (account.lamps_needed.empty()) {
        book.paragraph("By the readings, none within the next twelve months.");
        return;
    }
    Table table;
    table.columns = {
        {"By", 11}, {"Lamp", 26}, {"For", 30}, {"Leaves the band", 24}, {"Cost", 9, Align::right}};
    double sum = 0;
    for (const LampNeeded& need : account.lamps_needed) {
        const std::string leaves =
            fmt::format("{}\n(to {}){}", inference::to_text(need.leaves),
                        need.late ? inference::to_text(*need.late) : "beyond a century",
                        need.beyond_limit ? "\nfurther than readings can tell" : "");
        const std::string cost = !need.spare.empty() ? "in store"
                                 : need.price        ? fmt::format("{:.2f}", *need.price)
                                                     : "";
        if (need.spare.empty() && need.price) sum += *need.price;
        table.rows.push_back({inference::to_text(need.by),
                              need.spare.empty() ? need.what : need.what + "\nin store: " + need.spare,
                              need.name + "\n" + need.enclosure_name, leaves, cost});
    }
    book.table(table);
    book.paragraph(fmt::format("\"By\" is the early end of the 90 % interval of the day the lamp leaves its "
                               "animals' band. Costs "
                               "are those of the lamps that burn now{}.",
                               sum > 0 ? fmt::format(", {:.2f} in all for those not in store", sum) : ""),
                   {8, false, 0.2});
}

}  // namespace dapple::paper
