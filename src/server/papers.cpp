// What leaves the program on paper or for other programs: the report, labels for the enclosures, what is due as a
// calendar.
#include <charconv>
#include <chrono>

#include "paper/calendar.h"
#include "paper/labels.h"
#include "paper/report.h"
#include "server/answers.h"
#include "server/checked_password.h"
#include "server/own_address.h"
#include "server/sites.h"

namespace dapple::server {

namespace {

Response file(const std::string& type, const std::string& name, std::string bytes) {
    return {200,
            type,
            std::move(bytes),
            {{"Cache-Control", "no-store"}, {"Content-Disposition", "inline; filename=\"" + name + "\""}}};
}

std::string today(const Asked& asked) {
    return inference::to_text(asked.service.today());
}

Expected<paper::Paper> paper_asked(const Request& request) {
    const std::string name = request.asked("paper");
    return paper::paper_named(name.empty() ? "a4" : name, "?paper");
}

Expected<int> whole_asked(const Request& request, const std::string& name, int otherwise, int least,
                          int most) {
    const std::string text = request.asked(name);
    if (text.empty()) return otherwise;
    int number = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), number);
    const bool whole = fault == std::errc() && end == text.data() + text.size();
    if (whole && number >= least && number <= most) return number;
    return refuse({"request", "?" + name, "\"" + text + "\"",
                   "a whole number from " + std::to_string(least) + " to " + std::to_string(most)});
}

std::vector<std::string> enclosures_asked(const Request& request) {
    const std::string id = request.asked("enclosure");
    return id.empty() ? std::vector<std::string>() : std::vector<std::string>{id};
}

Response report(const Asked& asked) {
    const auto sites = sites_asked(asked);
    if (!sites) return sites.error();
    paper::ReportOptions options;
    options.now = asked.service.store->options().clock();
    options.sites = *sites;
    options.enclosures = enclosures_asked(asked.request);
    options.since = asked.request.asked("since");
    if (!options.since.empty() && !inference::day_of(options.since))
        return unreadable({{"request", "?since", "\"" + options.since + "\"", "a date as YYYY-MM-DD"}});
    const auto paper = paper_asked(asked.request);
    if (!paper) return unreadable(paper.error());
    options.paper = *paper;
    return asked.service.calculators.answer("", Haste::patient, [&](const Superseded&) {
        const auto pdf = paper::report_pdf(*asked.service.store, asked.service.lives, options);
        return pdf ? file("application/pdf", "report-" + today(asked) + ".pdf", *pdf) : refusal(pdf.error());
    });
}

Response labels(const Asked& asked) {
    const auto sites = sites_asked(asked);
    if (!sites) return sites.error();
    paper::LabelOptions options;
    options.now = asked.service.store->options().clock();
    options.public_url = own_address(asked);
    options.sites = *sites;
    options.enclosures = enclosures_asked(asked.request);
    const auto paper = paper_asked(asked.request);
    const auto rows = whole_asked(asked.request, "rows", options.rows, 1, 30);
    const auto columns = whole_asked(asked.request, "columns", options.columns, 1, 12);
    for (const auto* number : {&rows, &columns}) {
        if (!*number) return unreadable(number->error());
    }
    if (!paper) return unreadable(paper.error());
    options.rows = *rows;
    options.columns = *columns;
    options.paper = *paper;
    const auto all = paper::labels_of(*asked.service.store, options);
    if (!all) return refusal(all.error());
    const auto pdf = paper::labels_pdf(*all, options);
    return pdf ? file("application/pdf", "labels-" + today(asked) + ".pdf", *pdf) : unusable(pdf.error());
}

Response calendar_of(const Asked& asked) {
    const auto sites = sites_asked(asked);
    if (!sites) return sites.error();
    paper::CalendarOptions options;
    options.now = asked.service.store->options().clock();
    options.public_url = own_address(asked);
    if (!asked.request.asked("remind_hour").empty()) {
        const auto hour = whole_asked(asked.request, "remind_hour", 0, 0, 23);
        if (!hour) return unreadable(hour.error());
        options.remind_hour = *hour;
    }
    const auto text = paper::calendar(*asked.service.store, asked.service.lives, *sites, options);
    return text ? file("text/calendar; charset=utf-8", "dapple.ics", *text) : refusal(text.error());
}

// Programs that follow a calendar keep no cookies: they bring login and password each time.
Response calendar(const Asked& asked) {
    if (!asked.visitor.is_stranger()) return calendar_of(asked);
    const auto credentials = basic_credentials(asked.request);
    if (!credentials) {
        Response no = refusal(401, "Sign in, or give a calendar program your login and password");
        no.headers.emplace_back("WWW-Authenticate", "Basic realm=\"Dapple\", charset=\"UTF-8\"");
        return no;
    }
    const auto person = checked_password(asked, credentials->login, credentials->password);
    if (!person) return person.error();
    auto standings = record::standings(*asked.service.store, *person);
    if (!standings) return refusal(standings.error());
    const Visitor visitor{*person, {}, {}, std::move(*standings)};
    if (!visitor.has_role(record::Role::viewer)) return forbidden("This needs the role of a viewer");
    return calendar_of({asked.request, visitor, asked.service, asked.id});
}

}  // namespace

std::vector<Route> paper_routes() {
    return {{"GET", "/api/report", Access::viewer, report},
            {"GET", "/api/labels", Access::viewer, labels},
            {"GET", "/api/calendar", Access::everybody, calendar}};
}

}  // namespace dapple::server
