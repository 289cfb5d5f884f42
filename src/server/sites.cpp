#include "server/sites.h"

#include <charconv>

#include "server/answers.h"

namespace dapple::server {

tl::expected<std::vector<std::string>, Response> sites_asked(const Asked& asked) {
    const std::string site = asked.request.asked("site");
    if (site.empty()) return asked.visitor.sites();
    if (!asked.visitor.may_see(site)) return tl::unexpected(not_there());
    return std::vector<std::string>{site};
}

Expected<int> limit_asked(const Request& request) {
    const std::string text = request.asked("limit");
    if (text.empty()) return 1000;
    int limit = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), limit);
    const bool whole = fault == std::errc() && end == text.data() + text.size();
    if (whole && limit >= 1 && limit <= 10'000) return limit;
    return refuse({"request", "?limit", "\"" + text + "\"", "a whole number from 1 to 10000"});
}

}  // namespace dapple::server
