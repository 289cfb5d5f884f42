#include "paper/qr.h"

#include <fmt/format.h>
#include <qrencode.h>

#include <memory>

namespace dapple::paper {

Expected<QrCode> qr_code(const std::string& text) {
    if (text.empty() || text.find('\0') != std::string::npos)
        return refuse({"", "QR code", text.empty() ? "no text" : "a zero byte", "text without zero bytes"});
    const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
        QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_M), QRcode_free);
    if (!code) return refuse({"", "QR code", fmt::format("{} bytes", text.size()), "at most 2331 bytes"});
    QrCode result{code->width, {}};
    const auto modules = static_cast<std::size_t>(code->width) * static_cast<std::size_t>(code->width);
    // libqrencode keeps a module's colour in the lowest bit; the others say what the module is for.
    for (std::size_t i = 0; i < modules; ++i) result.dark.push_back((code->data[i] & 1) != 0);
    return result;
}

std::string qr_svg(const std::string& text) {
    const auto code = qr_code(text);
    if (!code) return {};
    std::string path;
    for (int row = 0; row < code->width; ++row) {
        for (int column = 0; column < code->width;) {
            int run = 0;
            while (column + run < code->width && code->is_dark(column + run, row)) ++run;
            if (run > 0)
                path += fmt::format("M{} {}h{}v1h-{}z", column + quiet_zone, row + quiet_zone, run, run);
            column += run > 0 ? run : 1;
        }
    }
    const int side = code->width + 2 * quiet_zone;
    return fmt::format(
        R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {0} {0}" shape-rendering="crispEdges">)"
        R"(<rect width="{0}" height="{0}" fill="#fff"/><path d="{1}" fill="#000"/></svg>)",
        side, path);
}

}  // namespace dapple::paper
