// An invented collection in a record of its own, for the papers to be made from.
#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <atomic>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "paper/outside.h"
#include "record/store.h"

namespace dapple::tests {

using nlohmann::json;

inline record::Moment moment(const std::string& text) {
    return *record::moment_of(text);
}

inline std::string text_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) throw std::runtime_error(path + " is missing");
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

inline json example(const std::string& name) {
    return json::parse(text_of(std::string(DAPPLE_ROOT) + "/examples/" + name + ".json"));
}

class Collection {
  public:
    Collection() {
        record::StoreOptions options;
        options.database = folder_.file("record.sqlite");
        options.clock = [] { return moment("2026-06-01T09:00:00Z"); };
        options.chance = [count =
                              std::make_shared<std::atomic<unsigned>>(0)](std::span<unsigned char> bytes) {
            for (unsigned char& byte : bytes) byte = static_cast<unsigned char>((*count += 37) >> 3U);
        };
        options.read_file = [](const std::string& name) -> std::optional<std::string> {
            return text_of(std::string(DAPPLE_ROOT) + "/examples/" + name);
        };
        auto opened = record::Store::open(options);
        if (!opened) throw std::runtime_error(to_text(opened.error().problems));
        store_ = std::move(*opened);
        add("site", {{"name", "Hill House"}}, "home");
    }

    record::Store& store() { return *store_; }

    record::Thing add(const std::string& kind, json fields, const std::string& id = {}) {
        record::Write write;
        write.kind = kind;
        write.id = id;
        write.site = kind == "site" || kind == "person" ? "" : "home";
        write.fields = std::move(fields);
        const auto thing = store_->write(record::Actor{actor}, write);
        if (!thing) throw std::runtime_error(to_text(thing.error().problems));
        return *thing;
    }

    void add_enclosure(const std::string& name, const json& more = json::object()) {
        json fields = {{"document", example(name)}};
        fields.update(more);
        add("enclosure", fields);
    }

    void read(const std::string& enclosure, const std::string& spot, const std::string& at, double value,
              const json& more = json::object()) {
        json fields = {{"enclosure", enclosure},
                       {"spot", spot},
                       {"quantity", "uvi"},
                       {"value", value},
                       {"taken_at", at}};
        fields.update(more);
        add("reading", fields);
    }

    std::string actor = record::local_person;

  private:
    Folder folder_;
    std::unique_ptr<record::Store> store_;
};

}  // namespace dapple::tests
