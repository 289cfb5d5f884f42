// What a role may do.
#include <algorithm>
#include <array>

#include "record/database.h"
#include "record/people.h"

namespace dapple::record {

std::string_view name(Role role) {
    switch (role) {
        case Role::viewer:
            return "viewer";
        case Role::keeper:
            return "keeper";
        case Role::manager:
            return "manager";
    }
    return "viewer";
}

std::optional<Role> role_named(std::string_view word) {
    for (const Role role : {Role::viewer, Role::keeper, Role::manager}) {
        if (word == name(role)) return role;
    }
    return std::nullopt;
}

bool may_write(Role role, std::string_view kind) {
    constexpr std::array for_managers = {"site", "person", "membership"};
    if (role == Role::viewer) return false;
    return role == Role::manager ||
           std::find(for_managers.begin(), for_managers.end(), kind) == for_managers.end();
}

Result<std::vector<Standing>> standings(const Store& store, const std::string& person) {
    using Standings = std::vector<Standing>;
    return store.database().read<Standings>([&](Connection& connection) -> Result<Standings> {
        Standings result;
        if (person == local_person) {
            for (const Row& row : connection.rows("select id from sites order by id", "t")) {
                result.push_back({text_of(row[0]), Role::manager});
            }
            return result;
        }
        const auto rows = connection.rows(
            "select m.site, m.role from memberships m join people p on p.id = m.person "
            "where m.person = ? and m.retired_at is null and p.retired_at is null order by m.site",
            "tt", {text(person)});
        for (const Row& row : rows) {
            if (const auto role = role_named(text_of(row[1]))) result.push_back({text_of(row[0]), *role});
        }
        return result;
    });
}

}  // namespace dapple::record
