// Accounts: who may sign in, and with what.
#include "record/people.h"

#include <utility>

#include "record/database.h"
#include "record/rows.h"
#include "record/secrets.h"
#include "record/writing.h"

namespace dapple::record {

namespace {

tl::unexpected<Refusal> wrong_login() {
    return refuse_as(Trouble::missing,
                     {"", "sign in", "no such login and password", "the login and password of an account"});
}

Change change_about(const Store& store, const std::string& by, const std::string& kind, const std::string& id,
                    const std::string& deed) {
    return {0, store.options().clock(), by, kind, id, "", 0, deed, ""};
}

void keep_hash(Connection& connection, const Store& store, const std::string& by, const std::string& person,
               const std::string& hash) {
    const std::string now = to_text(store.options().clock());
    const auto touched = connection.run("update passwords set hash = ?, set_at = ? where person = ?",
                                        {text(hash), text(now), text(person)});
    if (touched == 0) {
        connection.run("insert into passwords (person, hash, set_at) values (?, ?, ?)",
                       {text(person), text(hash), text(now)});
    }
    note_change(connection, change_about(store, by, "password", person, "set"));
}

Result<void> is_somebody(Connection& connection, const std::string& person) {
    const auto found = find_thing(connection, *kind_named("person"), person);
    if (found && !found->retired_at && person != local_person) return {};
    return refuse_as(Trouble::missing, {"", "person", "no person \"" + person + "\" who may sign in",
                                        "a person of the record"});
}

bool login_is_taken(Connection& connection, const std::string& login) {
    return !connection.rows("select id from people where lower(login) = lower(?)", "t", {text(login)})
                .empty();
}

Result<Thing> made_by(Connection& connection, const Store& store, const std::string& by,
                      const std::string& kind, const std::string& site, nlohmann::json fields) {
    Write write;
    write.kind = kind;
    write.site = site;
    write.fields = std::move(fields);
    const auto ready = prepared(write);
    if (!ready) return tl::unexpected(ready.error());
    return carry_out(connection, store.options(), by, *ready);
}

// The person with a password; who they are to be is the caller's business.
Result<Thing> new_account(Connection& connection, const Store& store, const std::string& by,
                          const Account& account, const std::string& hash) {
    if (account.login.empty()) {
        return refuse_as(Trouble::invalid, {"", "/login", "nothing", "a name to sign in with"});
    }
    if (login_is_taken(connection, account.login)) {
        return refuse_as(
            Trouble::taken,
            {"", "/login", "\"" + account.login + "\", which somebody has already", "another one"});
    }
    auto person =
        made_by(connection, store, by, "person", "", {{"name", account.name}, {"login", account.login}});
    if (person) keep_hash(connection, store, by, person->id, hash);
    return person;
}

}  // namespace

// ---- passwords

Result<bool> has_accounts(const Store& store) {
    return store.database().read<bool>([](Connection& connection) -> Result<bool> {
        return whole_of(connection.rows("select count(*) from passwords", "i")[0][0]) > 0;
    });
}

Result<void> set_password(Store& store, const Actor& actor, const std::string& person,
                          const std::string& password, const std::string& kept_session) {
    if (const auto fault = fault_of_password(password)) return refuse_as(Trouble::invalid, *fault);
    const std::string hash = hash_of_password(password);
    return store.database().write<void>([&](Connection& connection) -> Result<void> {
        if (auto somebody = is_somebody(connection, person); !somebody) return somebody;
        keep_hash(connection, store, actor.person, person, hash);
        connection.run(
            "update sessions set ended_at = ? where person = ? and ended_at is null and digest <> ?",
            {text(to_text(store.options().clock())), text(person), text(digest_of_token(kept_session))});
        return {};
    });
}

Result<std::string> check_password(const Store& store, const std::string& login,
                                   const std::string& password) {
    struct Found {
        std::string person;
        std::string hash;
    };
    const auto found = store.database().read<Found>([&](Connection& connection) -> Result<Found> {
        const auto rows = connection.rows(
            "select p.id, w.hash from people p join passwords w on w.person = p.id "
            "where lower(p.login) = lower(?) and p.retired_at is null",
            "tt", {text(login)});
        return rows.empty() ? Found{} : Found{text_of(rows[0][0]), text_of(rows[0][1])};
    });
    if (!found) return tl::unexpected(found.error());
    if (password.size() > longest_password) return wrong_login();
    if (found->hash.empty()) {
        (void)hash_of_password(password);  // as long as a wrong password takes
        return wrong_login();
    }
    if (!password_fits(found->hash, password)) return wrong_login();
    return found->person;
}

// ---- sessions

Result<NewSession> begin_session(Store& store, const std::string& person, std::chrono::seconds lasts) {
    const std::string token = new_token(store.options().chance);
    const Moment now = store.options().clock();
    const NewSession made{token, {person, csrf_of_token(token), now + lasts}};
    return store.database().write<NewSession>([&](Connection& connection) -> Result<NewSession> {
        if (auto somebody = is_somebody(connection, person); !somebody)
            return tl::unexpected(somebody.error());
        connection.run("insert into sessions (digest, person, begun_at, expires_at) values (?, ?, ?, ?)",
                       {text(digest_of_token(token)), text(person), text(to_text(now)),
                        text(to_text(made.session.expires))});
        note_change(connection, change_about(store, person, "session", person, "begin"));
        return made;
    });
}

Result<std::optional<Session>> session_of(const Store& store, const std::string& token) {
    using Answer = std::optional<Session>;
    return store.database().read<Answer>([&](Connection& connection) -> Result<Answer> {
        const auto rows = connection.rows(
            "select s.person, s.expires_at from sessions s join people p on p.id = s.person "
            "where s.digest = ? and s.ended_at is null and s.expires_at > ? and p.retired_at is null",
            "tt", {text(digest_of_token(token)), text(to_text(store.options().clock()))});
        if (rows.empty()) return Answer();
        return Session{text_of(rows[0][0]), csrf_of_token(token), *moment_of(text_of(rows[0][1]))};
    });
}

Result<void> end_session(Store& store, const std::string& token) {
    return store.database().write<void>([&](Connection& connection) -> Result<void> {
        connection.run("update sessions set ended_at = ? where digest = ? and ended_at is null",
                       {text(to_text(store.options().clock())), text(digest_of_token(token))});
        return {};
    });
}

// ---- invitations

namespace {

constexpr const char* invitation_columns =
    "id, site, role, made_by, made_at, expires_at, used_at, used_by, withdrawn_at";

Invitation invitation_from(const Row& row) {
    const auto moment_or_none = [](const Value& value) { return moment_of(text_of(value)); };
    return {text_of(row[0]),
            text_of(row[1]),
            role_named(text_of(row[2])).value_or(Role::viewer),
            text_of(row[3]),
            *moment_of(text_of(row[4])),
            *moment_of(text_of(row[5])),
            moment_or_none(row[6]),
            text_of(row[7]),
            moment_or_none(row[8])};
}

std::optional<Invitation> open_invitation(Connection& connection, const Store& store,
                                          const std::string& token) {
    const auto rows =
        connection.rows(std::string("select ") + invitation_columns +
                            " from invitations where digest = ? and used_at is null "
                            "and withdrawn_at is null and expires_at > ?",
                        "ttttttttt", {text(digest_of_token(token)), text(to_text(store.options().clock()))});
    if (rows.empty()) return std::nullopt;
    return invitation_from(rows.front());
}

tl::unexpected<Refusal> no_invitation() {
    return refuse_as(Trouble::missing, {"", "invitation", "one that is used, withdrawn, run out or unknown",
                                        "a new one from a manager"});
}

Change change_of(const Store& store, const Invitation& invitation, const std::string& by,
                 const std::string& deed) {
    Change change = change_about(store, by, "invitation", invitation.id, deed);
    change.site = invitation.site;
    return change;
}

// The invitation is spent and its role given.
Result<void> give_role(Connection& connection, const Store& store, const Invitation& invitation,
                       const std::string& person) {
    connection.run("update invitations set used_at = ?, used_by = ? where id = ?",
                   {text(to_text(store.options().clock())), text(person), text(invitation.id)});
    note_change(connection, change_of(store, invitation, person, "accept"));
    const auto held =
        connection.rows("select id from memberships where person = ? and site = ? and retired_at is null",
                        "t", {text(person), text(invitation.site)});
    if (!held.empty()) {
        return refuse_as(Trouble::taken, {"", "membership", "a role at this site already",
                                          "a change of that role by a manager"});
    }
    auto membership = made_by(connection, store, person, "membership", invitation.site,
                              {{"person", person}, {"role", name(invitation.role)}});
    if (!membership) return tl::unexpected(membership.error());
    return {};
}

}  // namespace

Result<NewInvitation> invite(Store& store, const Actor& actor, const std::string& site, Role role,
                             std::chrono::seconds lasts) {
    const std::string token = new_token(store.options().chance);
    const Moment now = store.options().clock();
    const Invitation made{
        new_id(now, store.options().chance), site, role, actor.person, now, now + lasts, {}, {}, {}};
    return store.database().write<NewInvitation>([&](Connection& connection) -> Result<NewInvitation> {
        if (!find_thing(connection, *kind_named("site"), site)) {
            return refuse_as(Trouble::missing, {"", "site", "no site \"" + site + "\"", "one in the record"});
        }
        connection.run(
            "insert into invitations (id, digest, site, role, made_at, made_by, expires_at) "
            "values (?, ?, ?, ?, ?, ?, ?)",
            {text(made.id), text(digest_of_token(token)), text(site), text(std::string(name(role))),
             text(to_text(now)), text(actor.person), text(to_text(made.expires))});
        note_change(connection, change_of(store, made, actor.person, "make"));
        return NewInvitation{token, made};
    });
}

Result<std::optional<Invitation>> invitation_of(const Store& store, const std::string& token) {
    using Answer = std::optional<Invitation>;
    return store.database().read<Answer>(
        [&](Connection& connection) -> Result<Answer> { return open_invitation(connection, store, token); });
}

Result<std::vector<Invitation>> invitations(const Store& store, const std::string& site) {
    using Invitations = std::vector<Invitation>;
    return store.database().read<Invitations>([&](Connection& connection) -> Result<Invitations> {
        Invitations result;
        connection.each(
            std::string("select ") + invitation_columns + " from invitations where site = ? order by id desc",
            "ttttttttt", {text(site)}, [&](const Row& row) { result.push_back(invitation_from(row)); });
        return result;
    });
}

Result<void> withdraw(Store& store, const Actor& actor, const std::string& id) {
    return store.database().write<void>([&](Connection& connection) -> Result<void> {
        const auto rows =
            connection.rows(std::string("select ") + invitation_columns +
                                " from invitations where id = ? and used_at is null and withdrawn_at is null",
                            "ttttttttt", {text(id)});
        if (rows.empty()) return no_invitation();
        connection.run("update invitations set withdrawn_at = ? where id = ?",
                       {text(to_text(store.options().clock())), text(id)});
        note_change(connection, change_of(store, invitation_from(rows.front()), actor.person, "withdraw"));
        return {};
    });
}

Result<Thing> accept(Store& store, const std::string& token, const Account& account) {
    if (const auto fault = fault_of_password(account.password)) return refuse_as(Trouble::invalid, *fault);
    const std::string hash = hash_of_password(account.password);
    return store.database().write<Thing>([&](Connection& connection) {
        return all_or_none<Thing>(connection, [&](Connection& c) -> Result<Thing> {
            const auto invitation = open_invitation(c, store, token);
            if (!invitation) return no_invitation();
            auto person = new_account(c, store, invitation->made_by, account, hash);
            if (!person) return person;
            if (auto given = give_role(c, store, *invitation, person->id); !given)
                return tl::unexpected(given.error());
            return person;
        });
    });
}

Result<Thing> accept_as(Store& store, const std::string& token, const std::string& person) {
    return store.database().write<Thing>([&](Connection& connection) {
        return all_or_none<Thing>(connection, [&](Connection& c) -> Result<Thing> {
            const auto invitation = open_invitation(c, store, token);
            if (!invitation) return no_invitation();
            if (auto somebody = is_somebody(c, person); !somebody) return tl::unexpected(somebody.error());
            if (auto given = give_role(c, store, *invitation, person); !given)
                return tl::unexpected(given.error());
            return *find_thing(c, *kind_named("person"), person);
        });
    });
}

Result<Thing> make_first_account(Store& store, const Account& account, const std::string& site_name) {
    if (const auto fault = fault_of_password(account.password)) return refuse_as(Trouble::invalid, *fault);
    const std::string hash = hash_of_password(account.password);
    return store.database().write<Thing>([&](Connection& connection) {
        return all_or_none<Thing>(connection, [&](Connection& c) -> Result<Thing> {
            if (whole_of(c.rows("select count(*) from passwords", "i")[0][0]) > 0) {
                return refuse_as(Trouble::taken, {"", "first account", "accounts that are there already",
                                                  "an invitation from a manager"});
            }
            auto person = new_account(c, store, local_person, account, hash);
            if (!person) return person;
            if (c.rows("select id from sites limit 1", "t").empty()) {
                auto site = made_by(c, store, person->id, "site", "", {{"name", site_name}});
                if (!site) return site;
            }
            for (const Row& row : c.rows("select id from sites", "t")) {
                auto membership = made_by(c, store, person->id, "membership", text_of(row[0]),
                                          {{"person", person->id}, {"role", "manager"}});
                if (!membership) return membership;
            }
            return person;
        });
    });
}

}  // namespace dapple::record
