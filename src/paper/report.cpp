#include "paper/report.h"

#include <fmt/format.h>

#include "paper/report_pages.h"

namespace dapple::paper {

std::string to_pdf(const Account& account, Paper paper) {
    const std::string day = record::to_text(account.made).substr(0, 10);
    const About about{fmt::format("Light report, {}, {}", account.title, day),
                      "What every animal can choose: ultraviolet and warmth, by reading and by computation",
                      account.made};
    const std::string running = fmt::format("{} · {} · made by Dapple " DAPPLE_VERSION, account.title, day);
    return Book::write(paper, about, running, [&](Book& book) {
        write_summary(book, account);
        write_lamps_needed(book, account);
        for (const EnclosureAccount& one : account.enclosures) write_enclosure(book, one, account);
        write_sheets(book, account);
        write_method(book, account);
        write_cautions(book);
    });
}

}  // namespace dapple::paper
