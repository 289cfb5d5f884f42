// The search by glances: the best amount on every way, then pairs of ways, the amounts of a pair refined together.
//
// Whatever is tried has one price, in minutes: the effort, and what is wrong with it (our judgement). All numbers are
// the same in every run, whatever the number of threads.
#pragma once

#include <atomic>
#include <cstddef>
#include <optional>
#include <vector>

#include "advice/clearance.h"
#include "advice/glance.h"
#include "advice/way.h"

namespace dapple::advice {

struct Candidate {
    std::vector<std::size_t> ways;
    std::vector<double> amounts;  // of each way
    std::vector<Change> changes;
    double effort = 0;
    double price = 0;
    Shortfall shortfall;

    bool cures() const { return shortfall.failed() == 0; }
};

// Cures first, then by price.
bool better(const Candidate& a, const Candidate& b);

class Scan {
  public:
    Scan(const scene::Enclosure& enclosure, const Glance& glance, const FixOptions& options);

    // The best on each way that promises anything, the best first.
    std::vector<Candidate> singles();

    // The best of pairs of ways, of less effort than `below`; after `singles`.
    std::vector<Candidate> pairs(double below);

    // The same ways by other amounts, as they look once a judgement has shown how far the glance was off.
    std::optional<Candidate> again(const Candidate& candidate, const Trim& trim);

    std::size_t glances() const { return glances_; }
    const Shortfall& before() const { return before_; }

  private:
    std::optional<Candidate> tried(const std::vector<std::size_t>& ways, const std::vector<double>& amounts,
                                   const Trim& trim = {});
    std::vector<Candidate> walk(std::size_t way, const Trim& trim);
    std::optional<Candidate> best_on(std::size_t way, const std::vector<Candidate>& coarse, const Trim& trim);
    Candidate refined(const Candidate& pair, const Trim& trim);
    bool improves(const Candidate& candidate) const;

    const scene::Enclosure& enclosure_;
    const Glance& glance_;
    const FixOptions& options_;
    Clearances clearances_;
    std::vector<Way> ways_;
    std::vector<std::vector<Candidate>> coarse_;  // by way
    Shortfall before_;
    std::atomic<std::size_t> glances_ = 0;
};

}  // namespace dapple::advice
