// Passwords and tokens as they are kept. For this folder only.
#pragma once

#include <optional>
#include <string>

#include "problem/problem.h"

namespace dapple::record {

// Nothing: it may be used.
std::optional<Problem> fault_of_password(const std::string& password);

// argon2id by libsodium, its "interactive" limits: 64 MB, some 0.1 s. Throws std::runtime_error without memory.
std::string hash_of_password(const std::string& password);
bool password_fits(const std::string& hash, const std::string& password);

// BLAKE2b of a token, in hexadecimal. Tokens are random, so that a quick hash is enough.
std::string digest_of_token(const std::string& token);

// A second word that only who has the token can know, and that does not give it away (BLAKE2b with a name as key).
std::string csrf_of_token(const std::string& token);

}  // namespace dapple::record
