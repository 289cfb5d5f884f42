// What `dapple --version` prints: the version, then which sources it was built from and by what.
#pragma once

#include <string>

namespace dapple::cli {

// Three lines: `dapple 0.1.0`, `source 797bed9 of 2026-11-27`, `built by GNU 12.2.0, Release, x86_64`. The date is that
// of SOURCE_DATE_EPOCH, else of the commit; outside a git clone no commit is named.
std::string version_text();

}  // namespace dapple::cli
