// dapple account: the first account of a record, or another password for somebody.
#include <algorithm>
#include <istream>
#include <nlohmann/json.hpp>
#include <ostream>
#include <string>

#include "cli/command.h"
#include "cli/record_place.h"
#include "record/people.h"

namespace dapple::cli {

namespace {

struct Options {
    std::string login;
    std::string name;
    std::string site = "The collection";
};

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
    return text;
}

record::Result<record::Thing> person_of(const record::Store& store, const std::string& login) {
    const auto people = store.list({.kind = "person", .limit = 10'000});
    if (!people) return tl::unexpected(people.error());
    for (const record::Thing& person : people->things) {
        if (lower(person.fields.value("login", "")) == lower(login)) return person;
    }
    return record::refuse_as(
        record::Trouble::missing,
        {"", "--login", "\"" + login + "\"",
         "the login of somebody with an account; others are invited in the application"});
}

int run(const RecordPlace& place, const Options& options, const Console& console) {
    if (options.login.empty()) {
        return console.refuse({"", "--login", "nothing", "a name to sign in with"});
    }
    std::string password;
    console.err << "Password (one line on standard input): " << std::flush;
    if (!std::getline(console.in, password) || password.empty()) {
        return console.refuse({"", "standard input", "nothing", "the password, one line"});
    }
    const auto store = open_record(place, false);
    if (!store) return console.refuse(store.error());
    const auto any = record::has_accounts(**store);
    if (!any) return say_refused(console, any.error());
    if (!*any) {
        const std::string name = options.name.empty() ? options.login : options.name;
        const auto made = record::make_first_account(**store, {name, options.login, password}, options.site);
        if (!made) return say_refused(console, made.error());
        console.out << "Made the account " << options.login << ", a manager of every site\n";
        return done;
    }
    const auto person = person_of(**store, options.login);
    if (!person) return say_refused(console, person.error());
    const auto set = record::set_password(**store, {}, person->id, password);
    if (!set) return say_refused(console, set.error());
    console.out << "Set a new password for " << options.login << "; it is signed out everywhere\n";
    return done;
}

}  // namespace

Command account_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand(
        "account", "The first account of a record, or a new password; the password comes on standard input");
    const auto place = add_record_options(*app);
    app->add_option("--login", options->login, "The name to sign in with");
    app->add_option("--name", options->name, "As shown to others (the login)");
    app->add_option("--site", options->site, "Name of the site that is made where there is none");
    return {app, [place, options](const Console& console) { return run(*place, *options, console); }};
}

}  // namespace dapple::cli
