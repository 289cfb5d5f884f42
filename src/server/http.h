// Between the library's requests and ours: sockets and headers on one side, server/api.h on the other.
#pragma once

// Eigen, by way of these, must be read before the library's header: that brings resolv.h, whose macro _res is a name in
// Eigen.
#include "server/api.h"
#include "server/serve.h"

namespace httplib {
class Server;
}

namespace dapple::server {

// Answers every address: the interface below /api/, the application elsewhere.
void set_up(httplib::Server& server, Api& api, const ServeOptions& options);

}  // namespace dapple::server
