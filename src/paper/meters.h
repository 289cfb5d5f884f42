// The record's meters, and what each one's readings truly were by its last calibration before them.
// For this folder only.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "record/store.h"

namespace dapple::paper {

class Meters {
  public:
    // All that the sites have, retired ones too: readings stand for ever.
    static record::Result<Meters> of(const record::Store& store, const std::vector<std::string>& sites);

    // True value = reading x factor + offset, of the newest calibration on or before the day; as it is without one.
    double true_value(const std::string& meter, const std::string& day, double reading) const;

    const record::Thing* find(const std::string& meter) const;
    const record::Thing* last_calibration(const std::string& meter, const std::string& day) const;
    std::string name(const std::string& meter) const;  // empty: unknown

  private:
    std::map<std::string, record::Thing> meters_;
    std::map<std::string, std::vector<record::Thing>> calibrations_;  // by meter, oldest first
};

}  // namespace dapple::paper
