// The web application and its HTTP interface, served by the program itself.
//
// To this machine alone it answers without accounts; to anybody else only with accounts, and encrypted: by its own
// certificate, or behind a proxy that is.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "record/store.h"

namespace dapple::server {

struct ServeOptions {
    std::string host = "127.0.0.1";
    int port = 0;                  // 0: 8460 if it is free, else any free port
    bool accounts = false;         // also where only this machine is served
    std::string certificate = {};  // PEM files
    std::string key = {};
    bool behind_proxy = false;  // X-Forwarded-For and -Proto are believed
    std::string public_url = {};
    std::function<void(const std::string& url)> ready = {};  // called once the page can be opened
};

// Why these options would leave the record open to others; empty: they do not.
Problems faults_of(const ServeOptions& options);

// Serves until the process is told to end. 0 after an orderly end; 2 if the address is refused or taken
// (said on standard error); 1 after a fault of ours.
int serve(std::unique_ptr<record::Store> store, const ServeOptions& options);

}  // namespace dapple::server
