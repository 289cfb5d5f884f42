// The interface as a table: which method at which address does what, and who may ask for it. The table is what the
// tests walk through to see that every address refuses strangers.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "server/service.h"
#include "server/visitor.h"

namespace dapple::server {

enum class Access {
    everybody,  // strangers too
    person,     // whoever is signed in
    viewer,     // with a role at some site; what is shown is that of their sites
    keeper,     // at some site; the handler looks at which
    manager,
};

struct Asked {
    const Request& request;
    const Visitor& visitor;
    Service& service;
    std::string id;  // what stands for {id} in the address
};

using Handler = std::function<Response(const Asked&)>;

struct Route {
    std::string method;
    std::string pattern;  // "/api/lamps/{id}/place"
    Access access;
    Handler handle;
};

std::vector<Route> thing_routes();       // things.cpp: every kind of the record alike
std::vector<Route> deed_routes();        // deeds.cpp: what touches several things
std::vector<Route> collection_routes();  // collection.cpp: what the screens show of the record
std::vector<Route> people_routes();      // people.cpp: sessions, own settings
std::vector<Route> invitation_routes();  // invitations.cpp
std::vector<Route> moving_routes();      // moving.cpp: import, export
std::vector<Route> paper_routes();       // papers.cpp: report, labels, calendar
std::vector<Route> engine_routes();      // engine.cpp: calculations
std::vector<Route> library_routes();     // libraries.cpp: species, materials, spectra, schemas

}  // namespace dapple::server
