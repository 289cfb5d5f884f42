// A record filled with the demo collection, for tests.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "inference/life_date.h"
#include "inference/readings.h"
#include "record/store.h"
#include "scene/enclosure.h"

namespace dapple::server {

inline const inference::Day demo_day = *inference::day_of("2026-03-20");

std::string words_of(const record::Refusal& refusal);

// In a folder of its own, gone at the end.
class Filled {
  public:
    explicit Filled(inference::Day day);
    ~Filled();
    Filled(const Filled&) = delete;
    Filled& operator=(const Filled&) = delete;

    record::Store& store() const { return *store_; }

    std::vector<record::Thing> all(const std::string& kind) const;
    scene::Enclosure enclosure(const std::string& id) const;
    // By the record's own files alone.
    scene::Enclosure parsed(const nlohmann::json& document) const;
    // The readings of light of an enclosure's last survey, as a fit takes them.
    std::vector<inference::Reading> last_survey(const scene::Enclosure& enclosure) const;

  private:
    std::filesystem::path folder_;
    std::unique_ptr<record::Store> store_;
};

// As of demo_day; made once.
const Filled& demo();

}  // namespace dapple::server
