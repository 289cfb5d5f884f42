// One answer for all who ask the same at the same time: when a reading comes in, every desk looks at the collection at
// once. Nobody is given an answer whose work began before they asked, so each sees what they wrote.
#pragma once

#include <condition_variable>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>

#include "server/request.h"

namespace dapple::server {

class SharedWork {
  public:
    // Works it out, or waits for another's work; rethrows what the work threw, to all who waited for it.
    Response answer(const std::string& question, const std::function<Response()>& work);

  private:
    struct Round;
    struct Rounds {
        bool running = false;
        std::shared_ptr<Round> next;  // not begun; whoever asks now joins it
    };

    std::mutex guard_;
    std::condition_variable done_;
    std::map<std::string, Rounds> rounds_;  // by question; only while somebody asks it
};

}  // namespace dapple::server
