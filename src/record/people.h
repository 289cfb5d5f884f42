// Who somebody is and what they may do: passwords (argon2id, libsodium), sessions, invitations, roles.
//
// A person is a thing of kind "person", a role one of kind "membership": made, changed and retired through the store,
// so the trail knows. What must stay secret is here and never goes out: of a password only its hash is kept, of session
// and invitation tokens only a BLAKE2b digest, so that a stolen database opens nothing.
//
// Limits on how often somebody may try are the server's business; a wrong password takes as long as a right one, and an
// unknown login as long as a wrong password.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "record/store.h"

namespace dapple::record {

// viewer: reads. keeper: also surveys, moves, notes, tasks, enclosures, lamps. manager: also people, invitations, sites,
// corrections of what others wrote, import.
enum class Role { viewer, keeper, manager };
std::string_view name(Role role);
std::optional<Role> role_named(std::string_view name);

// What a role may do to things of a kind; reading is allowed to every role.
bool may_write(Role role, std::string_view kind);

struct Standing {
    std::string site;
    Role role;
};
// A person's standing at every site; none for a retired person. `local_person` is a manager everywhere.
Result<std::vector<Standing>> standings(const Store& store, const std::string& person);

// True once anybody has a password: until then there is nobody to sign in as.
Result<bool> has_accounts(const Store& store);

// ---- passwords
inline constexpr std::size_t shortest_password =
    10;  // NIST SP 800-63B asks for at least 8, and no rules beside
inline constexpr std::size_t longest_password = 200;

// Ends every session of the person but `kept_session` (its token).
Result<void> set_password(Store& store, const Actor& actor, const std::string& person,
                          const std::string& password, const std::string& kept_session = {});

// The person's id; `missing` for a wrong login or password, without saying which.
Result<std::string> check_password(const Store& store, const std::string& login, const std::string& password);

// ---- sessions
struct Session {
    std::string person;
    std::string csrf;  // to be sent back in a header with everything that writes; follows from the token
    Moment expires;
};
struct NewSession {
    std::string token;  // for the cookie; never to be had again
    Session session;
};
Result<NewSession> begin_session(Store& store, const std::string& person,
                                 std::chrono::seconds lasts = std::chrono::days(30));
// Nothing: unknown, ended, run out, or the person retired.
Result<std::optional<Session>> session_of(const Store& store, const std::string& token);
Result<void> end_session(Store& store, const std::string& token);

// ---- invitations: a link or QR code that makes an account, or adds a role to one
struct Invitation {
    std::string id;
    std::string site;
    Role role;
    std::string made_by;
    Moment made_at;
    Moment expires;
    std::optional<Moment> used_at;
    std::string used_by;
    std::optional<Moment> withdrawn_at;
};
struct NewInvitation {
    std::string token;  // for the link; never to be had again
    Invitation invitation;
};
Result<NewInvitation> invite(Store& store, const Actor& actor, const std::string& site, Role role,
                             std::chrono::seconds lasts = std::chrono::days(7));
Result<std::optional<Invitation>> invitation_of(const Store& store,
                                                const std::string& token);  // only if it is open
Result<std::vector<Invitation>> invitations(const Store& store, const std::string& site);
Result<void> withdraw(Store& store, const Actor& actor, const std::string& invitation);

struct Account {
    std::string name;
    std::string login;
    std::string password;
};
// Once only: person, password, membership and the mark on the invitation, all or none. Answers the person.
Result<Thing> accept(Store& store, const std::string& token, const Account& account);
Result<Thing> accept_as(Store& store, const std::string& token, const std::string& person);

// The first account of a database, a manager of every site there is (and of a new one if there is none). Refused as
// `taken` once there is any.
Result<Thing> make_first_account(Store& store, const Account& account, const std::string& site_name);

}  // namespace dapple::record
