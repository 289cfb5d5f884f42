#include "cli/forecast_url.h"

#include <fmt/format.h>
#include <httplib.h>

#include <optional>
#include <regex>

namespace dapple::cli {

namespace {

struct Address {
    std::string origin;  // "https://host:port"
    std::string path;    // "/today.csv?place=x"
};

#ifdef CPPHTTPLIB_OPENSSL_SUPPORT
constexpr bool has_https = true;
#else
constexpr bool has_https = false;
#endif

tl::unexpected<Problems> refusal(std::string found, std::string allowed) {
    return refuse({"", "--forecast-url", std::move(found), std::move(allowed)});
}

Expected<Address> read_address(const std::string& url) {
    static const std::regex shape(
        R"((https?)://(\[[0-9a-fA-F:.]+\]|[^/?#@:\s]+)(:\d{1,5})?([/?][^#\s]*)?(#.*)?)");
    std::smatch part;
    if (!std::regex_match(url, part, shape)) {
        return refusal("\"" + url + "\"",
                       "an address as https://host/path, without a name or password in it");
    }
    if (part[1] == "https" && !has_https) {
        return refusal(
            "\"" + url + "\"",
            "an address that begins with http://: this program was built without TLS. Another program can "
            "fetch it: curl ADDRESS | dapple sun --forecast - ...");
    }
    std::string path = part[4];
    if (path.empty() || path.front() == '?') path = "/" + path;
    return Address{part[1].str() + "://" + part[2].str() + part[3].str(), path};
}

std::string words_of(httplib::Error error) {
    switch (error) {
        case httplib::Error::Connection:
            return "no answer: nothing can be reached there";
        case httplib::Error::ConnectionTimeout:
        case httplib::Error::Read:
            return "no answer in time, or one that broke off";
        case httplib::Error::SSLConnection:
            return "no secure connection: the other side does not speak TLS";
        case httplib::Error::SSLServerVerification:
        case httplib::Error::SSLLoadingCerts:
            return "a certificate that cannot be trusted";
        default:
            return "no answer (" + httplib::to_string(error) + ")";
    }
}

// What is wrong with the head of an answer, if anything.
std::optional<std::string> fault_of(const httplib::Response& response) {
    if (response.status == 200) return std::nullopt;
    if (response.status >= 300 && response.status < 400 && response.has_header("Location"))
        return "a redirection to " + response.get_header_value("Location") +
               "; name that address if you trust it";
    return fmt::format("status {}{}", response.status, response.reason.empty() ? "" : " " + response.reason);
}

}  // namespace

Expected<std::string> fetch_forecast(const std::string& url, const FetchLimits& limits) {
    const auto address = read_address(url);
    if (!address) return tl::unexpected(address.error());
    const std::string allowed = "an address that answers with a forecast, CSV or JSON (" + url + ")";
    httplib::Client client(address->origin);
    if (!client.is_valid()) return refusal("\"" + url + "\"", "an address as https://host/path");
    client.set_connection_timeout(limits.connect);
    client.set_read_timeout(limits.each_read);
    client.set_write_timeout(limits.each_read);
    client.set_follow_location(false);

    std::string body;
    std::optional<std::string> fault;
    const auto until = std::chrono::steady_clock::now() + limits.whole;
    const auto head = [&](const httplib::Response& response) {
        fault = fault_of(response);
        return !fault;
    };
    const auto receive = [&](const char* data, std::size_t size) {
        if (body.size() + size > limits.most_bytes)
            fault = fmt::format("more than {} bytes", limits.most_bytes);
        else if (std::chrono::steady_clock::now() > until)
            fault = "an answer that does not come to its end in time";
        else
            body.append(data, size);
        return !fault;
    };
    const httplib::Headers headers = {{"Accept", "text/csv, application/json;q=0.9"},
                                      {"User-Agent", "dapple"}};
    const auto result = client.Get(address->path, headers, head, receive);
    if (fault) return refusal(*fault, allowed);
    if (!result) return refusal(words_of(result.error()), allowed);
    return body;
}

}  // namespace dapple::cli
