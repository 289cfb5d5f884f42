#include "server/own_address.h"

namespace dapple::server {

std::string own_address(const Asked& asked) {
    std::string url = asked.service.options.public_url;
    if (url.empty()) url = (asked.request.secure ? "https://" : "http://") + asked.request.header("host");
    while (url.ends_with("/")) url.pop_back();
    return url;
}

}  // namespace dapple::server
