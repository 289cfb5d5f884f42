// QR codes (ISO/IEC 18004) as SVG or as plain modules: for labels on enclosures and for invitations.
//
// Error correction level M (about 15 % of the code may be damaged), and a quiet zone of four modules, as the standard
// asks for. Text goes in as bytes in UTF-8.
#pragma once

#include <string>
#include <vector>

#include "problem/problem.h"

namespace dapple::paper {

inline constexpr int quiet_zone = 4;  // modules of light on every side (ISO/IEC 18004)

struct QrCode {
    int width;               // modules on a side, without the quiet zone
    std::vector<bool> dark;  // row by row, width x width

    bool is_dark(int column, int row) const {
        return dark[static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                    static_cast<std::size_t>(column)];
    }
};

// Refused: empty text, a zero byte, and more than 2331 bytes, which no code of level M holds.
Expected<QrCode> qr_code(const std::string& text);

// A whole SVG document of one dark path on a light square, one unit a module; empty where qr_code refuses.
std::string qr_svg(const std::string& text);

}  // namespace dapple::paper
