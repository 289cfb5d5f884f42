#include "server/page.h"

#include <array>
#include <optional>
#include <string_view>

#include "embedded/files.h"
#include "server/answers.h"

namespace dapple::server {

namespace {

// Stands in web/index.html where the nonce belongs.
constexpr std::string_view nonce_mark = "__CSP_NONCE__";

constexpr std::string_view without_application =
    "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>Dapple</title>"
    "<body><h1>Dapple</h1><p>This program was built without its web application (DAPPLE_WEB=OFF). "
    "Its interface still answers: see <a href=\"/api/openapi.json\">/api/openapi.json</a>.</p></body></html>";

std::string_view type_of(std::string_view path) {
    struct Type {
        std::string_view ending;
        std::string_view type;
    };
    constexpr std::array types = {
        Type{".html", "text/html; charset=utf-8"},
        Type{".js", "text/javascript; charset=utf-8"},
        Type{".css", "text/css; charset=utf-8"},
        Type{".svg", "image/svg+xml"},
        Type{".woff2", "font/woff2"},
        Type{".png", "image/png"},
        Type{".json", "application/json; charset=utf-8"},
        Type{".txt", "text/plain; charset=utf-8"},
        Type{".webmanifest", "application/manifest+json"},
    };
    for (const Type& t : types) {
        if (path.ends_with(t.ending)) return t.type;
    }
    return "application/octet-stream";
}

std::string with_nonce(std::string_view html, const std::string& nonce) {
    std::string text(html);
    for (std::size_t at = text.find(nonce_mark); at != std::string::npos; at = text.find(nonce_mark, at)) {
        text.replace(at, nonce_mark.size(), nonce);
    }
    return text;
}

bool names_a_file(std::string_view path) {
    return path.substr(path.rfind('/') + 1).find('.') != std::string_view::npos;
}

}  // namespace

Response page(const std::string& path, const std::string& nonce) {
    const std::string name = path.substr(path.find_first_not_of('/') == std::string::npos ? path.size() : 1);
    if (!name.empty() && name != "index.html") {
        if (const auto file = embedded::find(embedded::web(), name)) {
            // The builder puts a hash of the content into the names below assets/.
            const bool hashed = name.starts_with("assets/");
            return {200,
                    std::string(type_of(name)),
                    std::string(*file),
                    {{"Cache-Control", hashed ? "public, max-age=31536000, immutable" : "no-cache"}}};
        }
        if (names_a_file(name)) return refusal(404, "There is nothing at this address");
    }
    const auto index = embedded::find(embedded::web(), "index.html");
    return {200,
            "text/html; charset=utf-8",
            index ? with_nonce(*index, nonce) : std::string(without_application),
            {{"Cache-Control", "no-store"}}};
}

std::vector<std::pair<std::string, std::string>> security_headers(const std::string& nonce) {
    return {{"Content-Security-Policy",
             "default-src 'none'; script-src 'self'; style-src 'self' 'nonce-" + nonce +
                 "'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; "
                 "manifest-src 'self'; base-uri 'none'; form-action 'none'; "
                 "frame-ancestors 'none'"},
            {"X-Content-Type-Options", "nosniff"},
            {"X-Frame-Options", "DENY"},
            {"Referrer-Policy", "no-referrer"},
            {"Cross-Origin-Opener-Policy", "same-origin"},
            {"Cross-Origin-Resource-Policy", "same-origin"},
            {"Permissions-Policy", "camera=(), microphone=(), geolocation=(), payment=()"}};
}

}  // namespace dapple::server
