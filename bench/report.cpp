// The report of a collection: how long fifty enclosures take against the ten seconds they may, and how it scales.
// Processor seconds stand beside those of the clock: on a machine that others use, they are the ones that can be compared.
// Usage: bench_report [readings of each enclosure, 60] [most enclosures, 100] [only this example]
#include "paper/report.h"

#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>

#include "example_record.h"
#include "pairs.h"

namespace {

using namespace dapple;

constexpr double limit_s = 10;  // for fifty enclosures
constexpr int promised = 50;

double measure(int enclosures, int readings, const std::string& folder,
               const std::vector<std::string>& examples) {
    const auto store =
        record::Store::open(bench::options_of(fmt::format("{}/{}.sqlite", folder, enclosures)));
    if (!store) std::exit(1);
    bench::fill(**store, enclosures, readings, examples);
    record::LampLives lives;
    paper::ReportOptions wanted;
    wanted.now = *record::moment_of("2026-11-01T09:00:00Z");
    const std::clock_t begun = std::clock();
    record::Result<paper::Account> account;
    const double gathered =
        bench::seconds([&] { account = paper::account_of_record(**store, lives, wanted); });
    if (!account) std::exit(1);
    std::string pdf;
    const double drawn = bench::seconds([&] { pdf = paper::to_pdf(*account, paper::Paper::a4); });
    for (const auto& one : account->enclosures) {
        if (!one.judgement) std::exit(1);
    }
    fmt::print(
        "{:3} enclosures: {:.2f} s (judged {:.2f}, drawn {:.2f}), {:.0f} ms each; {:.2f} s of "
        "processor; {:.1f} MB\n",
        enclosures, gathered + drawn, gathered, drawn, 1000 * (gathered + drawn) / enclosures,
        static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC, static_cast<double>(pdf.size()) / 1e6);
    return gathered + drawn;
}

}  // namespace

int main(int count, char** words) {
    const int readings = count > 1 ? std::atoi(words[1]) : 60;
    const int most = count > 2 ? std::atoi(words[2]) : 100;
    auto examples = bench::example_names;
    if (count > 3) examples = {words[3]};
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);
    std::string folder = (std::filesystem::temp_directory_path() / "dapple-bench-XXXXXX").string();
    if (mkdtemp(folder.data()) == nullptr) return 1;
    double took = 0;
    for (const int enclosures : {10, 25, promised, 100}) {
        if (enclosures > most) break;
        const double seconds = measure(enclosures, readings, folder, examples);
        if (enclosures == promised) took = seconds;
    }
    if (most >= promised)
        fmt::print("{} enclosures against the {} s they may take: {:.2f} of it\n", promised, limit_s,
                   took / limit_s);
    std::filesystem::remove_all(folder);
    return took <= limit_s ? 0 : 1;
}
