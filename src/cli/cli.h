// The command line: `dapple COMMAND ...`, one source file a command.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace dapple::cli {

// Runs one command line (without the program's name) and returns the exit status: 0 done; 2 the input cannot be used,
// `err` says why in the form of problem.h, one line a fault; 1 a fault of ours. With `--json`, `out` carries one JSON
// document and nothing else.
int run(const std::vector<std::string>& arguments, std::istream& in, std::ostream& out, std::ostream& err);

}  // namespace dapple::cli
