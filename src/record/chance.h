// Randomness is passed in, so that a test can repeat itself; the program's own comes from libsodium.
#pragma once

#include <functional>
#include <span>
#include <string>

#include "record/moment.h"

namespace dapple::record {

using Chance = std::function<void(std::span<unsigned char>)>;  // fills the bytes; called from several threads

Chance secure_chance();

// 26 letters and digits (Crockford's base 32): 48 bits of milliseconds since 1970, then 80 random bits, so that ids
// sort by age. The layout is that of the ULID specification (github.com/ulid/spec). A client may make its own.
std::string new_id(Moment now, const Chance& chance);

// For links and cookies: 256 random bits as 43 URL-safe characters.
std::string new_token(const Chance& chance);

}  // namespace dapple::record
