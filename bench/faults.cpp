// Enclosures with a planted fault: is the planted cure, or a cheaper one that works, among the first three fixes?
// Usage: bench_faults [of each kind, 24] [seed, 1]
#include <fmt/format.h>

#include <cstdlib>

#include "advice/planted.h"
#include "pairs.h"

int main(int count, char** words) {
    using namespace dapple;
    const int of_each = count > 1 ? std::atoi(words[1]) : 24;
    std::mt19937 random(static_cast<unsigned>(count > 2 ? std::atoi(words[2]) : 1));
    int all = 0;
    int all_found = 0;
    fmt::print("{:20} {:>4} {:>6} {:>6} {:>14} {:>12}\n", "fault", "pens", "found", "cured", "first, minutes",
               "seconds each");
    for (const tests::Fault fault : tests::faults) {
        int pens = 0;
        int found = 0;
        int cured = 0;
        double seconds = 0;
        double effort = 0;
        while (pens < of_each) {
            const auto planted = tests::planted(fault, random);
            if (!planted) continue;
            ++pens;
            std::vector<advice::Fix> fixes;
            seconds += bench::seconds([&] { fixes = advice::find_fixes(planted->enclosure).value(); });
            const bool cures =
                !fixes.empty() && fixes.front().remaining.empty() && fixes.front().worsened.empty();
            cured += cures ? 1 : 0;
            effort += cures ? fixes.front().effort : 0;
            const bool is_found = tests::is_found(fixes, *planted);
            found += is_found ? 1 : 0;
            if (is_found) continue;
            fmt::print("  not found, {}: taking it back is {:.1f} minutes; offered:\n", tests::name_of(fault),
                       planted->effort_of_the_cure);
            for (const auto& fix : fixes) fmt::print("    {:5.1f}  {}\n", fix.effort, fix.words);
        }
        fmt::print("{:20} {:4} {:6} {:6} {:14.1f} {:12.2f}\n", tests::name_of(fault), pens, found, cured,
                   effort / std::max(1, cured), seconds / pens);
        all += pens;
        all_found += found;
    }
    fmt::print("all {}: found {} ({:.1f} %)\n", all, all_found, 100.0 * all_found / std::max(1, all));
    return all_found * 100 >= all * 95 ? 0 : 1;
}
