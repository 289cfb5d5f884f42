// Everything the routes share: the record, and what is worked out of it beside the requests.
#pragma once

#include <memory>
#include <mutex>
#include <string>

#include "record/lamp_lives.h"
#include "record/store.h"
#include "server/calculators.h"
#include "server/following.h"
#include "server/judgements.h"
#include "server/recent_fields.h"
#include "server/shared_work.h"
#include "server/tries.h"

namespace dapple::server {

struct ServiceOptions {
    bool accounts = false;        // everybody must sign in
    std::string public_url = {};  // how others reach it, for links; empty: as the request came
};

struct Service {
    Service(std::unique_ptr<record::Store> kept, const ServiceOptions& how);

    const std::unique_ptr<record::Store> store;
    const ServiceOptions options;
    record::LampLives lives;
    RecentFields fields;
    Judgements judgements;
    Tries tries;
    std::mutex hashing;  // a password's hash takes 64 MB; one after the other
    Calculators calculators;
    SharedWork shared_work;
    Following following;  // last: it tells the others

    inference::Day today() const;
};

}  // namespace dapple::server
