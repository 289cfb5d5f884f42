#include "server/service.h"

namespace dapple::server {

Service::Service(std::unique_ptr<record::Store> kept, const ServiceOptions& how)
    : store(std::move(kept)),
      options(how),
      judgements(*store),
      following(*store, [this](const std::vector<record::Change>& changes) { judgements.changed(changes); }) {
}

inference::Day Service::today() const {
    return std::chrono::floor<std::chrono::days>(store->options().clock());
}

}  // namespace dapple::server
