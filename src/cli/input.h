// What people write on the command line, read and checked: numbers, points, directions, documents.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "advice/effort.h"
#include "problem/problem.h"
#include "scene/enclosure.h"

namespace dapple::cli {

// A finite number, all of the text. `option` names it in the message, `allowed` says what may stand there.
Expected<double> read_number(const std::string& text, const std::string& option, const std::string& allowed);

// "x,y,z" in cm inside the box, as a point in metres.
Expected<scene::Vec3> read_point(const std::string& text, const scene::Enclosure& enclosure);

// The document of that path, or of `in` where the path is "-"; files it names lie relative to it.
Expected<scene::Enclosure> read_enclosure(const std::string& path, std::istream& in);

// The bytes of a file; `allowed` says what is wanted where it cannot be read.
Expected<std::string> read_file(const std::string& path, const std::string& allowed);

// What changes cost, from a file (advice/effort.h).
Expected<advice::Effort> read_effort(const std::string& path);

// Writes a whole file; refuses with the system's reason.
Expected<void> write_file(const std::string& path, const std::string& bytes);

}  // namespace dapple::cli
