// The printable record: what is in and out of band and since when, then every enclosure with its light, readings, verdict, fixes,
// lamps, animals' sheets and cautions, who measured with what, and how it was worked out. A PDF for a manager, a vet or
// an inspector; readable in black and white.
#pragma once

#include <string>
#include <vector>

#include "paper/account.h"
#include "paper/pdf.h"
#include "record/lamp_lives.h"
#include "record/store.h"

namespace dapple::paper {

struct ReportOptions {
    record::Moment now;
    std::vector<std::string> sites = {};       // ids; none: all
    std::vector<std::string> enclosures = {};  // ids; none: all of the sites
    std::string since = {};                    // day of the last report; empty: a year before `now`
    Paper paper = Paper::a4;
};

record::Result<Account> account_of_record(const record::Store& store, record::LampLives& lives,
                                          const ReportOptions& options);

// From documents alone, each with the readings that belong to it (may be none).
struct DocumentWithReadings {
    scene::Enclosure enclosure;
    std::vector<inference::Reading> readings;
};
Account account_of_documents(const std::vector<DocumentWithReadings>& documents,
                             const ReportOptions& options);

std::string to_pdf(const Account& account, Paper paper);

record::Result<std::string> report_pdf(const record::Store& store, record::LampLives& lives,
                                       const ReportOptions& options);

}  // namespace dapple::paper
