// One suite under both databases: TEST_P(OnBoth, ...) runs on SQLite and on PostgreSQL.
#pragma once

#include <gtest/gtest.h>

#include <atomic>
#include <filesystem>
#include <memory>
#include <string>

#include "record/store.h"

namespace dapple::tests {

// A clock that goes on by a millisecond with every look, from 1 March 2026.
record::Clock steady_clock();
// Random bytes that are the same in every run.
record::Chance steady_chance(std::uint64_t seed = 1);

class Folder {  // temporary, gone at the end
  public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string file(const std::string& name) const { return (path_ / name).string(); }

  private:
    std::filesystem::path path_;
};

enum class On { sqlite, postgresql };

class OnBoth : public testing::TestWithParam<On> {
  protected:
    void SetUp() override;

    std::string new_database();  // empty
    std::string new_database_on(On on);
    record::StoreOptions options(const std::string& database) const;
    std::unique_ptr<record::Store> open(const std::string& database);

    // Opened in SetUp, with one site "home".
    std::unique_ptr<record::Store> store;
    std::string database;
    Folder folder;

  private:
    int databases_ = 0;
};

// The person at the machine.
inline const record::Actor me{};

// A small enclosure's document.
nlohmann::json document(const std::string& id, const std::string& name = "A box");

record::Write making(const std::string& kind, nlohmann::json fields, const std::string& id = {},
                     const std::string& site = "home");
record::Write changing(const record::Thing& thing, nlohmann::json fields);
record::Thing must(const record::Result<record::Thing>& result);  // fails the test with the refusal's words

std::string words_of(const record::Refusal& refusal);

}  // namespace dapple::tests
