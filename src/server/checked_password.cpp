#include "server/checked_password.h"

#include <fmt/format.h>
#include <sodium.h>

#include "record/people.h"
#include "server/answers.h"

namespace dapple::server {

Response too_often(std::chrono::seconds wait) {
    Response no = refusal(429, fmt::format("Too many tries; wait {} s", wait.count()));
    no.headers.emplace_back("Retry-After", std::to_string(wait.count()));
    return no;
}

tl::expected<std::string, Response> checked_password(const Asked& asked, const std::string& login,
                                                     const std::string& password) {
    const std::string by_login = "login " + login;
    const std::string by_address = "address " + asked.request.address;
    Tries& tries = asked.service.tries;
    const auto now = std::chrono::steady_clock::now();
    const auto wait = std::max(tries.wait(by_login, now), tries.wait(by_address, now));
    if (wait.count() > 0) return tl::unexpected(too_often(wait));
    auto person = [&] {
        const std::lock_guard lock(asked.service.hashing);
        return record::check_password(*asked.service.store, login, password);
    }();
    if (!person && person.error().trouble == record::Trouble::missing) {
        tries.failed(by_login, now);
        tries.failed(by_address, now);
        return tl::unexpected(refusal(403, "No such login and password"));
    }
    if (!person) return tl::unexpected(refusal(person.error()));
    tries.succeeded(by_login);
    return *std::move(person);
}

std::optional<Credentials> basic_credentials(const Request& request) {
    const std::string header = request.header("authorization");
    constexpr std::string_view scheme = "Basic ";
    if (!header.starts_with(scheme)) return std::nullopt;
    const std::string coded = header.substr(scheme.size());
    std::string text(coded.size(), '\0');
    std::size_t length = 0;
    if (sodium_base642bin(reinterpret_cast<unsigned char*>(text.data()), text.size(), coded.data(),
                          coded.size(), nullptr, &length, nullptr, sodium_base64_VARIANT_ORIGINAL) != 0)
        return std::nullopt;
    text.resize(length);
    const auto colon = text.find(':');
    if (colon == std::string::npos) return std::nullopt;
    return Credentials{text.substr(0, colon), text.substr(colon + 1)};
}

}  // namespace dapple::server
