// The verdicts on a whole collection, as the server works them out after an import or a change of its own: how long, and how
// that scales with the cores it may use.
// Usage: bench_judgements [enclosures, 1000] [readings of each, 20]
#include "server/judgements.h"

#include <fmt/format.h>
#include <tbb/global_control.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <thread>

#include "example_record.h"
#include "pairs.h"
#include "record/collection.h"

namespace {

using namespace dapple;

double seconds_of_all(const record::Store& store, const std::vector<record::Card>& cards, unsigned cores) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, cores);
    server::Judgements judgements(store, cores);
    return bench::seconds([&] {
        for (const record::Card& card : cards) judgements.of(card.enclosure);
        for (const record::Card& card : cards) {
            std::optional<server::Kept> kept;
            while (!(kept = judgements.of(card.enclosure))) {
                std::this_thread::sleep_for(std::chrono::milliseconds(20));
            }
            if (!kept->judgement.is_object()) std::exit(1);
        }
    });
}

}  // namespace

int main(int count, char** words) {
    const int enclosures = count > 1 ? std::atoi(words[1]) : 1000;
    const int readings = count > 2 ? std::atoi(words[2]) : 20;
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);
    std::string folder = (std::filesystem::temp_directory_path() / "dapple-bench-XXXXXX").string();
    if (mkdtemp(folder.data()) == nullptr) return 1;
    const auto store = record::Store::open(bench::options_of(folder + "/record.sqlite"));
    if (!store) return 1;
    bench::fill(**store, enclosures, readings, bench::example_names);
    const auto cards = record::collection(**store, {"home"});
    if (!cards) return 1;
    const unsigned all = std::thread::hardware_concurrency();
    double alone = 0;
    for (unsigned cores = 1; cores <= all; cores = cores < all ? std::min(2 * cores, all) : all + 1) {
        const double took = seconds_of_all(**store, *cards, cores);
        if (cores == 1) alone = took;
        fmt::print("{} enclosures on {} of {} cores: {:.1f} s, {:.0f} ms each; {:.2f} times one core\n",
                   enclosures, cores, all, took, 1000 * took / enclosures, alone / took);
    }
    std::filesystem::remove_all(folder);
    return 0;
}
