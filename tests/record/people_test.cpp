#include "record/people.h"

#include <gtest/gtest.h>

#include "record/connection.h"
#include "record/on_both.h"

namespace dapple::tests {

using record::Role;
using record::Trouble;

namespace {

const record::Account somebody{"Somebody", "Some@Where", "a long password"};

}  // namespace

TEST(Roles, a_viewer_writes_nothing_a_keeper_no_people_a_manager_all) {
    for (const record::Kind& kind : record::kinds()) {
        EXPECT_FALSE(record::may_write(Role::viewer, kind.name)) << kind.name;
        EXPECT_TRUE(record::may_write(Role::manager, kind.name)) << kind.name;
    }
    EXPECT_TRUE(record::may_write(Role::keeper, "reading"));
    EXPECT_FALSE(record::may_write(Role::keeper, "membership"));
    EXPECT_FALSE(record::may_write(Role::keeper, "person"));
    EXPECT_FALSE(record::may_write(Role::keeper, "site"));
}

TEST_P(OnBoth, the_first_account_manages_and_there_is_only_one_first) {
    EXPECT_FALSE(*record::has_accounts(*store));
    const auto person = must(record::make_first_account(*store, somebody, ""));
    EXPECT_TRUE(*record::has_accounts(*store));
    const auto standing = *record::standings(*store, person.id);
    ASSERT_EQ(standing.size(), 1U);
    EXPECT_EQ(standing[0].site, "home");
    EXPECT_EQ(standing[0].role, Role::manager);
    EXPECT_EQ(record::make_first_account(*store, somebody, "").error().trouble, Trouble::taken);
}

TEST_P(OnBoth, only_the_right_password_lets_in) {
    const auto person = must(record::make_first_account(*store, somebody, ""));
    EXPECT_EQ(*record::check_password(*store, "some@where", "a long password"), person.id)
        << "whatever the login's case";
    EXPECT_EQ(record::check_password(*store, "some@where", "A long password").error().trouble,
              Trouble::missing);
    EXPECT_EQ(record::check_password(*store, "nobody", "a long password").error().trouble, Trouble::missing);
    EXPECT_EQ(record::set_password(*store, me, person.id, "short").error().trouble, Trouble::invalid);
    ASSERT_TRUE(record::set_password(*store, me, person.id, "another password"));
    EXPECT_FALSE(record::check_password(*store, "some@where", "a long password"));
    EXPECT_TRUE(record::check_password(*store, "some@where", "another password"));
    EXPECT_FALSE(record::set_password(*store, me, record::local_person, "a long password"))
        << "nobody's account";
}

TEST_P(OnBoth, a_session_lasts_until_it_ends_runs_out_or_the_password_changes) {
    const auto person = must(record::make_first_account(*store, somebody, ""));
    const auto one = *record::begin_session(*store, person.id);
    const auto two = *record::begin_session(*store, person.id);
    EXPECT_NE(one.token, two.token);
    EXPECT_EQ((*record::session_of(*store, one.token))->person, person.id);
    EXPECT_EQ((*record::session_of(*store, one.token))->csrf, one.session.csrf);
    EXPECT_FALSE(*record::session_of(*store, "another token"));
    ASSERT_TRUE(record::set_password(*store, {person.id}, person.id, "another password", two.token));
    EXPECT_FALSE(*record::session_of(*store, one.token));
    EXPECT_TRUE(*record::session_of(*store, two.token));
    ASSERT_TRUE(record::end_session(*store, two.token));
    EXPECT_FALSE(*record::session_of(*store, two.token));
    const auto gone = *record::begin_session(*store, person.id, std::chrono::seconds(0));
    EXPECT_FALSE(*record::session_of(*store, gone.token));
}

TEST_P(OnBoth, nothing_in_the_database_opens_a_door) {
    const auto person = must(record::make_first_account(*store, somebody, ""));
    const auto session = *record::begin_session(*store, person.id);
    const auto invitation = *record::invite(*store, {person.id}, "home", Role::keeper);
    record::Connection connection(database, record::Purpose::inspect);
    for (const char* sql :
         {"select hash from passwords", "select digest from sessions", "select digest from invitations"}) {
        for (const auto& row : connection.rows(sql, "t")) {
            EXPECT_EQ(record::text_of(row[0]).find("a long password"), std::string::npos);
            EXPECT_NE(record::text_of(row[0]), session.token);
            EXPECT_NE(record::text_of(row[0]), invitation.token);
        }
    }
    EXPECT_EQ(
        record::text_of(connection.rows("select hash from passwords", "t")[0][0]).rfind("$argon2id$", 0), 0U);
}

TEST_P(OnBoth, an_invitation_makes_one_account_with_its_role) {
    const auto manager = must(record::make_first_account(*store, somebody, ""));
    const auto made = *record::invite(*store, {manager.id}, "home", Role::keeper);
    EXPECT_EQ((*record::invitation_of(*store, made.token))->role, Role::keeper);

    const record::Account same_login{"Other", "SOME@where", "other password"};
    EXPECT_EQ(record::accept(*store, made.token, same_login).error().trouble, Trouble::taken);
    EXPECT_TRUE(*record::invitation_of(*store, made.token)) << "a refused try does not spend it";

    const auto keeper = must(record::accept(*store, made.token, {"Other", "other", "other password"}));
    EXPECT_EQ((*record::standings(*store, keeper.id)).at(0).role, Role::keeper);
    EXPECT_EQ(record::accept(*store, made.token, {"Third", "third", "third password"}).error().trouble,
              Trouble::missing);

    const auto withdrawn = *record::invite(*store, {manager.id}, "home", Role::viewer);
    ASSERT_TRUE(record::withdraw(*store, {manager.id}, withdrawn.invitation.id));
    EXPECT_FALSE(*record::invitation_of(*store, withdrawn.token));
    EXPECT_EQ(record::invitations(*store, "home")->size(), 2U);
    EXPECT_FALSE(record::invite(*store, {manager.id}, "nowhere", Role::viewer));
}

TEST_P(OnBoth, who_is_retired_is_locked_out) {
    const auto person = must(record::make_first_account(*store, somebody, ""));
    const auto session = *record::begin_session(*store, person.id);
    record::Write retire;
    retire.deed = record::Deed::retire;
    retire.kind = "person";
    retire.id = person.id;
    retire.seen = 1;
    must(store->write(me, retire));
    EXPECT_FALSE(*record::session_of(*store, session.token));
    EXPECT_FALSE(record::check_password(*store, "some@where", "a long password"));
    EXPECT_TRUE(record::standings(*store, person.id)->empty());
    EXPECT_FALSE(record::begin_session(*store, person.id));
}

TEST_P(OnBoth, the_trail_says_who_came_in) {
    const auto person = must(record::make_first_account(*store, somebody, ""));
    ASSERT_TRUE(record::begin_session(*store, person.id));
    const auto trail = *store->changes({.newest_first = true, .limit = 1});
    EXPECT_EQ(trail.at(0).kind, "session");
    EXPECT_EQ(trail.at(0).by, person.id);
}

}  // namespace dapple::tests
