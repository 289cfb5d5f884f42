// The library's servers, except for what they do between two requests of a connection. The library looks every ten
// milliseconds whether the next request has come, and naps for one in between: sixty idle connections woke it 10,800 times a
// second and took 12 % of a core, and everybody else queued. Here an idle connection sleeps until it is spoken to.
#pragma once

#include <memory>
#include <string>

namespace httplib {
class Server;
}

namespace dapple::server {

std::unique_ptr<httplib::Server> waiting_server();

// `certificate` and `key` are PEM files; is_valid() tells whether they belong together.
std::unique_ptr<httplib::Server> waiting_tls_server(const std::string& certificate, const std::string& key);

}  // namespace dapple::server
