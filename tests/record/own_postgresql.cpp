#include "record/own_postgresql.h"

#include <arpa/inet.h>
#include <fcntl.h>
#include <grp.h>
#include <netinet/in.h>
#include <pwd.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>
#include <stdexcept>
#include <thread>

namespace dapple::tests {

namespace {

constexpr const char* programs = "/usr/lib/postgresql/15/bin/";

int free_port() {
    const int s = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof address;
    auto* general = reinterpret_cast<sockaddr*>(&address);
    if (bind(s, general, size) != 0 || getsockname(s, general, &size) != 0)
        throw std::runtime_error("no free port");
    close(s);
    return ntohs(address.sin_port);
}

// PostgreSQL refuses to run as root.
const passwd* unprivileged_user() {
    if (geteuid() != 0) return nullptr;
    const passwd* user = getpwnam("postgres");
    return user != nullptr ? user : getpwnam("nobody");
}

std::string new_folder() {
    std::string name = (std::filesystem::temp_directory_path() / "dapple-postgresql-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    if (const passwd* user = unprivileged_user()) {
        if (chown(name.c_str(), user->pw_uid, user->pw_gid) != 0)
            throw std::runtime_error("chown of " + name);
    }
    return name;
}

}  // namespace

OwnPostgresql::OwnPostgresql() : folder_(new_folder()), port_(free_port()) {
    // Without --no-sync: this is about what survives.
    if (run_as_user(std::string(programs) + "initdb -D " + folder_ +
                        "/data -U dapple -A trust -E UTF8 --locale=C.UTF-8",
                    true) != 0) {
        throw std::runtime_error("initdb failed: " + words());
    }
    start();
}

OwnPostgresql::~OwnPostgresql() {
    stop();
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
}

// The child becomes the user and the command; its words go to a file.
int OwnPostgresql::run_as_user(const std::string& command, bool wait_for_end) const {
    const passwd* user = unprivileged_user();
    const pid_t child = fork();
    if (child == 0) {
        if (!wait_for_end) setpgid(0, 0);
        if (user != nullptr &&
            (setgroups(0, nullptr) != 0 || setgid(user->pw_gid) != 0 || setuid(user->pw_uid) != 0)) {
            _exit(126);
        }
        const int log = open((folder_ + "/words").c_str(), O_CREAT | O_WRONLY | O_APPEND, 0644);
        dup2(log, 1);
        dup2(log, 2);
        if (chdir(folder_.c_str()) != 0) _exit(126);
        execl("/bin/sh", "sh", "-c", ("exec " + command).c_str(), nullptr);
        _exit(127);
    }
    if (!wait_for_end) return child;
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128;
}

std::string OwnPostgresql::words() const {
    std::ifstream file(folder_ + "/words");
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

void OwnPostgresql::start() {
    std::filesystem::remove(folder_ + "/data/postmaster.pid");
    // The log is kept short; durability settings are PostgreSQL's own: fsync, full_page_writes, synchronous_commit on.
    run_as_user(std::string(programs) + "postgres -D " + folder_ + "/data -p " + std::to_string(port_) +
                    " -k " + folder_ +
                    " -c listen_addresses=127.0.0.1 -c log_min_messages=error -c max_connections=60"
                    " -c shared_buffers=64MB",
                false);
    const std::string ready =
        std::string(programs) + "pg_isready -q -h 127.0.0.1 -p " + std::to_string(port_);
    for (int i = 0; i < 600; ++i) {
        if (run_as_user(ready, true) == 0) return;
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    throw std::runtime_error("PostgreSQL does not start: " + words());
}

void OwnPostgresql::stop() {
    std::ifstream file(folder_ + "/data/postmaster.pid");
    pid_t postmaster = 0;
    if (!(file >> postmaster) || postmaster <= 1) return;
    // Its processes are a group of their own (run_as_user) but for those that set their own session: they follow when
    // they notice that the postmaster is gone.
    kill(-postmaster, SIGKILL);
    kill(postmaster, SIGKILL);
    int status = 0;
    waitpid(postmaster, &status, 0);
    std::filesystem::remove(folder_ + "/data/postmaster.pid");
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
}

std::string OwnPostgresql::new_database() {
    const std::string name = "record" + std::to_string(++databases_);
    const std::string port = std::to_string(port_);
    if (run_as_user(std::string(programs) + "createdb -h 127.0.0.1 -p " + port + " -U dapple " + name,
                    true) != 0) {
        throw std::runtime_error("createdb failed: " + words());
    }
    return "postgresql://dapple@127.0.0.1:" + port + "/" + name;
}

OwnPostgresql& own_postgresql() {
    static OwnPostgresql server;
    return server;
}

}  // namespace dapple::tests
