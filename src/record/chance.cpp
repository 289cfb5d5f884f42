#include "record/chance.h"

#include <sodium.h>

#include <array>
#include <cstdint>
#include <stdexcept>

namespace dapple::record {

Chance secure_chance() {
    if (sodium_init() < 0) throw std::runtime_error("libsodium finds no source of randomness");
    return [](std::span<unsigned char> bytes) { randombytes_buf(bytes.data(), bytes.size()); };
}

std::string new_id(Moment now, const Chance& chance) {
    constexpr std::string_view letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    std::array<unsigned char, 10> random{};
    chance(random);
    std::string id(26, '0');
    auto milliseconds = static_cast<std::uint64_t>(now.time_since_epoch().count());
    for (std::size_t i = 10; i-- > 0; milliseconds >>= 5U) id[i] = letters[milliseconds & 31U];
    // Eighty bits, five at a time.
    for (std::size_t letter = 0; letter < 16; ++letter) {
        unsigned five = 0;
        for (std::size_t bit = 5 * letter; bit < 5 * letter + 5; ++bit) {
            five = 2 * five + ((random[bit / 8] >> (7 - bit % 8)) & 1U);
        }
        id[10 + letter] = letters[five];
    }
    return id;
}

std::string new_token(const Chance& chance) {
    std::array<unsigned char, 32> random{};
    chance(random);
    constexpr int variant = sodium_base64_VARIANT_URLSAFE_NO_PADDING;
    std::string token(sodium_base64_ENCODED_LEN(random.size(), variant), '\0');
    sodium_bin2base64(token.data(), token.size(), random.data(), random.size(), variant);
    token.pop_back();  // the terminating zero
    return token;
}

}  // namespace dapple::record
