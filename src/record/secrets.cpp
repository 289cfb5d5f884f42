#include "record/secrets.h"

#include <fmt/format.h>
#include <sodium.h>

#include <array>
#include <stdexcept>

#include "record/people.h"
#include "record/writing.h"

namespace dapple::record {

std::optional<Problem> fault_of_password(const std::string& password) {
    if (password.size() >= shortest_password && password.size() <= longest_password &&
        password.find('\0') == std::string::npos) {
        return std::nullopt;
    }
    return Problem{"", "/password", fmt::format("{} bytes", password.size()),
                   fmt::format("{} to {} bytes", shortest_password, longest_password)};
}

std::string hash_of_password(const std::string& password) {
    if (sodium_init() < 0) throw std::runtime_error("libsodium cannot start");
    std::array<char, crypto_pwhash_STRBYTES> hash{};
    if (crypto_pwhash_str(hash.data(), password.data(), password.size(), crypto_pwhash_OPSLIMIT_INTERACTIVE,
                          crypto_pwhash_MEMLIMIT_INTERACTIVE) != 0) {
        throw std::runtime_error("not enough memory to hash a password");
    }
    return hash.data();
}

bool password_fits(const std::string& hash, const std::string& password) {
    return hash.size() < crypto_pwhash_STRBYTES &&
           crypto_pwhash_str_verify(hash.c_str(), password.data(), password.size()) == 0;
}

std::string digest_of_token(const std::string& token) {
    return digest_of(token);
}

std::string csrf_of_token(const std::string& token) {
    return digest_of("dapple csrf " + token);
}

}  // namespace dapple::record
