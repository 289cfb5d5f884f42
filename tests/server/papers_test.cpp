// Report, labels and calendar through the interface; what they look like is tested with the papers (tests/paper).
#include <gtest/gtest.h>

#include "server/a_server.h"

namespace dapple::tests {
namespace {

using nlohmann::json;
using record::Role;
using server::Response;

// base64 of login:password, from the example of RFC 7617 section 2: "Aladdin" with "open sesame".
constexpr const char* rfc_7617 = "Basic QWxhZGRpbjpvcGVuIHNlc2FtZQ==";

Response calendar_with(AServer& server, const std::string& authorization) {
    return server.ask({"GET", "/api/calendar", {}, "", "", {{"authorization", authorization}}});
}

void expect_told(const Response& response, int status, const std::string& words) {
    expect_refusal(response, status);
    EXPECT_NE(response.body.find(words), std::string::npos) << response.body;
}

class Papers : public testing::Test {
  protected:
    Papers() {
        server.make_site("home", "Hill House");
        server.made("enclosures", {{"document", box_with_a_lamp()}});
        server.made("tasks", {{"title", "Clean the lamp"}, {"due_on", "2026-12-24"}});
    }
    AServer server{{.accounts = false, .public_url = "https://herps.example"}};
};

TEST_F(Papers, a_report_is_a_pdf_of_the_day) {
    const Response report = server.get("/api/report", {}, {{"paper", "letter"}, {"since", "2026-01-01"}});
    ASSERT_EQ(report.status, 200) << report.body;
    EXPECT_EQ(report.content_type, "application/pdf");
    EXPECT_TRUE(report.body.starts_with("%PDF-"));
    EXPECT_NE(header(report, "Content-Disposition").find("report-20"), std::string::npos);
}

TEST_F(Papers, labels_say_where_the_survey_is) {
    const Response labels = server.get("/api/labels", {}, {{"rows", "3"}, {"columns", "2"}});
    ASSERT_EQ(labels.status, 200) << labels.body;
    EXPECT_TRUE(labels.body.starts_with("%PDF-"));
}

TEST_F(Papers, the_calendar_has_what_is_due) {
    const Response calendar = server.get("/api/calendar", {}, {{"remind_hour", "9"}});
    ASSERT_EQ(calendar.status, 200) << calendar.body;
    EXPECT_TRUE(calendar.content_type.starts_with("text/calendar"));
    EXPECT_NE(calendar.body.find("Clean the lamp"), std::string::npos);
    EXPECT_NE(calendar.body.find("BEGIN:VALARM"), std::string::npos);
}

TEST_F(Papers, say_what_they_cannot_make) {
    expect_told(server.get("/api/report", {}, {{"since", "spring"}}), 400, "YYYY-MM-DD");
    expect_told(server.get("/api/report", {}, {{"paper", "a5"}}), 400, "letter");
    expect_told(server.get("/api/report", {}, {{"enclosure", "bax"}}), 404, "box");
    expect_told(server.get("/api/labels", {}, {{"rows", "0"}}), 400, "from 1 to 30");
    expect_told(server.get("/api/calendar", {}, {{"remind_hour", "24"}}), 400, "from 0 to 23");
}

TEST(CalendarFeed, lets_programs_sign_in_with_each_request) {
    AServer server{{.accounts = true, .public_url = "https://herps.example"}};
    server.somebody("Aladdin", Role::viewer);
    EXPECT_EQ(calendar_with(server, "").status, 401);
    EXPECT_EQ(calendar_with(server, "Basic ###").status, 401);
    EXPECT_EQ(calendar_with(server, rfc_7617).status, 403);  // that is not the password here
    const auto person = record::check_password(server.store(), "Aladdin", good_password);
    ASSERT_TRUE(person);
    ASSERT_TRUE(record::set_password(server.store(), {}, *person, "open sesame"));
    const Response calendar = calendar_with(server, rfc_7617);
    EXPECT_EQ(calendar.status, 200) << calendar.body;
    EXPECT_TRUE(calendar.body.starts_with("BEGIN:VCALENDAR"));
}

TEST(CalendarFeed, makes_who_guesses_wait) {
    AServer server{{.accounts = true, .public_url = {}}};
    server.somebody("keeper", Role::keeper);
    Response last;
    for (int i = 0; i < 12 && last.status != 429; ++i) last = calendar_with(server, rfc_7617);
    EXPECT_EQ(last.status, 429);
}

}  // namespace
}  // namespace dapple::tests
