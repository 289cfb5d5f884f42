// The program itself, serving on a free port of this machine, to be asked over sockets and to be killed.
#pragma once

#include <sys/types.h>

#include <string>
#include <vector>

namespace dapple::tests {

class RunningServer {
  public:
    // `arguments` come after `dapple serve --listen ...`. Waits until it answers; throws std::runtime_error with what it
    // said if it does not.
    explicit RunningServer(std::vector<std::string> arguments);
    ~RunningServer();  // asks it to end
    RunningServer(const RunningServer&) = delete;
    RunningServer& operator=(const RunningServer&) = delete;

    int port() const { return port_; }
    void kill();   // -9
    void start();  // again, on the same port
    int end();     // in order; its exit status
    long resident_kb() const;
    long times_woken() const;  // all its threads together

  private:
    std::vector<std::string> arguments_;
    int port_;
    pid_t child_ = 0;
};

int free_port();

}  // namespace dapple::tests
