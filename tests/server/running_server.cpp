#include "server/running_server.h"

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <thread>

namespace dapple::tests {

namespace {

sockaddr_in loopback(int port) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    return address;
}

bool answers(int port) {
    const int s = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address = loopback(port);
    const bool open = connect(s, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0;
    close(s);
    return open;
}

long number_in(const std::filesystem::path& status, const std::string& name) {
    std::ifstream file(status);
    for (std::string line; std::getline(file, line);) {
        if (line.starts_with(name)) return std::stol(line.substr(name.size()));
    }
    return 0;
}

}  // namespace

int free_port() {
    const int s = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address = loopback(0);
    socklen_t size = sizeof address;
    bind(s, reinterpret_cast<sockaddr*>(&address), size);
    getsockname(s, reinterpret_cast<sockaddr*>(&address), &size);
    close(s);
    return ntohs(address.sin_port);
}

RunningServer::RunningServer(std::vector<std::string> arguments)
    : arguments_(std::move(arguments)), port_(free_port()) {
    start();
}

RunningServer::~RunningServer() {
    if (child_ > 0) end();
}

void RunningServer::start() {
    std::vector<std::string> words = {DAPPLE_PROGRAM, "serve", "--listen",
                                      "127.0.0.1:" + std::to_string(port_)};
    words.insert(words.end(), arguments_.begin(), arguments_.end());
    std::vector<char*> pointers;
    for (std::string& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    child_ = fork();
    if (child_ == 0) {
        const int nowhere = open("/dev/null", O_WRONLY);
        dup2(nowhere, STDOUT_FILENO);
        execv(DAPPLE_PROGRAM, pointers.data());
        _exit(127);
    }
    const auto give_up = std::chrono::steady_clock::now() + std::chrono::minutes(2);
    while (!answers(port_)) {
        int status = 0;
        if (waitpid(child_, &status, WNOHANG) == child_) {
            child_ = 0;
            throw std::runtime_error("the server ended at once, status " +
                                     std::to_string(WEXITSTATUS(status)));
        }
        if (std::chrono::steady_clock::now() > give_up)
            throw std::runtime_error("the server does not answer");
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
}

void RunningServer::kill() {
    ::kill(child_, SIGKILL);
    waitpid(child_, nullptr, 0);
    child_ = 0;
}

int RunningServer::end() {
    ::kill(child_, SIGTERM);
    int status = 0;
    waitpid(child_, &status, 0);
    child_ = 0;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

long RunningServer::resident_kb() const {
    return number_in("/proc/" + std::to_string(child_) + "/status", "VmRSS:");
}

long RunningServer::times_woken() const {
    long times = 0;
    for (const auto& thread :
         std::filesystem::directory_iterator("/proc/" + std::to_string(child_) + "/task"))
        times += number_in(thread.path() / "status", "voluntary_ctxt_switches:");
    return times;
}

}  // namespace dapple::tests
