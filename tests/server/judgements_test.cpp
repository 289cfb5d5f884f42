// Verdicts beside the requests, by several threads.
#include "server/judgements.h"

#include <gtest/gtest.h>

#include <chrono>
#include <thread>

#include "server/a_server.h"

namespace dapple::tests {
namespace {

using nlohmann::json;
using server::Judgements;
using server::Kept;

Kept when_judged(Judgements& judgements, const record::Thing& enclosure) {
    const auto give_up = std::chrono::steady_clock::now() + std::chrono::minutes(2);
    while (std::chrono::steady_clock::now() < give_up) {
        if (auto kept = judgements.of(enclosure)) return *kept;
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    ADD_FAILURE() << enclosure.id << " was never judged";
    return {};
}

json box(const std::string& id, double lamp_height_cm) {
    json document = box_with_a_lamp();
    document["id"] = id;
    document["lamps"][0]["centre_cm"][2] = lamp_height_cm;
    return document;
}

double uvi_of(const Kept& kept) {
    return kept.judgement["spots"][0]["uvi"];
}

TEST(Judgements, of_many_enclosures_go_to_the_right_ones) {
    AServer server;
    server.make_site("home");
    for (int i = 0; i < 8; ++i) {
        server.made("enclosures", {{"document", box("box-" + std::to_string(i), 38 - i)}});
    }
    Judgements judgements(server.store(), 4);
    std::vector<record::Thing> enclosures;
    for (int i = 0; i < 8; ++i) {
        enclosures.push_back(*server.store().find("enclosure", "box-" + std::to_string(i)));
        judgements.of(enclosures.back());  // asked for all at once
    }
    double before = 0;
    for (const record::Thing& enclosure : enclosures) {
        const Kept kept = when_judged(judgements, enclosure);
        EXPECT_EQ(kept.judgement["enclosure"], enclosure.id);
        EXPECT_GT(uvi_of(kept), before);  // each lamp hangs lower than the last
        before = uvi_of(kept);
        EXPECT_EQ(server::judged(server.store(), enclosure).judgement, kept.judgement);
    }
}

TEST(Judgements, of_an_enclosure_that_is_changed_meanwhile_end_with_the_newest) {
    AServer server;
    server.make_site("home");
    server.made("enclosures", {{"document", box("box", 38)}});
    Judgements judgements(server.store(), 4);
    std::int64_t revision = 1;
    for (int i = 1; i <= 6; ++i) {
        judgements.of(*server.store().find("enclosure", "box"));
        const auto put = server.put("/api/enclosures/box", {{"document", box("box", 38 - i)}}, revision);
        ASSERT_EQ(put.status, 200) << put.body;
        ++revision;
        record::Change change;
        change.kind = "enclosure";
        change.id = "box";
        judgements.changed({change});
    }
    const record::Thing newest = *server.store().find("enclosure", "box");
    ASSERT_EQ(newest.revision, revision);
    EXPECT_EQ(when_judged(judgements, newest).judgement, server::judged(server.store(), newest).judgement);
}

}  // namespace
}  // namespace dapple::tests
