// When each lamp of the record leaves its animals' band, from the readings the record holds (inference/life.h).
//
// A reading counts for a lamp if it names it, or if it names none and the lamp is the only one of the record in that
// enclosure at that time. What was computed is kept in memory until the lamp, its enclosure or its readings change.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "inference/life.h"
#include "record/store.h"

namespace dapple::record {

struct LampReading {  // UVI that tells of one lamp
    std::string taken_on;
    double hours;  // that the lamp had burned
    double value;
    std::string spot;
};

struct LampForecast {
    std::string lamp;                         // id
    std::optional<inference::LampLife> life;  // nothing: too few readings yet
    std::vector<std::string> notes;           // why not, or what to know
    std::vector<LampReading> readings = {};   // what it rests on, oldest first
};

nlohmann::json to_json(const LampForecast& forecast);

// The field of an enclosure that somebody has open, of the document's revision; what its surfaces see is made use of.
struct OpenRoom {
    const light::Field* field;
    std::int64_t revision;
};

class LampLives {
  public:
    LampLives();
    ~LampLives();
    LampLives(const LampLives&) = delete;
    LampLives& operator=(const LampLives&) = delete;

    // Of every lamp standing in an enclosure of the sites; safe from several threads.
    Result<std::vector<LampForecast>> of_sites(const Store& store, const std::vector<std::string>& sites,
                                               inference::Day today);
    Result<std::vector<LampForecast>> of_enclosure(const Store& store, const std::string& enclosure,
                                                   inference::Day today,
                                                   std::optional<OpenRoom> room = std::nullopt);
    Result<LampForecast> of_lamp(const Store& store, const std::string& lamp, inference::Day today);

  private:
    struct State;
    struct Asked;
    Result<std::vector<LampForecast>> of(const Store& store, const Asked& asked);
    std::unique_ptr<State> state_;
};

}  // namespace dapple::record
