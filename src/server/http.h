// Between the library's requests and ours: sockets and headers on one side, server/api.h on the other.
#pragma once

#include <string>

// forward, so that the library's header is read in as few places as can be
namespace httplib {
class Server;
struct Request;
struct Response;
}  // namespace httplib

namespace dapple::server {

class Api;
struct ServeOptions;

// Answers every address: the interface below /api/, the application elsewhere.
void set_up(httplib::Server& server, Api& api, const ServeOptions& options);

}  // namespace dapple::server
