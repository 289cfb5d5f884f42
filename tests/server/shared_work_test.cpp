// Who asks at the same time is given one answer, and none that began before they asked.
#include "server/shared_work.h"

#include <gtest/gtest.h>

#include <atomic>
#include <stdexcept>
#include <thread>
#include <vector>

namespace dapple::tests {
namespace {

using server::Response;
using server::SharedWork;

TEST(SharedWork, is_done_once_for_all_who_asked_before_it_began) {
    SharedWork shared;
    std::atomic<bool> begun = false;
    std::atomic<bool> go_on = false;
    std::thread first([&] {
        const auto slow = [&] {
            begun = true;
            while (!go_on) std::this_thread::yield();
            return Response{200, "text/plain", "before"};
        };
        EXPECT_EQ(shared.answer("the same", slow).body, "before");
    });
    while (!begun) std::this_thread::yield();

    constexpr int desks = 12;
    std::atomic<int> asking = 0;
    std::atomic<int> worked = 0;
    std::vector<std::thread> later;
    for (int i = 0; i < desks; ++i) {
        later.emplace_back([&] {
            ++asking;
            const auto answer = shared.answer("the same", [&] {
                ++worked;
                return Response{200, "text/plain", "after"};
            });
            EXPECT_EQ(answer.body, "after");
        });
    }
    // Another question is not held up by this one.
    EXPECT_EQ(shared.answer("another", [] { return Response{200, "text/plain", "other"}; }).body, "other");
    while (asking < desks) std::this_thread::yield();
    std::this_thread::sleep_for(std::chrono::milliseconds(50));  // until they wait, as good as surely
    EXPECT_EQ(worked, 0);
    go_on = true;
    first.join();
    for (std::thread& thread : later) thread.join();
    EXPECT_GE(worked, 1);
    EXPECT_LT(worked, desks);
}

TEST(SharedWork, that_fails_fails_for_who_waited_and_is_tried_anew_by_the_next) {
    SharedWork shared;
    const auto fails = []() -> Response { throw std::runtime_error("no record"); };
    EXPECT_THROW(shared.answer("it", fails), std::runtime_error);
    EXPECT_EQ(shared.answer("it", [] { return Response{200, "text/plain", "well"}; }).body, "well");
}

}  // namespace
}  // namespace dapple::tests
