// Documents and files the tests of this folder start from.
#pragma once

#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <string>

#include "scene/document.h"

namespace dapple::tests {

inline std::string text_of(const std::string& path) {
    std::ifstream in(std::string(DAPPLE_ROOT) + "/" + path, std::ios::binary);
    if (!in) throw std::runtime_error(path + " is missing");
    std::ostringstream text;
    text << in.rdbuf();
    return std::move(text).str();
}

inline nlohmann::json contract_example() {
    return nlohmann::json::parse(text_of("tests/scene/contract_example.json"));
}

// The enclosure of a document that must be good.
inline scene::Enclosure good(const std::string& text, const scene::ReadOptions& options = {}) {
    auto enclosure = scene::parse_enclosure(text, options);
    if (!enclosure) throw std::runtime_error(to_text(enclosure.error()));
    return *std::move(enclosure);
}

inline scene::Enclosure good(const nlohmann::json& document, const scene::ReadOptions& options = {}) {
    return good(document.dump(), options);
}

// All that is wrong with a document, one line a fault; empty when nothing is.
inline std::string faults(const std::string& text, const scene::ReadOptions& options = {}) {
    const auto enclosure = scene::parse_enclosure(text, options);
    return enclosure ? "" : to_text(enclosure.error());
}

inline std::string faults(const nlohmann::json& document, const scene::ReadOptions& options = {}) {
    return faults(document.dump(), options);
}

}  // namespace dapple::tests
