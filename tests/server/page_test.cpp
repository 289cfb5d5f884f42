// Who may ask, and the rules under which a browser runs the page.
#include "server/page.h"

#include <gtest/gtest.h>

#include "server/hosts.h"

namespace dapple::server {
namespace {

TEST(TheServer, answers_to_names_of_this_machine_only) {
    for (const char* own : {"localhost", "localhost:8460", "127.0.0.1:1", "[::1]", "[::1]:8460"}) {
        EXPECT_TRUE(is_own_host(own)) << own;
    }
    for (const char* foreign :
         {"", "evil.example", "localhost.evil.example", "127.0.0.1.evil.example:8460",
          "localhost:", "localhost:80x", "127.0.0.2", "::1", "[::1", "localhost:80@evil"}) {
        EXPECT_FALSE(is_own_host(foreign)) << foreign;
    }
    EXPECT_TRUE(is_own_origin(""));
    EXPECT_TRUE(is_own_origin("http://127.0.0.1:8460"));
    EXPECT_FALSE(is_own_origin("null"));
    EXPECT_FALSE(is_own_origin("http://evil.example"));
}

TEST(ThePage, comes_for_every_screen_but_not_for_a_file_that_is_not_there) {
    for (const char* path : {"/", "/collection", "/collection/fern-gully", "/species"}) {
        const Response response = page(path, "word");
        EXPECT_EQ(response.status, 200) << path;
        EXPECT_EQ(response.content_type, "text/html; charset=utf-8") << path;
        EXPECT_EQ(response.body.find("__CSP_NONCE__"), std::string::npos) << path;
    }
    EXPECT_EQ(page("/assets/nothing.js", "word").status, 404);
    EXPECT_EQ(page("/../CMakeLists.txt", "word").status, 404);
    EXPECT_EQ(page("", "word").status, 200);
}

TEST(ThePage, admits_no_script_but_our_own_and_no_style_without_the_word_of_this_answer) {
    for (const auto& [name, value] : security_headers("abc123")) {
        if (name != "Content-Security-Policy") continue;
        EXPECT_NE(value.find("default-src 'none'"), std::string::npos);
        EXPECT_NE(value.find("script-src 'self';"), std::string::npos);
        EXPECT_NE(value.find("'nonce-abc123'"), std::string::npos);
        EXPECT_EQ(value.find("unsafe"), std::string::npos);
        return;
    }
    FAIL() << "no Content-Security-Policy";
}

}  // namespace
}  // namespace dapple::server
