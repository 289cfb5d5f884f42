// A PostgreSQL of our own for the length of a test program: Debian's package, a free port, an unprivileged user, a
// temporary folder; flushing to the disk as in production.
#pragma once

#include <sys/types.h>

#include <string>

namespace dapple::tests {

class OwnPostgresql {
  public:
    OwnPostgresql();   // initdb and start; throws std::runtime_error with the server's words
    ~OwnPostgresql();  // stops it and removes its folder
    OwnPostgresql(const OwnPostgresql&) = delete;
    OwnPostgresql& operator=(const OwnPostgresql&) = delete;

    std::string new_database();  // an empty one: postgresql://...

    void start();
    void stop();  // at once, as if the machine had lost its power: kill -9 of all its processes

  private:
    int run_as_user(const std::string& command, bool wait_for_end) const;
    std::string words() const;

    std::string folder_;
    int port_ = 0;
    int databases_ = 0;
};

// The program's one server, started when it is first asked for.
OwnPostgresql& own_postgresql();

}  // namespace dapple::tests
