// Calculations wait for one of a few threads that give way to everything else: however many are asked for, readings
// are taken down at once. What follows a hand (a field while a lamp is dragged) has a thread of its own, so that it does not
// wait behind a search.
#pragma once

#include <array>
#include <condition_variable>
#include <deque>
#include <functional>
#include <map>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "server/request.h"

namespace dapple::server {

// Tells a calculation that nobody waits for its answer any more.
using Superseded = std::function<bool()>;

enum class Haste { patient, prompt };

class Calculators {
  public:
    explicit Calculators(int patient_threads = 2, int prompt_threads = 1);
    ~Calculators();
    Calculators(const Calculators&) = delete;
    Calculators& operator=(const Calculators&) = delete;

    // Waits for the answer. `view` names who looks (a tab, a part of it); a later request of the same view ends this
    // one with 409. Empty: it is never superseded.
    Response answer(const std::string& view, Haste haste,
                    const std::function<Response(const Superseded&)>& calculate);

    // Whether a request of the view waits for its turn while an earlier one is being worked on; for tests.
    bool is_newest_waiting(const std::string& view);

  private:
    void work(Haste haste);
    std::deque<std::function<void()>>& jobs_of(Haste haste) { return jobs_[static_cast<int>(haste)]; }
    std::uint64_t newest_of(const std::string& view);
    bool is_superseded(const std::string& view, std::uint64_t turn);

    std::mutex guard_;
    std::condition_variable waiting_;
    std::array<std::deque<std::function<void()>>, 2> jobs_;  // by haste
    bool ending_ = false;
    std::map<std::string, std::uint64_t> views_;  // the latest turn of each
    std::uint64_t turn_ = 0;
    std::vector<std::thread> threads_;
};

// This thread gives way to others from now on (Linux; elsewhere nothing happens): to prompt ones, too, if it is patient.
void give_way(Haste haste = Haste::patient);

}  // namespace dapple::server
