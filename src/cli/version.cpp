// The macros come from cmake/BuildFacts.cmake.
#include "cli/version.h"

namespace dapple::cli {

std::string version_text() {
    const std::string commit = DAPPLE_COMMIT;
    return "dapple " DAPPLE_VERSION "\nsource " + (commit.empty() ? "" : commit + " ") +
           "of " DAPPLE_DATE "\nbuilt by " DAPPLE_COMPILER ", " DAPPLE_BUILD ", " DAPPLE_PROCESSOR;
}

}  // namespace dapple::cli
