// The web application and its HTTP interface, served by the program itself.
#pragma once

#include <functional>
#include <string>

namespace dapple::server {

struct ServeOptions {
    std::string host = "127.0.0.1";  // loopback only; anything else is refused until there are accounts
    int port = 0;                    // 0: 8460 if it is free, else any free port
    std::function<void(const std::string& url)> ready;  // called once the page can be opened
};

// Serves until the process is told to end. 0 after an orderly end; 2 if the address is refused or taken
// (said on standard error); the caller's exit status.
int serve(const ServeOptions& options);

}  // namespace dapple::server
