// The HTTP interface as a function from request to response: no sockets, no files. Its addresses are described by
// /api/openapi.json (data/schemas/openapi.json); docs/api.md tells how to use them.
//
// Whatever cannot be used is refused with problem details (answers.h): 400 for a body that cannot be read, 401 for a
// stranger, 403 for who may not, 404, 405, 412 for a write to what somebody changed meanwhile, 415, 422 for what can be
// read but not be used, 428 for a write that does not say what it saw, 503 and 507 for troubles of the database.
#pragma once

#include <memory>

#include "server/route.h"

namespace dapple::server {

class Api {
  public:
    explicit Api(std::unique_ptr<record::Store> store, const ServiceOptions& options = {});

    // Safe to call from several threads.
    Response answer(const Request& request);

    const std::vector<Route>& routes() const { return routes_; }
    Service& service() { return *service_; }

  private:
    const Route* find(const Request& request, std::string& id, std::vector<std::string>& allowed) const;
    Response answer_as(const Request& request, const Route& route, const std::string& id);

    std::unique_ptr<Service> service_;
    std::vector<Route> routes_;
};

}  // namespace dapple::server
