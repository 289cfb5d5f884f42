// dapple serve, dapple demo: the web application on a record, or on a throw-away copy of the demo collection.
#include "server/serve.h"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"
#include "cli/record_place.h"
#include "server/demo.h"
#include "server/documents.h"

namespace dapple::cli {

namespace {

namespace fs = std::filesystem;

struct Options {
    std::string listen;
    server::ServeOptions serve;
    bool browser = false;
};

// "ADDR:PORT", "ADDR" or ":PORT".
Expected<void> read_listen(const std::string& text, server::ServeOptions& options) {
    if (text.empty()) return {};
    const std::string allowed = "ADDR:PORT, such as 127.0.0.1:8460; port 1 to 65535";
    const auto colon = text.rfind(':');
    if (colon != 0) options.host = text.substr(0, colon);
    if (colon == std::string::npos) return {};
    const auto port = read_number(text.substr(colon + 1), "--listen", allowed);
    if (!port || *port < 1 || *port > 65535 || *port != static_cast<int>(*port)) {
        return refuse({"", "--listen", "\"" + text + "\"", allowed});
    }
    options.port = static_cast<int>(*port);
    return {};
}

bool on_a_desktop() {
    const auto set = [](const char* name) {
        const char* value = std::getenv(name);
        return value != nullptr && *value != '\0';
    };
    return set("DISPLAY") || set("WAYLAND_DISPLAY");
}

// Asks the desktop to show the page; where it cannot, the printed address is enough. The browser is the child of a
// child that ends at once, so that nobody waits for it.
void open_browser(const std::string& url) {
    const pid_t child = fork();
    if (child != 0) {
        if (child > 0) waitpid(child, nullptr, 0);
        return;
    }
    if (fork() == 0) {
        // What the desktop's helpers have to say is not for our terminal.
        const int nowhere = open("/dev/null", O_RDWR);
        for (const int stream : {0, 1, 2}) dup2(nowhere, stream);
        execlp("xdg-open", "xdg-open", url.c_str(), nullptr);
    }
    _exit(0);
}

int serve_on(std::unique_ptr<record::Store> store, Options options, const Console& console) {
    options.serve.ready = [&console, browser = options.browser](const std::string& url) {
        console.out << "Dapple is at " << url << "  (Ctrl-C ends it)" << std::endl;
        if (browser && on_a_desktop()) open_browser(url);
    };
    return server::serve(std::move(store), options.serve);
}

int run_serve(const RecordPlace& place, Options options, const Console& console) {
    if (const auto listen = read_listen(options.listen, options.serve); !listen) {
        return console.refuse(listen.error());
    }
    if (const Problems problems = server::faults_of(options.serve); !problems.empty()) {
        return console.refuse(problems);
    }
    const auto database = database_of(place);
    if (!database) return console.refuse(database.error());
    record::StoreOptions how;
    how.database = *database;
    how.read_file = server::shipped_file;
    auto store = record::Store::open(how);
    if (!store) return say_refused(console, store.error());
    return serve_on(std::move(*store), options, console);
}

// A folder that is gone with the program.
class ThrowAway {
  public:
    ThrowAway() {
        std::string pattern = (fs::temp_directory_path() / "dapple-demo-XXXXXX").string();
        if (mkdtemp(pattern.data()) != nullptr) path_ = pattern;
    }
    ~ThrowAway() {
        std::error_code ignored;
        if (!path_.empty()) fs::remove_all(path_, ignored);
    }
    ThrowAway(const ThrowAway&) = delete;
    ThrowAway& operator=(const ThrowAway&) = delete;

    const std::string& path() const { return path_; }

  private:
    std::string path_;
};

int run_demo(Options options, const Console& console) {
    if (const auto listen = read_listen(options.listen, options.serve); !listen) {
        return console.refuse(listen.error());
    }
    const ThrowAway folder;
    if (folder.path().empty()) {
        return console.refuse({fs::temp_directory_path(), "", "a folder that cannot be written",
                               "room for a temporary folder"});
    }
    record::StoreOptions how;
    how.database = folder.path() + "/record.sqlite";
    how.read_file = server::shipped_file;
    auto store = record::Store::open(how);
    if (!store) return say_refused(console, store.error());
    const auto today = std::chrono::floor<std::chrono::days>(how.clock());
    if (const auto filled = server::fill_demo(**store, today); !filled) {
        return say_refused(console, filled.error());
    }
    return serve_on(std::move(*store), options, console);
}

}  // namespace

Command serve_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    CLI::App* app = program.add_subcommand("serve", "The web application on a record");
    const auto place = add_record_options(*app);
    app->add_option("--listen", options->listen, "ADDR:PORT; without it this machine alone, and a free port");
    app->add_flag("--accounts", options->serve.accounts,
                  "Everybody must sign in (dapple account makes the first account)");
    app->add_option("--certificate", options->serve.certificate, "PEM file, to encrypt");
    app->add_option("--key", options->serve.key, "The certificate's key, PEM file");
    app->add_flag("--behind-proxy", options->serve.behind_proxy,
                  "A proxy encrypts, and says who asks (X-Forwarded-For, -Proto)");
    app->add_option("--public-url", options->serve.public_url, "How others reach it, for links and labels");
    app->add_flag("--browser", options->browser, "Open the page in the browser");
    return {app, [place, options](const Console& console) { return run_serve(*place, *options, console); }};
}

Command demo_command(CLI::App& program) {
    auto options = std::make_shared<Options>();
    options->browser = true;
    CLI::App* app =
        program.add_subcommand("demo", "The web application on a demo collection, in the browser");
    app->add_option("--listen", options->listen, "ADDR:PORT on this machine; without it a free port");
    return {app, [options](const Console& console) { return run_demo(*options, console); }};
}

}  // namespace dapple::cli
