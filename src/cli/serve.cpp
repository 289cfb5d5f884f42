// dapple serve, dapple demo: the web application on this machine.
#include "server/serve.h"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <ostream>

#include "cli/command.h"
#include "cli/input.h"

namespace dapple::cli {

namespace {

// "ADDR:PORT", "ADDR" or ":PORT".
Expected<server::ServeOptions> read_listen(const std::string& text) {
    server::ServeOptions options;
    if (text.empty()) return options;
    const std::string allowed = "ADDR:PORT on this machine, such as 127.0.0.1:8460; port 1 to 65535";
    const auto colon = text.rfind(':');
    if (colon != 0) options.host = text.substr(0, colon);
    if (colon == std::string::npos) return options;
    const auto port = read_number(text.substr(colon + 1), "--listen", allowed);
    if (!port || *port < 1 || *port > 65535 || *port != static_cast<int>(*port)) {
        return refuse({"", "--listen", "\"" + text + "\"", allowed});
    }
    options.port = static_cast<int>(*port);
    return options;
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

int run_serve(const std::string& listen, bool browser, const Console& console) {
    auto options = read_listen(listen);
    if (!options) return console.refuse(options.error());
    options->ready = [&console, browser](const std::string& url) {
        console.out << "Dapple is at " << url << "  (Ctrl-C ends it)" << std::endl;
        if (browser && on_a_desktop()) open_browser(url);
    };
    return server::serve(*options);
}

}  // namespace

Command serve_command(CLI::App& program) {
    auto listen = std::make_shared<std::string>();
    CLI::App* app = program.add_subcommand("serve", "The web application, for this machine only");
    app->add_option("--listen", *listen, "ADDR:PORT on this machine; without it 127.0.0.1 and a free port");
    return {app, [listen](const Console& console) { return run_serve(*listen, false, console); }};
}

Command demo_command(CLI::App& program) {
    auto listen = std::make_shared<std::string>();
    CLI::App* app =
        program.add_subcommand("demo", "The web application on a demo collection, in the browser");
    app->add_option("--listen", *listen, "ADDR:PORT on this machine; without it 127.0.0.1 and a free port");
    return {app, [listen](const Console& console) { return run_serve(*listen, true, console); }};
}

}  // namespace dapple::cli
